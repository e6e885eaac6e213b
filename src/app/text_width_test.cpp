#include "app/text_width.h"

#include <doctest/doctest.h>

using namespace coilbook::app;

TEST_SUITE("Room on a terminal") {
    TEST_CASE("letters take one column, combining marks none, wide characters two") {
        CHECK(terminal_width("T-11") == 4);
        CHECK(terminal_width("ørret ± 2") == 9);
        CHECK(terminal_width("e\xCC\x81") == 1);
        CHECK(terminal_width("漢字") == 4);
        CHECK(terminal_width("🎣") == 2);
        CHECK(terminal_width("") == 0);
    }

    TEST_CASE("a text is cut between characters and says so") {
        CHECK(cut_to_width("running line", 12) == "running line");
        CHECK(cut_to_width("running line", 8) == "running…");
        CHECK(cut_to_width("漢字漢字", 4) == "漢…");
        CHECK(cut_to_width("ørret", 1) == "…");
        CHECK(cut_to_width("ørret", 0) == "");
    }

    TEST_CASE("a text cannot move the cursor or colour what follows") {
        CHECK(on_one_line("a\r\nb\tc") == "a  b c");
        CHECK(on_one_line("\x1b[31mred\x07") == "?[31mred?");
        CHECK(on_one_line("\xC2\x9B"
                          "31m") == "?31m");
        CHECK(on_one_line("ørret 漢") == "ørret 漢");
    }
}
