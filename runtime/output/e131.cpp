#include "runtime/output/e131.hpp"

#include <cerrno>
#include <cstring>
#include <fmt/format.h>
#include <sys/random.h>

#include "runtime/ascii.hpp"

namespace tallow::runtime {
namespace {

int hex_digit(char c) {
    if (is_digit(c)) return c - '0';
    if (c >= 'a' && c <= 'f') return c - 'a' + 10;
    if (c >= 'A' && c <= 'F') return c - 'A' + 10;
    return -1;
}

}  // namespace

Result<Cid> random_cid() {
    Cid cid;
    if (::getrandom(cid.data(), cid.size(), 0) != static_cast<ssize_t>(cid.size()))
        return Status::failure(
            fmt::format("cannot draw an identifier: {}; give one with `--cid`", std::strerror(errno)));
    cid[6] = static_cast<std::uint8_t>((cid[6] & 0x0f) | 0x40);  // version 4
    cid[8] = static_cast<std::uint8_t>((cid[8] & 0x3f) | 0x80);  // variant 1
    return cid;
}

std::optional<Cid> parse_cid(std::string_view text) {
    constexpr std::size_t length = 36;
    if (text.size() != length) return {};
    Cid cid{};
    std::size_t digits = 0;
    for (std::size_t i = 0; i < length; ++i) {
        const bool dash = i == 8 || i == 13 || i == 18 || i == 23;
        if (dash != (text[i] == '-')) return {};
        if (dash) continue;
        const int digit = hex_digit(text[i]);
        if (digit < 0) return {};
        cid[digits / 2] = static_cast<std::uint8_t>(cid[digits / 2] << 4 | digit);
        ++digits;
    }
    return cid;
}

std::string cid_text(const Cid& cid) {
    std::string text;
    for (std::size_t i = 0; i < cid.size(); ++i)
        text += fmt::format("{}{:02x}", i == 4 || i == 6 || i == 8 || i == 10 ? "-" : "", cid[i]);
    return text;
}

std::string_view fitted_name(std::string_view utf8) {
    if (utf8.size() <= e131_name_bytes) return utf8;
    std::size_t end = e131_name_bytes;
    while (end > 0 && (static_cast<unsigned char>(utf8[end]) & 0xc0) == 0x80) --end;
    return utf8.substr(0, end);
}

}  // namespace tallow::runtime
