// The program `coilbook`: the command line on the real terminal.
#include <sys/ioctl.h>
#include <unistd.h>

#include <iostream>

#include "cli/run.h"

namespace {

// The columns of the terminal that standard output is; 0 if it is none.
std::size_t width_of_output() {
    if (!isatty(STDOUT_FILENO)) return 0;
    winsize size{};
    const bool is_known = ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col > 0;
    return is_known ? size.ws_col : 80;
}

}  // namespace

int main(int argc, char** argv) {
    std::ios::sync_with_stdio(false);
    return coilbook::cli::run(
        argc, argv, {std::cout, std::cerr, width_of_output(), isatty(STDERR_FILENO) == 1});
}
