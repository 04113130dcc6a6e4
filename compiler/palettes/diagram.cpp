#include <algorithm>
#include <fmt/format.h>
#include <utility>

#include "compiler/emit/markup.hpp"
#include "compiler/palettes/chart.hpp"
#include "compiler/palettes/gamuts.hpp"
#include "compiler/palettes/marks.hpp"
#include "compiler/palettes/writers.hpp"
#include "compiler/text/counted.hpp"

namespace tallow::palettes {
namespace {

using svg::Spot;

constexpr double legend_top = 892, legend_step = 20, column_width = 372, legend_size = 12,
                 type_width = page_width - plot.left - column_width - 90;

constexpr double title_size = 22, title_width = 624;  // of the show's own, before `: colours`

std::string legend_text(Spot at, const std::string& text) {
    return svg::words({at.x + 44, at.y + 4}, text, "font-size=\"12\"");
}

// How the rest of the page reads: what each kind of mark and line means.
std::string legend_of_marks(Spot at, std::size_t unnamed) {
    std::string out = target_mark({at.x + 16, at.y}, "#fff") + legend_text(at, "what is asked for");
    at.y += legend_step;
    out += result_mark({at.x + 16, at.y}, "#fff") + legend_text(at, "what a type comes to");
    at.y += legend_step;
    constexpr std::pair<const char*, const char*> lines[] = {
        {"stroke=\"#000\" stroke-width=\"0.8\"", "from the one to the other, with the type's letter"},
        {"stroke=\"#000\" stroke-width=\"2\"", "light of one wavelength, in nm"},
        {"stroke=\"#aaa\" stroke-width=\"2\" stroke-dasharray=\"10 4\"", "purple line"},
        {"stroke=\"#888\" stroke-width=\"1.3\"", "black body, in kelvin (Planckian locus)"}};
    for (const auto& [stroke, meaning] : lines) {
        out += svg::line(at, {at.x + 34, at.y}, stroke) + legend_text(at, meaning);
        at.y += legend_step;
    }
    if (unnamed != 0)
        out += legend_text(at, fmt::format("no room for {}: see the table", text::counted(unnamed, "name")));
    return out;
}

// What is said of a type behind its name.
std::string type_words(const show::Type& type) {
    const track::Way way = track::way_of(type);
    if (way == track::Way::filters) return ": filters, approximate";
    if (way == track::Way::wheel) return ": wheel, its slots alone";
    const auto visible = [](const show::Emitter& e) { return e.visible; };
    if (std::none_of(type.emitters.begin(), type.emitters.end(), visible)) return ": no light that shows";
    return type.typical() ? " ~: typical emitters" : "";
}

std::string type_text(const show::Type& type) {
    const std::string words = type_words(type);
    return cut_to(type_width - text_width(words, legend_size), type.name, legend_size) + words;
}

std::string legend_of_types(const Show& show, const std::vector<Index>& types,
                            const std::vector<Gamut>& gamuts, Spot at) {
    std::string out;
    for (const Gamut& gamut : gamuts)
        for (const std::size_t type : gamut.types) {
            const double y = at.y + legend_step * static_cast<double>(type);
            out += svg::line({at.x, y}, {at.x + 34, y}, line_style(gamut.types.front()));
        }
    for (std::size_t i = 0; i < types.size(); ++i, at.y += legend_step) {
        out += svg::words({at.x + 44, at.y + 4}, letter_of(i), "font-size=\"13\" font-weight=\"bold\"");
        out += svg::words({at.x + 70, at.y + 4}, type_text(show.types[types[i]]), "font-size=\"12\"");
    }
    return out;
}

}  // namespace

std::string diagram(const Show& show, const Report& report) {
    const std::vector<Index> types = types_of(report);
    const double height =
        std::max(page_height, legend_top + legend_step * static_cast<double>(types.size() + 1));
    Labels labels({plot.left + 2, plot.top, plot.right, plot.bottom - 2});
    std::string body = chart(labels);
    keep_marks_free(report, labels);
    std::size_t unnamed = 0;
    const std::vector<Gamut> gamuts = gamuts_of(show, types);
    body += draw(gamuts, labels);
    body += marks(report, types, labels, unnamed);
    const std::string title =
        show.title.empty() ? "Colours" : cut_to(title_width, show.title, title_size) + ": colours";
    return fmt::format(
               "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
               "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0:.0f}mm\" height=\"{1:.0f}mm\" "
               "viewBox=\"0 0 {2:.0f} {3:.0f}\" font-family=\"sans-serif\">\n<title>{4}</title>\n"
               "<style>.halo{{paint-order:stroke;stroke:#fff;stroke-width:3px;stroke-linejoin:round}}</"
               "style>\n"
               "<rect width=\"100%\" height=\"100%\" fill=\"#fff\"/>\n",
               page_width / 4, height / 4, page_width, height, emit::escaped(title)) +
           svg::words({plot.left, 44}, title, "font-size=\"22\" font-weight=\"bold\"") +
           svg::words({plot.left, 66},
                      "CIE 1976 u\u2032v\u2032, 2\u00b0 observer; light at full intensity, before rounding",
                      "font-size=\"12\"") +
           body + legend_of_marks({plot.left, legend_top}, unnamed) +
           legend_of_types(show, types, gamuts, {plot.left + column_width, legend_top}) + "</svg>\n";
}

}  // namespace tallow::palettes
