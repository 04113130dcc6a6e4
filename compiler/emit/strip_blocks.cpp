#include <algorithm>
#include <fmt/format.h>

#include "compiler/emit/blocks.hpp"
#include "compiler/emit/fader_rows.hpp"
#include "compiler/emit/shorten.hpp"
#include "compiler/text/decimal.hpp"

namespace tallow::emit {
namespace {

constexpr Length beside = 500;  // room for cut marks at both ends
constexpr Length least_height = 1200, largest_height = 12000;
constexpr Style word_style{11, false};

Style number_style(Length pitch) {
    return {static_cast<std::uint8_t>(pitch < 1500 ? 11 : 14), true};
}

// How the words of a strip stand: across the labels, or reading upward where a word is too wide for that.
struct Lie {
    bool turned = false;
    Length height = least_height;
};

Lie lie_of(const Strip& strip, Length pitch) {
    Lie lie;
    for (const Strip::Label& label : strip.labels)
        lie.turned = lie.turned || widest_word(label.words, word_style) > pitch - 2 * label_padding;
    const Length across = lie.turned ? pitch : largest_height;
    const auto most = static_cast<std::size_t>((across - 2 * fader_padding) / line_height(word_style));
    std::size_t lines = 1;
    for (const Strip::Label& label : strip.labels) {
        while (lie.turned && lie.height < largest_height &&
               broken(label.words, word_style, lie.height - 2 * label_padding).size() > most)
            lie.height += 200;
        if (!lie.turned)
            lines = std::max(lines, broken(label.words, word_style, pitch - 2 * label_padding).size());
    }
    if (!lie.turned)
        lie.height =
            std::max(least_height, static_cast<Length>(std::min(lines, most)) * line_height(word_style) +
                                       2 * label_padding);
    return lie;
}

Cell words_cell(const std::string& words, const Lie& lie, Length pitch) {
    const Length along = (lie.turned ? lie.height : pitch) - 2 * label_padding;
    const Length across = lie.turned ? pitch : lie.height;
    const auto most = static_cast<std::size_t>((across - 2 * fader_padding) / line_height(word_style));
    Cell cell{shortened(broken(words, word_style, along), most, word_style, along), word_style};
    cell.align = lie.turned ? Align::left : Align::centre;
    cell.turned = lie.turned;
    return cell;
}

}  // namespace

std::vector<Block> strip_blocks(const Strip& strip, Length pitch, Length width) {
    std::vector<Block> all;
    const Lie lie = lie_of(strip, pitch);
    const Length room = (width - 2 * beside) / pitch;
    const auto parts = fader_parts(strip.labels.size(), strip.rows, static_cast<std::size_t>(room));
    for (const auto& [from, to] : parts) {
        const std::string &first = strip.labels[from].number, &last = strip.labels[to - 1].number;
        const std::string title = fmt::format("{} {}, {} mm from one to the next", strip.title,
                                              first == last ? first : first + " to " + last,
                                              text::decimal(std::int64_t{pitch} * 10'000));
        all.push_back(paragraph(title, {11, true}, width));
        all.back().space = 700;
        Block block{Role::strip, std::vector<Length>(to - from, pitch), {}};
        block.indent = beside;
        block.space = 400;
        Row numbers{{}, line_height(number_style(pitch)) + 2 * row_padding, true};
        Row words{{}, lie.height};
        for (std::size_t i = from; i < to; ++i) {
            numbers.cells.push_back({{strip.labels[i].number}, number_style(pitch), Align::centre});
            words.cells.push_back(words_cell(strip.labels[i].words, lie, pitch));
        }
        block.rows = {std::move(numbers), std::move(words)};
        all.push_back(std::move(block));
    }
    return all;
}

}  // namespace tallow::emit
