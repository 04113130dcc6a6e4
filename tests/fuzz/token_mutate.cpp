#include "tests/fuzz/token_mutate.hpp"

#include <utility>
#include <vector>

#include "tests/support/random.hpp"

namespace tallow::test {
namespace {

using Line = std::vector<std::string>;  // words, with the blanks before each

std::vector<Line> cut(std::string_view text) {
    std::vector<Line> lines;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find('\n'), text.size());
        std::string_view rest = text.substr(0, end);
        Line line;
        while (!rest.empty()) {
            const std::size_t start = std::min(rest.find_first_not_of(' '), rest.size());
            const std::size_t stop = std::min(rest.find_first_of(" ,", start + 1), rest.size());
            line.emplace_back(rest.substr(0, stop));
            rest.remove_prefix(stop);
        }
        lines.push_back(std::move(line));
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    return lines;
}

void change(std::vector<Line>& lines, Random& random) {
    Line& line = lines[random.below(lines.size())];
    Line& other = lines[random.below(lines.size())];
    const auto word = [&](Line& of) -> std::string* {
        return of.empty() ? nullptr : &of[random.below(of.size())];
    };
    std::string* one = word(line);
    std::string* two = word(other);
    switch (random.below(8)) {
        case 0:
            if (one) line.erase(line.begin() + (one - line.data()));
            break;
        case 1:
            if (one) line.push_back(std::string(*one));
            break;
        case 2:
            if (one && two) std::swap(*one, *two);
            break;
        case 3:
            if (two) line.push_back(std::string(*two));
            break;
        case 4:
            std::swap(line, other);
            break;
        case 5:
            line.clear();
            break;
        case 6:
            lines.push_back(Line(line));
            break;
        case 7:
            if (!line.empty())
                line.front() =
                    line.front().starts_with(' ')
                        ? line.front().substr(line.front().find_first_not_of(' ') % line.front().size())
                        : "    " + line.front();
            break;
    }
}

}  // namespace

std::string mutate_tokens(std::string_view base, std::uint64_t seed) {
    Random random(seed);
    std::vector<Line> lines = cut(base);
    if (lines.empty()) return {};
    for (unsigned turns = 1 + random.below(6u); turns > 0; --turns) change(lines, random);
    std::string text;
    for (const Line& line : lines) {
        for (const std::string& word : line) text += word;
        text += '\n';
    }
    return text;
}

}  // namespace tallow::test
