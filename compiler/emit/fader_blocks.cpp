#include <algorithm>

#include "compiler/emit/blocks.hpp"
#include "compiler/emit/fader_rows.hpp"

namespace tallow::emit {
namespace {

constexpr Style number_style{11, false};
constexpr Length widest_cell = 1400;  // where there is room for more
constexpr Length space = 120;

constexpr Style level_style(const Fader& fader) {
    return {11, fader.moved};
}

}  // namespace

Length fader_cell(const std::vector<Card>& cards) {
    Length widest = 0;
    for (const Card& card : cards)
        for (const Fader& f : card.faders)
            widest = std::max({widest, text_width(std::to_string(f.number), number_style),
                               text_width(level_text(f), level_style(f))});
    return widest + 2 * fader_padding;
}

std::vector<Block> fader_blocks(const Card& card, Length cell, Length width) {
    std::vector<Block> all;
    const auto room = static_cast<std::size_t>(std::max(width / std::max(cell, 1), 1));
    const auto parts = fader_parts(card.faders.size(), card.rows, room);
    std::size_t longest = 1;
    for (const auto& [from, to] : parts) longest = std::max(longest, to - from);
    const Length column = std::clamp(width / static_cast<Length>(longest), cell, std::max(cell, widest_cell));
    for (const auto& [from, to] : parts) {
        Block block{Role::faders, std::vector<Length>(to - from, column), {}};
        block.space = space;
        Row numbers{{}, line_height(number_style), true};
        Row levels{{}, line_height(level_style({})) + 2 * row_padding};
        for (std::size_t i = from; i < to; ++i) {
            const Fader& f = card.faders[i];
            numbers.cells.push_back({{std::to_string(f.number)}, number_style, Align::centre});
            levels.cells.push_back({{level_text(f)}, level_style(f), Align::centre, f.moved});
        }
        block.rows = {std::move(numbers), std::move(levels)};
        all.push_back(std::move(block));
    }
    return all;
}

}  // namespace tallow::emit
