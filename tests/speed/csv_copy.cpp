// Reads a CSV file and writes it again, with libcsv and nothing else: what `coilbook identify` is
// held against. usage: csv_copy IN OUT
#include <csv.h>

#include <cstdio>
#include <cstdlib>

namespace {

struct Copy {
    std::FILE* out;
    bool row_begins = true;
};

void on_cell(void* text, std::size_t size, void* self) {
    auto& copy = *static_cast<Copy*>(self);
    if (!copy.row_begins) std::fputc(',', copy.out);
    copy.row_begins = false;
    csv_fwrite(copy.out, text, size);
}
void on_row(int, void* self) {
    auto& copy = *static_cast<Copy*>(self);
    copy.row_begins = true;
    std::fputc('\n', copy.out);
}

}  // namespace

int main(int argc, char** argv) {
    if (argc != 3) return 2;
    std::FILE* in = std::fopen(argv[1], "rb");
    Copy copy{std::fopen(argv[2], "wb")};
    csv_parser parser;
    if (!in || !copy.out || csv_init(&parser, CSV_STRICT) != 0) return 1;
    static char buffer[64 * 1024];
    while (const std::size_t got = std::fread(buffer, 1, sizeof buffer, in)) {
        if (csv_parse(&parser, buffer, got, on_cell, on_row, &copy) != got) return 1;
    }
    csv_fini(&parser, on_cell, on_row, &copy);
    csv_free(&parser);
    std::fclose(in);
    return std::fclose(copy.out) == 0 ? EXIT_SUCCESS : 1;
}
