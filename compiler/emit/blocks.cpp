#include "compiler/emit/blocks.hpp"

#include <algorithm>

#include "compiler/emit/shorten.hpp"

namespace tallow::emit {
namespace {

constexpr Style card_style{13, true};
constexpr Length gap = 300;         // between the two ends of a line
constexpr Length card_space = 500;  // above a card, a table or a strip

std::vector<Row> line_rows(std::string_view text, Style style, Length width) {
    std::vector<Row> rows;
    for (std::string& line : broken(text, style, width))
        rows.push_back({{Cell{{std::move(line)}, style}}, line_height(style)});
    return rows;
}

Group card_group(const Card& card, Length cell, Length width) {
    Group group;
    group.together = true;
    const Words left{card.corner, card_style}, right{card.right, {11, true}};
    group.blocks.push_back(ends(Role::card, left, right, width));
    group.blocks.back().space = card_space;
    group.again = {ends(Role::card,
                        {shortened(card.corner, 2, card_style, width / 2) + " (goes on)", card_style}, right,
                        width)};
    for (const std::string& text : card.above) group.blocks.push_back(paragraph(text, {}, width));
    for (Block& block : fader_blocks(card, cell, width)) group.blocks.push_back(std::move(block));
    for (const std::string& text : card.below) group.blocks.push_back(paragraph(text, {}, width));
    return group;
}

}  // namespace

Block paragraph(std::string_view text, Style style, Length width) {
    return {Role::lines, {width}, line_rows(text, style, width)};
}

Block ends(Role role, const Words& left, const Words& right, Length width) {
    if (right.text.empty()) return {role, {width}, line_rows(left.text, left.style, width)};
    const Length right_width = std::min(text_width(right.text, right.style), width / 2);
    const std::vector<Row> l = line_rows(left.text, left.style, width - right_width - gap);
    const std::vector<Row> r = line_rows(right.text, right.style, right_width);
    Block block{role, {width - right_width - gap, gap, right_width}, {}};
    for (std::size_t i = 0; i < std::max(l.size(), r.size()); ++i) {
        Row row{{Cell{{""}, left.style}, Cell{{""}}, Cell{{""}, right.style}},
                std::max(line_height(left.style), line_height(right.style))};
        if (i < l.size()) row.cells[0] = l[i].cells[0];
        if (i < r.size()) row.cells[2] = r[i].cells[0];
        row.cells[2].align = Align::right;
        block.rows.push_back(std::move(row));
    }
    return block;
}

std::vector<Group> groups(const Sheet& sheet, const PageOptions& options) {
    const Length width = options.paper.width - 2 * margin;
    std::vector<Group> all;
    for (const std::string& note : sheet.notes) all.push_back({{paragraph(note, {}, width)}, {}});
    const Length cell = fader_cell(sheet.cards);
    for (const Card& card : sheet.cards) all.push_back(card_group(card, cell, width));
    for (const Table& table : sheet.tables) {
        if (!table.printed) continue;
        for (Block& block : table_blocks(table, width)) {
            block.space = card_space;
            all.push_back({{std::move(block)}, {}});
        }
    }
    for (const Strip& strip : sheet.strips)
        for (Block& block : strip_blocks(strip, options.pitch, width)) {
            const bool labels = block.role == Role::strip;
            if (labels)
                all.back().blocks.push_back(std::move(block));
            else
                all.push_back({{std::move(block)}, {}, true});
        }
    return all;
}

}  // namespace tallow::emit
