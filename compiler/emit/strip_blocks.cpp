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

// How words stand: across the labels, or reading upward; and how high the labels are.
struct Lie {
    bool turned = false;
    Length height = least_height;
};

using Part = std::pair<std::size_t, std::size_t>;

// Whether some word is too wide to stand across.
bool must_turn(const Strip& strip, Length pitch) {
    return std::any_of(strip.labels.begin(), strip.labels.end(), [&](const Strip::Label& label) {
        return widest_word(label.words, word_style) > pitch - 2 * label_padding;
    });
}

std::size_t most_lines(Length across) {
    return static_cast<std::size_t>((across - 2 * fader_padding) / line_height(word_style));
}

Lie lie_of(const Strip& strip, const Part& part, Length pitch, bool turned) {
    Lie lie{turned};
    for (std::size_t i = part.first; i < part.second; ++i) {
        const Length word = widest_word(strip.labels[i].words, word_style) + 2 * label_padding;
        if (turned) lie.height = std::max(lie.height, std::min(word, largest_height));
        const auto lines = [&](Length along) {
            return broken(strip.labels[i].words, word_style, along - 2 * label_padding).size();
        };
        while (turned && lie.height < largest_height && lines(lie.height) > most_lines(pitch))
            lie.height += 200;
        if (!turned)
            lie.height =
                std::max(lie.height, static_cast<Length>(std::min(lines(pitch), most_lines(largest_height))) *
                                             line_height(word_style) +
                                         2 * label_padding);
    }
    return lie;
}

Cell words_cell(const std::string& words, const Lie& lie, Length pitch) {
    const Length along = (lie.turned ? lie.height : pitch) - 2 * label_padding;
    const std::size_t most = most_lines(lie.turned ? pitch : lie.height);
    Cell cell{shortened(broken(words, word_style, along), most, word_style, along), word_style,
              Align::centre};
    cell.turned = lie.turned;
    return cell;
}

}  // namespace

std::vector<Block> strip_blocks(const Strip& strip, Length pitch, Length width) {
    std::vector<Block> all;
    const bool turned = must_turn(strip, pitch);
    const Length room = (width - 2 * beside) / pitch;
    const auto parts = fader_parts(strip.labels.size(), strip.rows, static_cast<std::size_t>(room));
    for (const Part& part : parts) {
        const auto [from, to] = part;
        const Lie lie = lie_of(strip, part, pitch, turned);
        const std::string &first = strip.labels[from].number, &last = strip.labels[to - 1].number;
        const std::string range = first == last ? first : fmt::format("{} to {}", first, last);
        const std::string title = fmt::format("{} {}, {} mm from one to the next", strip.title, range,
                                              text::decimal(std::int64_t{pitch} * 10'000));
        all.push_back(paragraph(title, {11, true}, width));
        all.back().space = 300;
        Block block{Role::strip, std::vector<Length>(to - from, pitch), {}};
        block.indent = beside;
        block.space = block.below = 400;
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
