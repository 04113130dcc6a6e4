#include "compiler/emit/shorten.hpp"

#include <algorithm>

namespace tallow::emit {

std::vector<std::string> shortened(std::vector<std::string> lines, std::size_t most, Style style,
                                   Length width) {
    most = std::max<std::size_t>(most, 1);
    if (lines.size() <= most) return lines;
    lines.resize(most);
    const Length room = std::max(width - text_width("…", style), 1);
    lines.back() = broken(lines.back(), style, room).front() + "…";
    return lines;
}

std::string shortened(const std::string& text, std::size_t most, Style style, Length width) {
    const auto lines = broken(text, style, width);
    if (lines.size() <= most) return text;
    std::string all;
    for (const std::string& line : shortened(lines, most, style, width)) all += line;
    return all;
}

}  // namespace tallow::emit
