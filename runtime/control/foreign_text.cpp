#include "runtime/control/foreign_text.hpp"

#include <algorithm>

namespace tallow::runtime {
namespace {

constexpr std::size_t word_bytes = 100;

unsigned char byte(char c) {
    return static_cast<unsigned char>(c);
}

bool printable(char c) {
    return byte(c) > 0x20 && byte(c) < 0x7f;
}

// How long the character at the front is, and 0 for what is none or no part of a word (RFC 3629: no overlong
// forms, no surrogates; U+0080 to U+00A0 are controls and a blank).
std::size_t character(std::string_view text) {
    const unsigned char first = byte(text[0]);
    if (first < 0x80) return printable(text[0]) ? 1 : 0;
    const std::size_t length = first < 0xc2 ? 0 : first < 0xe0 ? 2 : first < 0xf0 ? 3 : first < 0xf5 ? 4 : 0;
    if (length == 0 || text.size() < length) return 0;
    const auto follows = [](char c) { return (byte(c) & 0xc0) == 0x80; };
    if (!std::all_of(text.begin() + 1, text.begin() + static_cast<std::ptrdiff_t>(length), follows)) return 0;
    const unsigned char second = byte(text[1]);
    const bool low = (first == 0xc2 && second <= 0xa0) || (first == 0xe0 && second < 0xa0) ||
                     (first == 0xf0 && second < 0x90);
    const bool high = (first == 0xed && second > 0x9f) || (first == 0xf4 && second > 0x8f);
    return low || high ? 0 : length;
}

}  // namespace

bool is_plain_word(std::string_view text) {
    if (text.empty() || text.size() > word_bytes) return false;
    while (!text.empty()) {
        const std::size_t length = character(text);
        if (length == 0) return false;
        text.remove_prefix(length);
    }
    return true;
}

std::string shown(std::string_view text) {
    std::string plain(text.substr(0, word_bytes));
    for (char& c : plain)
        if (!printable(c) && c != ' ') c = '?';
    return text.size() > word_bytes ? plain + "..." : plain;
}

}  // namespace tallow::runtime
