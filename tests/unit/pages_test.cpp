// The page model: what stands where, on both papers.
#include <algorithm>
#include <catch2/catch.hpp>
#include <fmt/format.h>
#include <map>

#include "compiler/emit/place.hpp"
#include "tests/support/desk_show.hpp"
#include "tests/support/page_shows.hpp"

using namespace tallow;
using emit::Block;
using emit::Length;
using emit::Role;

namespace {

struct Rectangle {
    Length left, top, right, bottom;
    std::string what;
};

// Where the letters of a line are, by the width table.
Rectangle ink(const emit::Run& r) {
    const Length length = emit::text_width(r.text, r.style);
    const Length room = r.turned ? r.height : r.width;
    const Length begin = r.align == emit::Align::left     ? 0
                         : r.align == emit::Align::centre ? (room - length) / 2
                                                          : room - length;
    if (r.turned)
        return {r.x, r.y + r.height - begin - length, r.x + r.width, r.y + r.height - begin, r.text};
    return {r.x + begin, r.y, r.x + begin + length, r.y + r.height, r.text};
}

bool overlap(const Rectangle& a, const Rectangle& b) {
    return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

// What stands outside the margins, what lies on something else, and what is too small to read.
std::vector<std::string> faults(const emit::Document& document) {
    std::vector<std::string> found;
    for (const emit::Page& page : document.pages) {
        const emit::Placed placed = emit::placed(page);
        std::vector<Rectangle> all;
        for (const emit::Run& run : placed.runs) {
            all.push_back(ink(run));
            if (run.style.points < 11) found.push_back("small: " + run.text);
        }
        const std::size_t texts = all.size();
        for (const emit::Bar& b : placed.bars)
            all.push_back({b.x, b.y, b.x + b.width, b.y + b.height, "bar"});
        for (const Rectangle& r : all)
            if (r.left < emit::margin || r.top < emit::margin ||
                r.right > document.paper.width - emit::margin ||
                r.bottom > document.paper.height - emit::margin)
                found.push_back(fmt::format("outside: {} at {},{}", r.what, r.left, r.top));
        std::sort(all.begin(), all.begin() + static_cast<std::ptrdiff_t>(texts),
                  [](const Rectangle& a, const Rectangle& b) { return a.top < b.top; });
        for (std::size_t i = 0; i < texts; ++i)
            for (std::size_t k = i + 1; k < texts && all[k].top < all[i].bottom; ++k)
                if (overlap(all[i], all[k])) found.push_back("overlap: " + all[i].what + " | " + all[k].what);
    }
    found.resize(std::min<std::size_t>(found.size(), 5));  // enough to see what is wrong
    for (std::string& fault : found) fault.resize(std::min<std::size_t>(fault.size(), 200));
    return found;
}

std::string words(const emit::Cell& cell) {
    std::string all;
    for (const std::string& line : cell.lines) all += line;
    return all;
}

// All cells of one role on a sheet's pages, row by row; headings left out.
using Rows = std::vector<std::vector<std::string>>;
Rows rows_of(const emit::Document& document, std::size_t sheet, Role role, bool headings) {
    Rows all;
    for (const emit::Page& page : document.pages)
        if (page.sheet == sheet)
            for (const Block& block : page.body)
                for (const emit::Row& row : block.rows)
                    if (block.role == role && row.heading == headings) {
                        all.emplace_back();
                        for (const emit::Cell& cell : row.cells) all.back().push_back(words(cell));
                    }
    return all;
}

std::vector<std::string> flat(const Rows& rows) {
    std::vector<std::string> all;
    for (const auto& row : rows) all.insert(all.end(), row.begin(), row.end());
    return all;
}

// A table as a page has it: without the columns that say nothing.
Rows said(const emit::Table& table) {
    Rows all(table.rows.size());
    for (std::size_t c = 0; c < table.columns.size(); ++c) {
        const bool used = c == 0 || std::any_of(table.rows.begin(), table.rows.end(),
                                                [&](const auto& row) { return !row[c].empty(); });
        for (std::size_t r = 0; used && r < all.size(); ++r) all[r].push_back(table.rows[r][c]);
    }
    return all;
}

constexpr emit::Paper papers[] = {emit::a4, emit::letter};

}  // namespace

TEST_CASE("nothing stands outside the margins, on other text, or under 11 points", "[unit][pages]") {
    for (const test::PageShow& show : test::page_shows())
        for (const emit::Paper& paper : papers)
            for (const Length pitch : {emit::least_pitch, emit::usual_pitch, emit::largest_pitch}) {
                INFO(show.name << " on " << paper.name << " at " << pitch);
                const auto made = test::desk_show(show.text);
                CHECK(faults(emit::paged(made.sheets, {paper, pitch})) == std::vector<std::string>{});
            }
}

TEST_CASE("every fader of every card stands on the pages once, in the order of the desk", "[unit][pages]") {
    for (const test::PageShow& show : test::page_shows()) {
        INFO(show.name);
        const auto made = test::desk_show(show.text);
        const auto document = emit::paged(made.sheets, {});
        std::size_t cards = 0;
        for (std::size_t s = 0; s < made.sheets.sheets.size(); ++s) {
            std::vector<std::string> numbers, levels;
            for (const emit::Card& card : made.sheets.sheets[s].cards)
                for (const emit::Fader& f : card.faders) {
                    numbers.push_back(std::to_string(f.number));
                    levels.push_back(emit::level_text(f));
                    ++cards;
                }
            CHECK(flat(rows_of(document, s, Role::faders, true)) == numbers);
            CHECK(flat(rows_of(document, s, Role::faders, false)) == levels);
        }
        CHECK(cards > 0);
    }
}

TEST_CASE("every row of a table stands on the pages once, under its headings", "[unit][pages]") {
    for (const test::PageShow& show : test::page_shows()) {
        if (show.name == "long") continue;  // its rows go on over pages
        INFO(show.name);
        const auto made = test::desk_show(show.text);
        const auto document = emit::paged(made.sheets, {});
        for (std::size_t s = 0; s < made.sheets.sheets.size(); ++s) {
            Rows wanted;
            for (const emit::Table& table : made.sheets.sheets[s].tables)
                if (table.printed)
                    for (auto& row : said(table)) wanted.push_back(std::move(row));
            CHECK(rows_of(document, s, Role::table, false) == wanted);
        }
        for (const emit::Page& page : document.pages)
            for (const Block& block : page.body)
                if (block.role == Role::table) CHECK(block.rows.front().heading);
    }
}

TEST_CASE("a changed level is bold and marked, and no other", "[unit][pages]") {
    const auto made = test::desk_show(test::page_shows().front().text);
    std::size_t marked = 0;
    for (const emit::Page& page : emit::paged(made.sheets, {}).pages)
        for (const Block& block : page.body)
            if (block.role == Role::faders)
                for (const emit::Cell& cell : block.rows[1].cells) {
                    CHECK(cell.marked == words(cell).starts_with("*"));
                    CHECK(cell.style.bold == cell.marked);
                    marked += cell.marked;
                }
    CHECK(marked > 20);
}

TEST_CASE("faders stand in the rows of the desk", "[unit][pages]") {
    const auto made = test::desk_show(test::page_shows().front().text);  // 48 in two rows
    for (const emit::Page& page : emit::paged(made.sheets, {}).pages)
        for (const Block& block : page.body)
            if (block.role == Role::faders) {
                CHECK(block.columns.size() == 24);
                CHECK((words(block.rows[0].cells[0]) == "1" || words(block.rows[0].cells[0]) == "25"));
            }
}

TEST_CASE("a card longer than a page goes on, and each page says which it is", "[unit][pages]") {
    const auto& shows = test::page_shows();
    const auto wide =
        std::find_if(shows.begin(), shows.end(), [](const auto& s) { return s.name == "wide"; });
    const auto made = test::desk_show(wide->text);
    for (const emit::Paper& paper : papers) {
        const auto document = emit::paged(made.sheets, {paper, emit::usual_pitch});
        std::map<std::size_t, std::size_t> pages;
        std::size_t gone_on = 0;
        for (const emit::Page& page : document.pages) {
            CHECK(page.number == ++pages[page.sheet]);
            CHECK(words(page.head[0].rows[0].cells[2]) == fmt::format("page {} of {}", page.number, page.of));
            for (const Block& block : page.body)
                if (block.role == Role::card && block.goes_on) {
                    ++gone_on;
                    std::string title;
                    for (const emit::Row& row : block.rows) title += words(row.cells[0]);
                    CHECK(title.ends_with("(goes on)"));
                    REQUIRE(&block != &page.body.back());
                    CHECK((&block)[1].role != Role::card);  // it does go on, on this page
                }
        }
        for (const emit::Page& page : document.pages) CHECK(page.of == pages[page.sheet]);
        CHECK(gone_on > 0);
    }
}

TEST_CASE("each page has the show, desk, layout, files, date, caution and the next sheet", "[unit][pages]") {
    auto made = test::desk_show(test::page_shows().front().text);
    made.sheets.date = "first night";
    made.sheets.files = "0123456789abcdef";
    for (const emit::Page& page : emit::paged(made.sheets, {}).pages) {
        std::string all;
        for (const auto* blocks : {&page.head, &page.foot})
            for (const Block& block : *blocks)
                for (const emit::Row& row : block.rows)
                    for (const emit::Cell& cell : row.cells) all += words(cell) + "|";
        const std::string next = page.sheet + 1 < made.sheets.sheets.size()
                                     ? "next sheet: " + made.sheets.sheets[page.sheet + 1].title
                                     : "last sheet of this set";
        for (const std::string& part :
             {made.sheets.sheets[page.sheet].title, made.sheets.show, std::string("desk d, layout pair"),
              std::string("files 0123456789abcdef"), std::string("first night"),
              std::string("A planning aid"), next}) {
            INFO(part << " in " << all);
            CHECK(all.find(part) != std::string::npos);
        }
    }
}

TEST_CASE("lines break behind blanks, and put together are the text", "[unit][pages]") {
    const emit::Style style;
    for (const std::string& text :
         {std::string("two words"), std::string(300, 'x'), std::string("a  b   c "), std::string(),
          std::string("漢字の長いラベル and é à la carte"), std::string("tab\tand\nline")}) {
        for (const Length width : {100, 900, 3000}) {
            std::string all;
            const auto lines = emit::broken(text, style, width);
            for (const std::string& line : lines) {
                all += line;
                const std::string shown = line.substr(0, line.find_last_not_of(' ') + 1);
                CHECK((emit::text_width(shown, style) <= width || shown.size() <= 4));
            }
            CHECK(all.size() == text.size());
            CHECK(!lines.empty());
        }
    }
    CHECK(emit::broken("two words", style, 1900) == std::vector<std::string>{"two ", "words"});
    CHECK(emit::text_width("éàü", style) == emit::text_width("eau", style));
}
