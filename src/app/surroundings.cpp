#include "app/surroundings.h"

#include <pwd.h>
#include <unistd.h>

#include <array>
#include <random>

#include "base/text.h"

namespace coilbook::app {
namespace {

std::string login_name() {
    const passwd* entry = getpwuid(getuid());
    return entry && is_plain_text(entry->pw_name) ? entry->pw_name : "";
}

std::string computer_name() {
    std::array<char, 256> name{};
    const bool is_known = gethostname(name.data(), name.size() - 1) == 0;
    return is_known && is_plain_text(name.data()) ? name.data() : "";
}

RandomBytes random_bytes() {
    std::random_device device;
    std::uniform_int_distribution<unsigned> byte(0, 255);
    RandomBytes bytes;
    for (auto& each : bytes) each = static_cast<std::uint8_t>(byte(device));
    return bytes;
}

Instant system_now() {
    return std::chrono::floor<std::chrono::milliseconds>(std::chrono::system_clock::now());
}

}  // namespace

std::string_view version() {
    return COILBOOK_VERSION;
}

Surroundings real_surroundings(std::string_view program) {
    return {system_now, random_bytes, login_name(),
            std::string(program) + " " + std::string(version()), computer_name()};
}

}  // namespace coilbook::app
