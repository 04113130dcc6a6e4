#include "compiler/text/utf8.hpp"

#include <algorithm>
#include <cstdint>
#include <cstdlib>
#include <cstring>
#include <utf8proc.h>

namespace tallow::text {
namespace {

bool is_ascii(std::string_view bytes) {
    std::size_t i = 0;
    for (; i + 8 <= bytes.size(); i += 8) {
        std::uint64_t block = 0;
        std::memcpy(&block, bytes.data() + i, 8);
        if ((block & 0x8080808080808080u) != 0) return false;
    }
    for (; i < bytes.size(); ++i)
        if (static_cast<signed char>(bytes[i]) < 0) return false;
    return true;
}

// The length of the character at `pos` and the character itself; length 0 when the bytes are not valid.
std::size_t read_character(std::string_view bytes, std::size_t pos, char32_t& c) {
    utf8proc_int32_t code = 0;
    const auto* at = reinterpret_cast<const utf8proc_uint8_t*>(bytes.data() + pos);
    const utf8proc_ssize_t n = utf8proc_iterate(at, static_cast<utf8proc_ssize_t>(bytes.size() - pos), &code);
    c = static_cast<char32_t>(code);
    return n > 0 ? static_cast<std::size_t>(n) : 0;
}

void append(std::string& out, char32_t c) {
    utf8proc_uint8_t encoded[4];
    const utf8proc_ssize_t n = utf8proc_encode_char(static_cast<utf8proc_int32_t>(c), encoded);
    out.append(reinterpret_cast<const char*>(encoded), static_cast<std::size_t>(n));
}

}  // namespace

std::size_t first_invalid(std::string_view bytes) {
    constexpr std::size_t block = 4096;
    for (std::size_t pos = 0; pos < bytes.size();) {
        if (is_ascii(bytes.substr(pos, block))) {
            pos += block;
            continue;
        }
        const std::size_t stop = std::min(pos + block, bytes.size());
        while (pos < stop) {
            char32_t c = 0;
            const std::size_t n = read_character(bytes, pos, c);
            if (n == 0) return pos;
            pos += n;
        }
    }
    return std::string_view::npos;
}

char32_t decode(std::string_view bytes, std::size_t& pos) {
    char32_t c = 0;
    pos += std::max<std::size_t>(read_character(bytes, pos, c), 1);
    return c;
}

bool is_letter(char32_t c) {
    switch (utf8proc_category(static_cast<utf8proc_int32_t>(c))) {
        case UTF8PROC_CATEGORY_LU:
        case UTF8PROC_CATEGORY_LL:
        case UTF8PROC_CATEGORY_LT:
        case UTF8PROC_CATEGORY_LM:
        case UTF8PROC_CATEGORY_LO:
            return true;
        default:
            return false;
    }
}

bool is_name_part(char32_t c) {
    if (c == '-' || c == '_' || is_dash(c) || is_letter(c)) return true;
    switch (utf8proc_category(static_cast<utf8proc_int32_t>(c))) {
        case UTF8PROC_CATEGORY_MN:
        case UTF8PROC_CATEGORY_MC:
        case UTF8PROC_CATEGORY_ND:
            return true;
        default:
            return c == 0x200c || c == 0x200d;  // joiners, which some scripts need inside a word
    }
}

bool is_dash(char32_t c) {
    return (c >= 0x2010 && c <= 0x2015) || c == 0x2212;
}

bool is_hard_blank(char32_t c) {
    return c == 0x00a0 || c == 0x2007 || c == 0x202f || c == 0x3000;
}

std::size_t width(std::string_view bytes) {
    std::size_t columns = 0;
    for (std::size_t pos = 0; pos < bytes.size();) {
        const char32_t c = decode(bytes, pos);
        const int w = utf8proc_charwidth(static_cast<utf8proc_int32_t>(c));
        columns += c == '\t' ? 1 : static_cast<std::size_t>(std::max(w, 0));
    }
    return columns;
}

std::size_t count(std::string_view bytes) {
    return static_cast<std::size_t>(std::count_if(
        bytes.begin(), bytes.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xc0) != 0x80; }));
}

std::string canonical_name(std::string_view bytes) {
    if (is_ascii(bytes)) return std::string(bytes);
    std::string plain;
    for (std::size_t pos = 0; pos < bytes.size();) {
        const char32_t c = decode(bytes, pos);
        append(plain, is_dash(c) ? U'-' : c);
    }
    utf8proc_uint8_t* composed = utf8proc_NFC(reinterpret_cast<const utf8proc_uint8_t*>(plain.c_str()));
    if (composed == nullptr) return plain;
    std::string name(reinterpret_cast<const char*>(composed));
    std::free(composed);  // allocated by the library with malloc, as its manual says
    return name;
}

std::string small_letters(std::string_view bytes) {
    std::string small;
    for (std::size_t pos = 0; pos < bytes.size();)
        append(small,
               static_cast<char32_t>(utf8proc_tolower(static_cast<utf8proc_int32_t>(decode(bytes, pos)))));
    return small;
}

}  // namespace tallow::text
