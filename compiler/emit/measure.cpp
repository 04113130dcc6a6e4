#include "compiler/emit/measure.hpp"

#include <algorithm>
#include <array>
#include <utf8proc.h>

#include "compiler/text/utf8.hpp"
#include "compiler/text/wrap.hpp"

namespace tallow::emit {
namespace {

// Thousandths of an em, from the blank to `~`: the advances of DejaVu Sans, read from the font.
constexpr std::array<std::uint16_t, 95> plain_widths = {
    318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361,  318, 337, 636, 636, 636,
    636, 636, 636, 636, 636, 636, 636, 337, 337, 838, 838, 838, 531, 1000, 684, 686, 698, 770, 632,
    575, 775, 752, 295, 295, 656, 557, 863, 748, 787, 603, 787, 695, 635,  611, 732, 684, 989, 685,
    611, 685, 390, 337, 390, 838, 500, 500, 613, 635, 550, 635, 615, 352,  635, 634, 278, 278, 579,
    278, 974, 634, 612, 635, 635, 411, 521, 392, 634, 592, 818, 592, 592,  525, 636, 337, 636, 838};
constexpr std::array<std::uint16_t, 95> bold_widths = {
    348, 456,  521, 838, 696, 1002, 872, 306, 457, 457, 523, 838, 380, 415,  380, 365, 696, 696,  696,
    696, 696,  696, 696, 696, 696,  696, 400, 400, 838, 838, 838, 580, 1000, 774, 762, 734, 830,  683,
    683, 821,  837, 372, 372, 775,  637, 995, 837, 850, 733, 850, 770, 720,  682, 812, 774, 1103, 771,
    724, 725,  457, 365, 457, 838,  500, 500, 675, 716, 593, 716, 678, 435,  716, 712, 343, 343,  665,
    343, 1042, 712, 687, 716, 716,  493, 595, 478, 712, 652, 924, 645, 652,  582, 712, 365, 712,  838};
// For each column that a character of another script takes on a terminal; wide ones take two.
constexpr std::uint32_t other_plain = 850, other_bold = 950, wide = 1000;

// The letter that carries the accents of a character.
char32_t bare(char32_t c) {
    utf8proc_int32_t parts[8];
    int boundary = 0;
    const utf8proc_ssize_t n =
        utf8proc_decompose_char(static_cast<utf8proc_int32_t>(c), parts, 8, UTF8PROC_DECOMPOSE, &boundary);
    return n > 0 && n <= 8 ? static_cast<char32_t>(parts[0]) : c;
}

std::uint32_t character_width(char32_t c, bool bold) {
    if (c >= 0xc0 && c < 0x250) c = bare(c);
    if (c == 0xa0) c = ' ';
    if (c >= ' ' && c <= '~') return (bold ? bold_widths : plain_widths)[c - ' '];
    if (c == U'—' || c == U'…') return wide;
    const int columns = utf8proc_charwidth(static_cast<utf8proc_int32_t>(c));
    return columns <= 0 ? 0 : columns == 1 ? (bold ? other_bold : other_plain) : wide;
}

std::uint64_t thousandths(std::string_view text, bool bold) {
    std::uint64_t sum = 0;
    for (std::size_t at = 0; at < text.size();) sum += character_width(text::decode(text, at), bold);
    return sum;
}

Length scaled(std::uint64_t thousandths, Style style) {
    const std::uint64_t length = (thousandths * static_cast<std::uint64_t>(em(style)) + 999) / 1000;
    return static_cast<Length>(std::min<std::uint64_t>(length, 1'000'000'000));
}

std::string_view without_end(std::string_view line) {
    return line.substr(0, line.find_last_not_of(' ') + 1);
}

// The most characters of `text` that fit, and at least one with the marks upon it.
std::size_t fitting(std::string_view text, Style style, Length width) {
    std::uint64_t sum = 0;
    std::size_t end = 0;
    for (std::size_t at = 0; at < text.size(); end = at) {
        sum += character_width(text::decode(text, at), style.bold);
        if (end > 0 && scaled(sum, style) > width) break;
    }
    return end;
}

}  // namespace

Length em(Style style) {
    return (style.points * 2540 + 71) / 72;
}

Length line_height(Style style) {
    return (em(style) * 13 + 9) / 10;
}

Length text_width(std::string_view text, Style style) {
    return scaled(thousandths(text, style.bold), style);
}

Length widest_word(std::string_view text, Style style) {
    Length widest = 0;
    for (std::size_t from = 0; from < text.size();) {
        const std::size_t to = std::min(text.find(' ', from), text.size());
        widest = std::max(widest, text_width(text.substr(from, to - from), style));
        from = to + 1;
    }
    return widest;
}

std::vector<std::string> broken(std::string_view text, Style style, Length width) {
    const std::string whole = text::clean(std::string(text));
    std::vector<std::string> lines{""};
    for (std::size_t from = 0; from < whole.size();) {
        const std::size_t blank = std::min(whole.find(' ', from), whole.size());
        const std::size_t next = std::min(whole.find_first_not_of(' ', blank), whole.size());
        std::string_view word = std::string_view(whole).substr(from, next - from);
        from = next;
        if (!lines.back().empty() && text_width(lines.back() + std::string(without_end(word)), style) > width)
            lines.emplace_back();
        for (std::size_t end = 0; (end = fitting(word, style, width)) < without_end(word).size();
             word.remove_prefix(end)) {
            lines.back() += word.substr(0, end);
            lines.emplace_back();
        }
        lines.back() += word;
    }
    return lines;
}

}  // namespace tallow::emit
