#include "compiler/palettes/labels.hpp"

#include <algorithm>
#include <array>
#include <fmt/format.h>

#include "compiler/text/utf8.hpp"

namespace tallow::palettes {
namespace {

constexpr std::size_t most_boxes = 4000, most_texts = 1000;

// Directions in the order of preference: right, left, then slanting, then over and under.
constexpr std::array<svg::Spot, 8> directions{
    {{1, 0}, {-1, 0}, {.7, -.7}, {.7, .7}, {-.7, -.7}, {-.7, .7}, {0, -1}, {0, 1}}};
constexpr std::array<double, 4> radii{9, 20, 36, 56};
constexpr double far = 9;

}  // namespace

double text_width(std::string_view text, double size) {
    return .6 * size * static_cast<double>(text::width(text));
}

std::string cut_to(double width, const std::string& text, double size) {
    if (text_width(text, size) <= width) return text;
    const double room = width - text_width("...", size);
    std::size_t end = 0;
    for (std::size_t next = 0; next < text.size(); end = next) {
        text::decode(text, next);
        if (text_width(std::string_view(text).substr(0, next), size) > room) break;
    }
    return text.substr(0, end) + "...";
}

void Labels::keep_free(Box box) {
    if (taken_.size() < most_boxes) taken_.push_back(box);
}

bool Labels::is_free(Box box) const {
    if (box.left < area_.left || box.right > area_.right || box.top < area_.top || box.bottom > area_.bottom)
        return false;
    return std::none_of(taken_.begin(), taken_.end(), [&](const Box& other) {
        return box.left < other.right && other.left < box.right && box.top < other.bottom &&
               other.top < box.bottom;
    });
}

std::optional<Labels::Placed> Labels::place(svg::Spot at, std::string_view text, double size) {
    if (placed_++ >= most_texts) return std::nullopt;
    const double width = text_width(text, size);
    for (const double radius : radii)
        for (const svg::Spot& d : directions) {
            const double x = at.x + radius * d.x, y = at.y + radius * d.y;
            const double left = d.x > 0 ? x : d.x < 0 ? x - width : x - width / 2;
            const Box box{left, y - size * .55, left + width, y + size * .55};
            if (!is_free(box)) continue;
            taken_.push_back(box);
            return Placed{{x, y}, radius > far, d.x > 0 ? "start" : d.x < 0 ? "end" : "middle"};
        }
    return std::nullopt;
}

std::string name_at(const Labels::Placed& placed, std::string_view text, double size, std::string_view more) {
    return svg::words(
        {placed.near.x, placed.near.y + size * .35}, text,
        fmt::format("font-size=\"{}\" text-anchor=\"{}\" {}class=\"halo\"", size, placed.anchor, more));
}

}  // namespace tallow::palettes
