#include "compiler/emit/place.hpp"

#include "compiler/emit/blocks.hpp"

namespace tallow::emit {
namespace {

constexpr Length hair = 12, thin = 20, heavy = 60;
constexpr Length tick = 300, tick_gap = 60;  // cut marks

struct Area {
    Length x, y, width, height;
};

class Placer {
  public:
    explicit Placer(const Page& page) {
        for (const auto* blocks : {&page.head, &page.body, &page.foot})
            for (const Block& block : *blocks) add(block);
    }
    Placed take() { return std::move(placed_); }

  private:
    void add(const Block& block) {
        Length y = block.y;
        for (const Row& row : block.rows) {
            Length x = margin + block.indent;
            for (std::size_t c = 0; c < row.cells.size(); ++c) {
                const Area area{x, y, block.columns[c], row.height};
                frame(block, row, c, area);
                text(block.role, row.cells[c], area);
                x += block.columns[c];
            }
            y += row.height;
            if (block.role == Role::table)
                bar(margin, y - hair, width(block), row.heading ? heavy / 2 : hair);
        }
        if (block.role == Role::rule) bar(margin, block.y, width(block), block.height());
        if (block.role == Role::scale) scale(block);
        if (block.role == Role::strip) cut_marks(block);
    }

    static Length width(const Block& block) {
        Length sum = 0;
        for (const Length c : block.columns) sum += c;
        return sum;
    }

    void bar(Length x, Length y, Length width, Length height) {
        placed_.bars.push_back({x, y, width, height});
    }

    // Neighbours share a line, so that the distance from line to line is that of the columns.
    void frame(const Block& block, const Row& row, std::size_t column, const Area& a) {
        if (block.role == Role::strip || (block.role == Role::faders && !row.heading)) {
            bar(a.x, a.y, hair, a.height);
            bar(a.x, a.y, a.width, hair);
            bar(a.x, a.y + a.height - hair, a.width, hair);
            if (column + 1 == row.cells.size()) bar(a.x + a.width - hair, a.y, hair, a.height);
        }
        if (!row.cells[column].marked) return;
        bar(a.x, a.y, a.width, heavy);
        bar(a.x, a.y + a.height - heavy, a.width, heavy);
    }

    // Lines stand in the middle of a fader's or a label's box, else at its top.
    void text(Role role, const Cell& cell, const Area& a) {
        const Length pad = role == Role::table    ? table_padding
                           : role == Role::strip  ? label_padding
                           : role == Role::faders ? fader_padding
                                                  : 0;
        const Length line = line_height(cell.style);
        const auto lines = static_cast<Length>(cell.lines.size()) * line;
        const bool boxed = role == Role::faders || role == Role::strip;
        Length at = boxed ? ((cell.turned ? a.width : a.height) - lines) / 2
                          : (role == Role::table ? row_padding : 0);
        if (role == Role::scale) at = a.height - line;
        for (const std::string& whole : cell.lines) {
            const std::string shown = whole.substr(0, whole.find_last_not_of(' ') + 1);
            if (!shown.empty() && cell.turned)
                placed_.runs.push_back(
                    {a.x + at, a.y + pad, line, a.height - 2 * pad, shown, cell.style, cell.align, true});
            else if (!shown.empty())
                placed_.runs.push_back(
                    {a.x + pad, a.y + at, a.width - 2 * pad, line, shown, cell.style, cell.align, false});
            at += line;
        }
    }

    // A line with a tick every 10 mm; its ends are the outer edges of the outer ticks.
    void scale(const Block& block) {
        bar(margin, block.y + 250, check_length, thin);
        for (Length at = 0; at <= check_length; at += 1000) {
            const Length up = at % 5000 == 0 ? 250 : 150;
            const Length x = at == 0              ? margin
                             : at == check_length ? margin + at - thin
                                                  : margin + at - thin / 2;
            bar(x, block.y + 250 - up, thin, up);
        }
    }

    void cut_marks(const Block& block) {
        const Length left = margin + block.indent, right = left + width(block);
        const Length top = block.y, bottom = block.y + block.height();
        for (const Length y : {top, bottom - hair}) {
            bar(left - tick_gap - tick, y, tick, hair);
            bar(right + tick_gap, y, tick, hair);
        }
        for (const Length x : {left, right - hair}) {
            bar(x, top - tick_gap - tick, hair, tick);
            bar(x, bottom + tick_gap, hair, tick);
        }
    }

    Placed placed_;
};

}  // namespace

Placed placed(const Page& page) {
    return Placer(page).take();
}

}  // namespace tallow::emit
