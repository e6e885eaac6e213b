// Preloaded by window_test.sh: libraries that the program has loaded stay loaded to its end.
//
// At the window's end the window library unloads the graphics libraries, whose own globals then
// point no more to 240 bytes that they never free; the leak checker would blame the program, and
// with the library gone there is no name that a suppression could give. Kept loaded, nothing leaks.

extern "C" int dlclose(void* /*library*/) noexcept {
    return 0;
}
