// Blocks are laid on pages row by row. A block that goes on over several pages repeats its heading rows.
#include <algorithm>
#include <fmt/format.h>
#include <utility>

#include "compiler/emit/blocks.hpp"
#include "compiler/emit/shorten.hpp"

namespace tallow::emit {
namespace {

constexpr Style title_style{18, true}, plain{11, false}, strong{11, true};
constexpr std::size_t head_lines = 3;  // of a title at the head or foot of every page
constexpr Length rule_height = 60, head_gap = 250, foot_gap = 150, scale_height = 1100;

Length total(const std::vector<Block>& blocks) {
    Length sum = 0;
    for (const Block& b : blocks) sum += b.space + b.height() + b.below;
    return sum;
}

void stack(std::vector<Block>& blocks, Length y) {
    for (Block& b : blocks) {
        b.y = y + b.space;
        y = b.y + b.height();
    }
}

Block rule(Length width) {
    Block block{Role::rule, {width}, {Row{{}, rule_height}}};
    block.space = 100;
    return block;
}

Block scale() {
    Block block{Role::scale, {check_length}, {}};
    block.rows = {Row{{Cell{{"100 mm: measure this line before you cut"}, plain}}, scale_height}};
    block.space = 350;
    return block;
}

// A row too high for a page becomes several, each with some of its lines.
std::vector<Row> parts_of(const Row& row, Length room) {
    if (row.height <= room) return {row};
    std::size_t lines = 1;
    for (const Cell& cell : row.cells) lines = std::max(lines, cell.lines.size());
    const Length line = row.height / static_cast<Length>(lines) + 1;
    const auto most = static_cast<std::size_t>(std::max(room / line, 1));
    std::vector<Row> parts;
    for (std::size_t from = 0; from < lines; from += most) {
        const std::size_t to = std::min(from + most, lines);
        Row part{{}, static_cast<Length>(to - from) * line, row.heading};
        for (const Cell& cell : row.cells) {
            Cell some = cell;
            const auto begin = cell.lines.begin();
            const auto size = cell.lines.size();
            some.lines.assign(begin + std::min(from, size), begin + std::min(to, size));
            part.cells.push_back(std::move(some));
        }
        parts.push_back(std::move(part));
    }
    return parts;
}

class Pager {
  public:
    Pager(Length top, Length room) : top_(top), room_(room) {}

    void add(const Group& group) {
        const Length need = total(group.blocks);
        const bool fits_a_page = need - group.blocks.front().space <= room_;
        if (used_ > 0 && used_ + need > room_ && group.together && fits_a_page) begin_page({});
        for (const Block& block : group.blocks)
            add(block, &block == &group.blocks.front() ? std::vector<Block>{} : group.again);
    }

    std::vector<std::vector<Block>> take() { return std::move(pages_); }

  private:
    static bool whole(Role role) { return role == Role::faders || role == Role::strip; }

    // The heading rows that are repeated; of a heading that would fill the page none.
    std::vector<Row> headings_of(const Block& block) const {
        std::vector<Row> headings;
        Length height = 0;
        for (const Row& row : block.rows) {
            if (!row.heading) continue;
            headings.push_back(row);
            height += row.height;
        }
        return height < room_ / 2 ? headings : std::vector<Row>{};
    }

    // What must stand together at the beginning of a block: headings do not stand alone at the foot of a
    // page.
    Length first_part(const Block& block, Length headings) const {
        if (whole(block.role)) return block.height() + block.below;
        const Length title = block.role == Role::card ? 4 * line_height(plain) : 0;
        for (const Row& row : block.rows)
            if (!row.heading) return headings + title + std::min(row.height, room_ / 2);
        return headings + title;
    }

    void add(const Block& block, const std::vector<Block>& again) {
        const std::vector<Row> headings = headings_of(block);
        Length height = 0;
        for (const Row& row : headings) height += row.height;
        if (used_ > 0 && used_ + block.space + first_part(block, height) > room_) begin_page(again);
        begin(block, headings, false);
        for (const Row& row : block.rows) {
            if (row.heading && !headings.empty()) continue;
            for (Row& part : parts_of(row, room_ - height)) {
                if (used_ + part.height > room_ && !whole(block.role)) {
                    begin_page(again);
                    begin(block, headings, true);
                }
                used_ += part.height;
                pages_.back().back().rows.push_back(std::move(part));
            }
        }
        used_ += block.below;
    }

    void begin_page(const std::vector<Block>& again) {
        pages_.emplace_back();
        used_ = 0;
        for (const Block& block : again) begin(block, block.rows, true);
    }

    void begin(const Block& block, const std::vector<Row>& rows, bool goes_on) {
        Block part{block.role, block.columns, rows, block.indent};
        part.space = used_ > 0 ? block.space : 0;
        part.goes_on = goes_on;
        used_ += part.space;
        part.y = top_ + used_;
        used_ += part.height();
        pages_.back().push_back(std::move(part));
    }

    Length top_, room_, used_ = 0;
    std::vector<std::vector<Block>> pages_{1};
};

class Maker {
  public:
    Maker(const SheetSet& set, const PageOptions& options)
        : set_(set), options_(options), width_(options.paper.width - 2 * margin) {}

    void add(Document& to, std::size_t sheet) const {
        const Length top = margin + total(head(sheet, "page 999 of 999")) + head_gap;
        const Length bottom = options_.paper.height - margin - total(foot(sheet)) - foot_gap;
        Pager pager(top, bottom - top);
        for (const Group& group : groups(set_.sheets[sheet], options_)) pager.add(group);
        auto bodies = pager.take();
        for (std::size_t p = 0; p < bodies.size(); ++p) {
            Page page{sheet, p + 1, bodies.size(), {}, std::move(bodies[p]), foot(sheet)};
            page.head = head(sheet, fmt::format("page {} of {}", page.number, page.of));
            stack(page.head, margin);
            stack(page.foot, bottom + foot_gap);
            to.pages.push_back(std::move(page));
        }
    }

  private:
    std::string short_text(const std::string& text, Style style) const {
        return shortened(text, head_lines, style, width_ * 2 / 3);
    }

    std::vector<Block> head(std::size_t sheet, const std::string& page) const {
        const auto line = [&](Role role, const std::string& left, Style style, const std::string& right) {
            const Words words{short_text(left, style), style}, other{short_text(right, plain), plain};
            return ends(role, words, other, width_);
        };
        const std::string show = set_.by.empty() ? set_.show : fmt::format("{}, {}", set_.show, set_.by);
        std::vector<Block> all{
            line(Role::sheet, set_.sheets[sheet].title, title_style, page),
            line(Role::lines, show, strong, set_.date),
            line(Role::lines, fmt::format("desk {}, layout {}", set_.desk, set_.layout), plain,
                 set_.files.empty() ? "" : "files " + set_.files),
            rule(width_),
        };
        if (!set_.sheets[sheet].strips.empty()) all.push_back(scale());
        return all;
    }

    std::vector<Block> foot(std::size_t sheet) const {
        std::vector<Block> all{rule(width_)};
        all.front().space = 0;
        all.push_back(paragraph(shortened(set_.caution, head_lines, plain, width_), plain, width_));
        all.back().space = 60;
        const std::string next = sheet + 1 < set_.sheets.size()
                                     ? "next sheet: " + set_.sheets[sheet + 1].title
                                     : "last sheet of this set";
        all.push_back(ends(Role::lines, {"", strong}, {short_text(next, strong), strong}, width_));
        return all;
    }

    const SheetSet& set_;
    const PageOptions& options_;
    Length width_;
};

}  // namespace

Length Block::height() const {
    Length sum = 0;
    for (const Row& row : rows) sum += row.height;
    return sum;
}

Document paged(const SheetSet& set, const PageOptions& options) {
    Document document{options.paper, set.show, {}};
    const Maker maker(set, options);
    for (std::size_t sheet = 0; sheet < set.sheets.size(); ++sheet) maker.add(document, sheet);
    return document;
}

}  // namespace tallow::emit
