// What comes out on paper, read by programs that are not ours: pdfinfo, pdftotext and pdftocairo (Debian
// package poppler-utils), the XML parser of python3, and Chromium where it is installed.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <fmt/format.h>
#include <regex>
#include <set>
#include <sstream>

#include "compiler/emit/html.hpp"
#include "compiler/emit/pdf.hpp"
#include "runtime/files.hpp"
#include "tests/support/command.hpp"
#include "tests/support/desk_show.hpp"
#include "tests/support/made_frames.hpp"
#include "tests/support/page_shows.hpp"

using namespace tallow;
using test::quoted;

namespace {

constexpr double points_in_mm = 72 / 25.4;

bool has(const char* program) {
    if (test::installed(program)) return true;
    WARN(program << " is not installed: the pages are not checked by it");
    return false;
}

std::string scratch_file(const char* name, const std::string& bytes) {
    const std::string path = test::scratch(name);
    REQUIRE(runtime::write_file(path, bytes).ok());
    return path;
}

std::string field(const std::string& info, const std::string& name) {
    std::smatch found;
    return std::regex_search(info, found, std::regex("(?:^|\n)" + name + ": +([^\n]*)")) ? found[1].str()
                                                                                         : "";
}

// The words of a PDF, page by page.
std::vector<std::string> pages_of(const std::string& path) {
    std::vector<std::string> pages;
    std::istringstream text(test::run("pdftotext -layout " + quoted(path) + " - 2>&1").out);
    for (std::string page; std::getline(text, page, '\f');) pages.push_back(page);
    return pages;
}

struct Box {
    double left, top, right, bottom;  // points
};

std::vector<Box> boxes_of(const std::string& path) {
    std::vector<Box> all;
    std::istringstream lines(
        test::run("python3 " + quoted(TALLOW_SOURCE_DIR "/tests/reference/pdf_boxes.py") + " " + quoted(path))
            .out);
    for (Box b{}; lines >> b.left >> b.top >> b.right >> b.bottom;) all.push_back(b);
    return all;
}

// The left edges of the upright lines that are higher than a label's number and any tick: ascending, each
// once.
std::vector<double> label_edges(const std::vector<Box>& boxes) {
    std::set<double> edges;
    for (const Box& b : boxes)
        if (b.right - b.left < 1 && b.bottom - b.top > 25) edges.insert(b.left);
    return {edges.begin(), edges.end()};
}

// Where the words of a PDF stand, page by page, by the fonts in it.
struct Word : Box {
    std::string text;
};

std::vector<std::vector<Word>> words_of(const std::string& path) {
    std::vector<std::vector<Word>> pages;
    std::istringstream lines(test::run("pdftotext -bbox " + quoted(path) + " - 2>&1").out);
    const std::regex word(
        "<word xMin=\"([-0-9.]+)\" yMin=\"([-0-9.]+)\" xMax=\"([-0-9.]+)\" yMax=\"([-0-9.]+)\">(.*)</");
    std::smatch at;
    for (std::string line; std::getline(lines, line);) {
        if (line.find("<page ") != std::string::npos) pages.emplace_back();
        if (!std::regex_search(line, at, word)) continue;
        pages.back().push_back(
            {{std::stod(at[1]), std::stod(at[2]), std::stod(at[3]), std::stod(at[4])}, at[5]});
    }
    return pages;
}

// Words that reach past the margins, with a point of tolerance; or that lie on each other by more than a
// tenth of an em.
std::vector<std::string> misplaced(const std::string& path, const emit::Paper& paper) {
    std::vector<std::string> found;
    const double edge = 10 * points_in_mm - 1, right = paper.width / 100.0 * points_in_mm - edge,
                 bottom = paper.height / 100.0 * points_in_mm - edge;
    for (const auto& page : words_of(path))
        for (std::size_t i = 0; i < page.size(); ++i) {
            const Word& a = page[i];
            const double top = a.top + (a.bottom - a.top) / 4, base = a.bottom - (a.bottom - a.top) / 4;
            if (a.left < edge || a.right > right || top < edge || base > bottom)
                found.push_back("outside: " + a.text);
            for (std::size_t k = i + 1; k < page.size(); ++k) {
                const Word& b = page[k];
                // The box that stands for a sign without a font has its number in it, two digits above two.
                if (a.text.size() <= 2 && b.text.size() <= 2 && b.right - b.left < 7) continue;
                const double middle = (b.top + b.bottom) / 2;
                if (middle > top && middle < base &&
                    std::min(a.right, b.right) - std::max(a.left, b.left) > 1.1)
                    found.push_back(a.text + " on " + b.text);
            }
        }
    found.resize(std::min<std::size_t>(found.size(), 5));
    return found;
}

}  // namespace

TEST_CASE("by the fonts of this machine too no word leaves the page or lies on another",
          "[reference][pages]") {
    if (!has("pdftotext")) return;
    for (const test::PageShow& show : test::page_shows())
        for (const emit::Paper& paper : {emit::a4, emit::letter}) {
            if (show.name == "wide") continue;  // a thousand words on a page, all as in `plain`
            INFO(show.name << " on " << paper.name);
            const auto made = test::desk_show(show.text);
            const auto pdf = emit::pdf(made.sheets, emit::paged(made.sheets, {paper, emit::usual_pitch}));
            REQUIRE(pdf.ok());
            CHECK(misplaced(scratch_file("words.pdf", pdf->bytes), paper) == std::vector<std::string>{});
        }
}

TEST_CASE("a line too wide for its room is narrowed, not cut", "[reference][pages]") {
    if (!has("pdftotext")) return;
    emit::SheetSet set;
    set.sheets.push_back({"s", "S", {}, {}, {}});
    emit::Block block{emit::Role::lines, {1000}, {}};
    block.y = 3000;
    block.rows = {{{emit::Cell{{"Everything-of-this-word"}}}, 506}};
    const emit::Document document{emit::a4, "s", {{0, 1, 1, {}, {block}, {}}}};
    const auto pdf = emit::pdf(set, document);
    REQUIRE(pdf.ok());
    const auto pages = words_of(scratch_file("narrow.pdf", pdf->bytes));
    REQUIRE(pages.size() == 1);
    REQUIRE(pages[0].size() == 1);
    CHECK(pages[0][0].text == "Everything-of-this-word");
    CHECK(pages[0][0].left == Approx(10 * points_in_mm).margin(0.5));
    CHECK(pages[0][0].right == Approx(20 * points_in_mm).margin(0.5));
}

TEST_CASE("a PDF has the pages, the size and the text of the page model", "[reference][pages]") {
    if (!has("pdfinfo") || !has("pdftotext")) return;
    for (const emit::Paper& paper : {emit::a4, emit::letter}) {
        auto made = test::desk_show(test::page_shows().front().text);
        made.sheets.files = "0123456789abcdef";
        const auto document = emit::paged(made.sheets, {paper, emit::usual_pitch});
        const auto pdf = emit::pdf(made.sheets, document);
        REQUIRE(pdf.ok());
        CHECK(pdf->lacking.empty());
        const std::string path = scratch_file("pages.pdf", pdf->bytes);
        const std::string info = test::run("pdfinfo " + quoted(path) + " 2>&1").out;
        CHECK(field(info, "Pages") == std::to_string(document.pages.size()));
        CHECK(field(info, "Page size").starts_with(paper.width == 21000 ? "595.276 x 841.89" : "612 x 792"));
        CHECK(field(info, "CreationDate").empty());
        const auto pages = pages_of(path);
        REQUIRE(pages.size() == document.pages.size());
        for (std::size_t p = 0; p < pages.size(); ++p) {
            CHECK(pages[p].find(fmt::format("page {} of {}", document.pages[p].number,
                                            document.pages[p].of)) != std::string::npos);
            CHECK(pages[p].find("0123456789abcdef") != std::string::npos);
        }
        const std::string all = test::run("pdftotext -raw " + quoted(path) + " - 2>&1").out;
        for (int cue = 1; cue <= 12; ++cue)
            CHECK(all.find(fmt::format("Cue number {} of the show", cue)) != std::string::npos);
    }
}

TEST_CASE("the same sheets give the same PDF and the same HTML", "[reference][pages][determinism]") {
    const auto made = test::desk_show(test::page_shows()[3].text);
    const auto document = emit::paged(made.sheets, {});
    const auto one = emit::pdf(made.sheets, document), two = emit::pdf(made.sheets, document);
    REQUIRE((one.ok() && two.ok()));
    CHECK(one->bytes == two->bytes);
    CHECK(one->bytes.find("/CreationDate") == std::string::npos);
    CHECK(emit::html(made.sheets, document) == emit::html(made.sheets, emit::paged(made.sheets, {})));
}

TEST_CASE("a strip has its pitch, and the check rule its length, in the PDF", "[reference][pages]") {
    if (!has("python3")) return;
    for (const emit::Length pitch : {1000, 1350, 2000, 6000}) {
        INFO(pitch);
        auto made = test::desk_show(test::page_shows().front().text);
        std::erase_if(made.sheets.sheets, [](const emit::Sheet& s) { return s.strips.empty(); });
        REQUIRE(made.sheets.sheets.size() == 1);
        const auto pdf = emit::pdf(made.sheets, emit::paged(made.sheets, {emit::a4, pitch}));
        REQUIRE(pdf.ok());
        const auto boxes = boxes_of(scratch_file("strip.pdf", pdf->bytes));
        const auto edges = label_edges(boxes);
        REQUIRE(edges.size() >= 4);
        // The last line is the right edge of the last label, inside it. Cairo keeps 1/256 point.
        for (std::size_t i = 1; i + 1 < edges.size(); ++i)
            CHECK(edges[i] - edges[0] ==
                  Approx(static_cast<double>(i) * pitch / 100 * points_in_mm).margin(0.01));
        CHECK(std::any_of(boxes.begin(), boxes.end(), [](const Box& b) {
            return std::abs(b.right - b.left - 100 * points_in_mm) < 0.01;
        }));
    }
}

TEST_CASE("HTML is well-formed, and text from the show is text", "[reference][pages]") {
    if (!has("python3")) return;
    for (const test::PageShow& show : test::page_shows()) {
        INFO(show.name);
        const auto made = test::desk_show(show.text);
        const auto document = emit::paged(made.sheets, {});
        const std::string page = emit::html(made.sheets, document);
        const std::string path = scratch_file("sheets.html", page);
        const auto parsed = test::run(
            "python3 -c 'import sys, xml.etree.ElementTree as t; r = t.parse(sys.argv[1]).getroot(); h = "
            "\"{http://www.w3.org/1999/xhtml}\"; print(r.get(\"lang\"), len(r.findall(\".//\" + h + "
            "\"section\")), "
            "len(r.findall(\".//\" + h + \"script\")), len([e for e in r.iter(h + \"th\") if "
            "e.get(\"scope\") is "
            "None])); print(\"\".join(r.itertext()))' " +
            quoted(path));
        REQUIRE(parsed.code == 0);
        CHECK(parsed.out.starts_with(fmt::format("en {} 0 0\n", document.pages.size())));
        if (show.name != "scripts") continue;
        CHECK(parsed.out.find("<b>\"quoted\"</b> & ελαφρύ tab, مسرح القارب") != std::string::npos);
        CHECK(parsed.out.find("<script>alert(1)</script>") != std::string::npos);
        CHECK(parsed.out.find("'single' \"double\" & amp") != std::string::npos);
    }
}

TEST_CASE("a browser prints the HTML page by page, on both papers", "[reference][pages]") {
    if (!has("chromium") || !has("pdfinfo") || !has("pdftotext")) return;
    for (const bool plain : {true, false}) {
        const emit::Paper paper = plain ? emit::a4 : emit::letter;
        const auto made = test::desk_show(test::page_shows()[plain ? 0 : 3].text);
        const auto document = emit::paged(made.sheets, {paper, emit::usual_pitch});
        const std::string path = scratch_file("print.html", emit::html(made.sheets, document));
        const std::string printed = test::scratch("print.pdf");
        std::ignore = test::run(
            "timeout 120 chromium --headless=new --no-sandbox --disable-gpu --no-pdf-header-footer "
            "--print-to-pdf=" +
            quoted(printed) + " file://" + quoted(path));
        const std::string info = test::run("pdfinfo " + quoted(printed) + " 2>&1").out;
        CHECK(field(info, "Pages") == std::to_string(document.pages.size()));
        double width = 0;
        std::istringstream(field(info, "Page size")) >> width;
        CHECK(width == Approx(paper.width / 100.0 * points_in_mm).margin(1));
        CHECK(misplaced(printed, paper) == std::vector<std::string>{});
        const auto pages = pages_of(printed);
        REQUIRE(pages.size() == document.pages.size());
        for (std::size_t p = 0; p < pages.size(); ++p)
            CHECK(pages[p].find(fmt::format("page {} of {}", document.pages[p].number,
                                            document.pages[p].of)) != std::string::npos);
    }
}
