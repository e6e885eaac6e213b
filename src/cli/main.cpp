// The program `coilbook`: the command line on the real terminal.
#include <sys/ioctl.h>
#include <unistd.h>

#include <csignal>
#include <iostream>
#include <string>

#include "cli/run.h"

namespace {

// The columns of the terminal that standard output is; 0 if it is none.
std::size_t width_of_output() {
    if (!isatty(STDOUT_FILENO)) return 0;
    winsize size{};
    const bool is_known = ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col > 0;
    return is_known ? size.ws_col : 80;
}

bool asked(const std::string& question) {
    std::cerr << question << std::flush;
    std::string answer;
    std::getline(std::cin, answer);
    return answer == "y" || answer == "Y" || answer == "yes" || answer == "YES";
}

}  // namespace

int main(int argc, char** argv) {
    std::ios::sync_with_stdio(false);
    // Else a limit on the size of files would kill the program where it can say what happened.
    std::signal(SIGXFSZ, SIG_IGN);
    coilbook::cli::Terminal terminal{std::cout, std::cerr, width_of_output(),
                                     isatty(STDERR_FILENO) == 1};
    if (isatty(STDIN_FILENO) == 1 && isatty(STDERR_FILENO) == 1) terminal.asks = asked;
    return coilbook::cli::run(argc, argv, terminal);
}
