#include "compiler/text/wrap.hpp"

#include <algorithm>

#include "compiler/text/utf8.hpp"

namespace tallow::text {

std::string clean(std::string text) {
    for (char& c : text)
        if (static_cast<unsigned char>(c) < 32 || c == 127) c = ' ';
    return text;
}

std::vector<std::string> wrapped(const std::string& paragraph, std::size_t width) {
    std::vector<std::string> lines{""};
    std::size_t from = 0;
    const std::string words = clean(paragraph);
    while (from < words.size()) {
        const std::size_t to = std::min(words.find(' ', from), words.size());
        const std::string word = words.substr(from, to - from);
        from = to + 1;
        if (word.empty()) continue;
        std::string& last = lines.back();
        if (last.empty())
            last = word;
        else if (text::width(last) + 1 + text::width(word) <= width)
            last += ' ' + word;
        else
            lines.push_back(word);
    }
    return lines;
}

std::string indented(const std::string& line, std::size_t indent, std::size_t width) {
    const std::string margin(indent, ' '), whole = clean(line);
    if (indent + text::width(whole) <= width) return margin + whole + "\n";
    std::string all;
    for (const std::string& part : wrapped(whole, width - indent - 4))
        all += margin + (all.empty() ? "" : "    ") + part + "\n";
    return all;
}

}  // namespace tallow::text
