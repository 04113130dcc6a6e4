#include "compiler/emit/html.hpp"

#include <fmt/format.h>

#include "compiler/emit/blocks.hpp"
#include "compiler/emit/html_style.hpp"
#include "compiler/emit/markup.hpp"

namespace tallow::emit {
namespace {

std::string plain_words(const Cell& cell) {
    std::string text;
    for (const std::string& line : cell.lines) text += line;
    text.erase(text.find_last_not_of(' ') + 1);
    return text;
}

// Names may be in any script and direction: each text keeps its own to itself.
std::string words(const Cell& cell) {
    const std::string text = plain_words(cell);
    if (text.empty()) return "";
    const std::string isolated = "<bdi>" + escaped(text) + "</bdi>";
    return cell.marked ? "<strong>" + isolated + "</strong>" : isolated;
}

// A paragraph's or a heading's text: one cell of each row.
std::string column_words(const Block& block, std::size_t column) {
    Cell all;
    for (const Row& row : block.rows)
        if (column < row.cells.size())
            all.lines.insert(all.lines.end(), row.cells[column].lines.begin(), row.cells[column].lines.end());
    return words(all);
}

Length width(const Block& block) {
    Length sum = 0;
    for (const Length c : block.columns) sum += c;
    return sum;
}

std::string place(const Block& block) {
    return fmt::format("--x: {}; --y: {}; --w: {}", millimetres(margin + block.indent), millimetres(block.y),
                       millimetres(width(block)));
}

std::string line_class(const Cell& cell) {
    return fmt::format("l{}{}", cell.style.points, cell.style.bold ? " firm" : "");
}

std::string paragraph_html(const Block& block) {
    const Cell& cell = block.rows.front().cells.front();
    return fmt::format("<p class=\"{}\" style=\"{}\">{}</p>\n", line_class(cell), place(block),
                       column_words(block, 0));
}

std::string ends_html(const Block& block) {
    const Cell& first = block.rows.front().cells.front();
    const char* tag = block.role == Role::sheet ? "h2" : block.role == Role::card ? "h3" : "p";
    std::string out = fmt::format("<div class=\"ends{}\" style=\"{}\"><{} class=\"{}\">{}</{}>",
                                  block.role == Role::card ? " card" : "", place(block), tag,
                                  line_class(first), column_words(block, 0), tag);
    if (block.columns.size() == 3)
        out += fmt::format("<p class=\"{}\">{}</p>", line_class(block.rows.front().cells[2]),
                           column_words(block, 2));
    return out + "</div>\n";
}

// Tables with long cells stand on a phone as one block for each row, so their roles are spelled out.
bool is_tall(const Block& block) {
    if (block.role != Role::table) return false;
    for (const Row& row : block.rows)
        for (const Cell& cell : row.cells)
            if (cell.lines.size() > 1) return true;
    return false;
}

std::string cell_html(const Block& block, const Row& row, std::size_t column, bool tall) {
    const Cell& cell = row.cells[column];
    const bool first = block.role == Role::table && column == 0 && !row.heading;
    const char* tag = row.heading || first ? "th" : "td";
    std::string out = fmt::format("<{}{} class=\"l{}{}{}{}\"", tag,
                                  row.heading ? " scope=\"col\""
                                  : first     ? " scope=\"row\""
                                              : "",
                                  cell.style.points, cell.align == Align::right ? " number" : "",
                                  cell.lines.size() > 1 ? " words" : "", cell.marked ? " move" : "");
    if (tall)
        out += row.heading ? " role=\"columnheader\"" : first ? " role=\"rowheader\"" : " role=\"cell\"";
    const std::string inside = words(cell);
    if (tall && !row.heading && !inside.empty())
        out += fmt::format(" data-of=\"{}\"", escaped(plain_words(block.rows.front().cells[column])));
    if (cell.turned)
        return out + fmt::format("><div class=\"turned\" style=\"--h: {}\">{}</div></{}>",
                                 millimetres(row.height - 2 * label_padding), inside, tag);
    return out + fmt::format(">{}</{}>", inside, tag);
}

std::string table_head(const Block& block, bool tall) {
    std::string kind = block.role == Role::faders ? "faders" : block.role == Role::strip ? "strip" : "rows";
    if (block.role == Role::strip && block.rows[0].cells[0].style.points < 14) kind += " narrow";
    if (tall) kind += " tall";
    std::string out = fmt::format("<table class=\"{}\"{}", kind, tall ? " role=\"table\"" : "");
    // A strip is to scale on the screen too, as far as the screen knows its own size.
    if (block.role == Role::strip) out += fmt::format(" style=\"width: {}\"", millimetres(width(block)));
    out += ">";
    if (block.role != Role::table)
        out += fmt::format("<caption>Faders {} to {}</caption>", words(block.rows[0].cells.front()),
                           words(block.rows[0].cells.back()));
    out += "<colgroup>";
    for (const Length c : block.columns) out += fmt::format("<col style=\"--c: {}\"/>", millimetres(c));
    return out + "</colgroup>\n";
}

// What is wider than the screen scrolls by itself, by keys too.
std::string table_html(const Block& block) {
    const bool tall = is_tall(block);
    const std::string group = tall ? " role=\"rowgroup\"" : "", line = tall ? " role=\"row\"" : "";
    std::string out = fmt::format("<div class=\"wide{}\" tabindex=\"0\" style=\"{}\">",
                                  block.role == Role::strip ? " cut" : "", place(block)) +
                      table_head(block, tall) + "<thead" + group + ">\n";
    bool heading = true;
    for (const Row& row : block.rows) {
        if (heading && !row.heading) out += "</thead><tbody" + group + ">\n";
        heading = row.heading;
        out += fmt::format("<tr{} style=\"--h: {}\">", line, millimetres(row.height));
        for (std::size_t c = 0; c < row.cells.size(); ++c) out += cell_html(block, row, c, tall);
        out += "</tr>\n";
    }
    return out + (heading ? "</thead>" : "</tbody>") + "</table></div>\n";
}

// A hundred millimetres with a tick at every tenth.
std::string scale_html(const Block& block) {
    std::string out = fmt::format(
        "<div class=\"scale\" style=\"{}\">\n<svg width=\"{}\" height=\"4mm\" viewBox=\"0 0 10000 400\" "
        "aria-hidden=\"true\">"
        "<rect x=\"0\" y=\"250\" width=\"10000\" height=\"20\"/>",
        place(block), millimetres(check_length));
    for (int at = 0; at <= check_length; at += 1000) {
        const int up = at % 5000 == 0 ? 250 : 150;
        out += fmt::format("<rect x=\"{}\" y=\"{}\" width=\"20\" height=\"{}\"/>",
                           at == 0              ? 0
                           : at == check_length ? at - 20
                                                : at - 10,
                           250 - up, up);
    }
    return out + fmt::format("</svg>\n<p class=\"l11\">{}</p></div>\n", column_words(block, 0));
}

std::string block_html(const Block& block) {
    switch (block.role) {
        case Role::sheet:
        case Role::card:
            return ends_html(block);
        case Role::lines:
            return block.columns.size() == 1 ? paragraph_html(block) : ends_html(block);
        case Role::rule:
            return fmt::format("<hr style=\"{}\"/>\n", place(block));
        case Role::scale:
            return scale_html(block);
        default:
            return table_html(block);
    }
}

std::string page_html(const SheetSet& set, const Page& page) {
    const bool first = page.number == 1, last = page.number == page.of;
    std::string out = fmt::format("<section class=\"page{}{}\"{}>\n<header>\n", first ? " first" : " more",
                                  last ? "" : " on",
                                  first ? fmt::format(" id=\"{}\"", escaped(set.sheets[page.sheet].id)) : "");
    for (const Block& block : page.head) out += block_html(block);
    out += "</header>\n<div class=\"content\">\n";
    for (const Block& block : page.body) out += block_html(block);
    out += "</div>\n<footer>\n";
    for (const Block& block : page.foot) out += block_html(block);
    return out + "</footer>\n</section>\n";
}

}  // namespace

std::string html(const SheetSet& set, const Document& document) {
    const std::string title = escaped(set.show);
    std::string out = fmt::format(
        "<!DOCTYPE html>\n<html lang=\"en\" xmlns=\"http://www.w3.org/1999/xhtml\">\n<head>\n"
        "<meta charset=\"utf-8\"/>\n<meta name=\"viewport\" content=\"width=device-width, "
        "initial-scale=1\"/>\n<title>{}: sheets</title>\n<style>\n{}</style>\n</head>\n<body>\n<nav>\n"
        "<h1><bdi>{}</bdi></h1>\n<ul>\n",
        title, html_style(document.paper), title);
    for (const Sheet& sheet : set.sheets)
        out += fmt::format("<li><a href=\"#{}\">{}</a></li>\n", escaped(sheet.id), escaped(sheet.title));
    out += "</ul>\n</nav>\n<main>\n";
    for (const Page& page : document.pages) out += page_html(set, page);
    return out + "</main>\n</body>\n</html>\n";
}

}  // namespace tallow::emit
