// A sheet as blocks of the page model, before they are laid on pages.
#pragma once

#include <string>
#include <vector>

#include "compiler/emit/page.hpp"

namespace tallow::emit {

// Blocks in their order. Together: on one page where one has the room; where it goes on, `again` stands at
// the head of the next page.
struct Group {
    std::vector<Block> blocks;
    std::vector<Block> again;
    bool together = false;
};

inline constexpr Length table_padding = 150, fader_padding = 20,
                        label_padding = 60;  // at each side of a cell's text
inline constexpr Length row_padding = 40;    // above it and below

// A paragraph over the whole width.
Block paragraph(std::string_view text, Style style, Length width);

// Two texts at the two ends of a line; each wraps in its own part of it.
struct Words {
    std::string text;
    Style style;
};
Block ends(Role role, const Words& left, const Words& right, Length width);

// The columns take what they need; where that is too much, those that say most wrap. Columns without a word
// in them are left out, and so is a table without rows. A table whose columns have no room side by side is
// broken into several that begin with the same column.
std::vector<Block> table_blocks(const Table& table, Length width);

// The faders of a card in the rows of the desk, all cells of `cell` hundredths of a millimetre at least.
std::vector<Block> fader_blocks(const Card& card, Length cell, Length width);
// The least cell that has room for all of a sheet's numbers and levels.
Length fader_cell(const std::vector<Card>& cards);

// The check rule, and the labels at exactly this pitch.
std::vector<Block> strip_blocks(const Strip& strip, Length pitch, Length width);

std::vector<Group> groups(const Sheet& sheet, const PageOptions& options);

}  // namespace tallow::emit
