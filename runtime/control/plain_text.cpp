#include "runtime/control/plain_text.hpp"

#include <algorithm>
#include <utf8proc.h>

namespace tallow::runtime {
namespace {

constexpr std::string_view left_out = "…", no_shape = "\uFFFD";
constexpr unsigned marks_on_one = 4;

// The character at the beginning of a text that is not empty, and how many bytes it takes; -1 and one byte
// for what is no UTF-8.
struct Character {
    utf8proc_int32_t code = -1;
    std::size_t bytes = 1;
};

Character first(std::string_view text) {
    Character c;
    const auto* at = reinterpret_cast<const utf8proc_uint8_t*>(text.data());
    const auto bytes = utf8proc_iterate(at, static_cast<utf8proc_ssize_t>(text.size()), &c.code);
    if (bytes > 0) return {c.code, static_cast<std::size_t>(bytes)};
    return {};
}

enum class Sort { shown, mark, blank, unseen, foreign };

Sort sort_of(utf8proc_int32_t code) {
    if (code < 0) return Sort::foreign;
    if (code == ' ' || (code >= '\t' && code <= '\r')) return Sort::blank;
    if (code >= 0xfe00 && code <= 0xfe0f) return Sort::unseen;  // variation selectors
    switch (utf8proc_category(code)) {
        case UTF8PROC_CATEGORY_ZS:
        case UTF8PROC_CATEGORY_ZL:
        case UTF8PROC_CATEGORY_ZP:
            return Sort::blank;
        case UTF8PROC_CATEGORY_CF:
            return Sort::unseen;
        case UTF8PROC_CATEGORY_CC:
        case UTF8PROC_CATEGORY_CN:
        case UTF8PROC_CATEGORY_CO:
        case UTF8PROC_CATEGORY_CS:
            return Sort::foreign;
        case UTF8PROC_CATEGORY_MN:
        case UTF8PROC_CATEGORY_ME:
            return Sort::mark;
        default:
            return Sort::shown;
    }
}

unsigned columns_of(utf8proc_int32_t code) {
    return static_cast<unsigned>(std::max(utf8proc_charwidth(code), 0));
}

// How many bytes of the beginning fill at most so many columns, with the marks behind the last character.
std::size_t fitting(std::string_view text, unsigned columns) {
    std::size_t at = 0;
    for (unsigned used = 0; at < text.size();) {
        const Character c = first(text.substr(at));
        used += columns_of(c.code);
        if (used > columns) break;
        at += c.bytes;
    }
    return at;
}

void trim_end(std::string_view& text) {
    while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
}

}  // namespace

std::string plain(std::string_view bytes, Blanks blanks) {
    const bool all = blanks == Blanks::all;
    std::string text;
    text.reserve(bytes.size());
    unsigned marks = marks_on_one;  // none at the beginning: it would stand on what is drawn before
    for (std::size_t at = 0; at < bytes.size();) {
        const Character c = first(bytes.substr(at));
        const Sort sort = sort_of(c.code);
        if (sort == Sort::shown) {
            text += bytes.substr(at, c.bytes);
            marks = 0;
        } else if (sort == Sort::mark && marks < marks_on_one) {
            text += bytes.substr(at, c.bytes);
            ++marks;
        } else if (sort == Sort::foreign) {
            text += no_shape;
            marks = marks_on_one;
        } else if (sort == Sort::blank && (all || (!text.empty() && text.back() != ' '))) {
            text += ' ';
            marks = marks_on_one;
        }
        at += c.bytes;
    }
    if (!all && !text.empty() && text.back() == ' ') text.pop_back();
    return text;
}

unsigned width(std::string_view text) {
    unsigned columns = 0;
    while (!text.empty()) {
        const Character c = first(text);
        columns += columns_of(c.code);
        text.remove_prefix(c.bytes);
    }
    return columns;
}

std::string cut(std::string_view text, unsigned columns) {
    if (fitting(text, columns) == text.size()) return std::string(text);
    if (columns == 0) return "";
    std::string_view kept = text.substr(0, fitting(text, columns - 1));
    trim_end(kept);
    return std::string(kept).append(left_out);
}

std::string padded(std::string_view text, unsigned columns) {
    std::string line = cut(text, columns);
    return line.append(columns - width(line), ' ');
}

std::vector<std::string> wrap(std::string_view text, unsigned columns, std::size_t lines) {
    std::vector<std::string> all;
    while (!text.empty() && all.size() < lines) {
        std::size_t end = fitting(text, columns);
        if (all.size() + 1 == lines || end == text.size() || end == 0) {
            all.push_back(cut(text, columns));
            break;
        }
        if (text[end] != ' ')
            if (const std::size_t blank = text.rfind(' ', end); blank != std::string_view::npos && blank > 0)
                end = blank;
        std::string_view line = text.substr(0, end);
        trim_end(line);
        all.emplace_back(line);
        text.remove_prefix(end);
        while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
    }
    return all;
}

}  // namespace tallow::runtime
