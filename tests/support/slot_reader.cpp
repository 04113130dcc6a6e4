#include "tests/support/slot_reader.hpp"

#include <fmt/format.h>
#include <set>
#include <sstream>

namespace tallow::test {
namespace {

const std::set<std::string> emitters{"red",  "green", "blue",       "white",     "amber",
                                     "lime", "uv",    "warm-white", "cool-white"};

std::vector<std::string> words_of(const std::string& line) {
    std::istringstream in(line.substr(0, line.find("# ")));
    std::vector<std::string> words;
    for (std::string word; in >> word;) words.push_back(word);
    return words;
}

struct ModeText {
    std::string name;
    std::vector<std::string> slots;
    std::uint32_t cells = 0;
};
using Types = std::map<std::string, std::vector<ModeText>>;

// `mode cells 6 x (red green blue)`.
ModeText read_mode(std::string line) {
    std::string spaced;
    for (const char c : line) spaced += c == '(' || c == ')' ? std::string{' ', c, ' '} : std::string(1, c);
    const std::vector<std::string> words = words_of(spaced);
    ModeText mode{words.at(1), {}, 0};
    for (std::size_t i = 2; i < words.size(); ++i) {
        if (i + 2 >= words.size() || words[i + 1] != "x") {
            mode.slots.push_back(words[i]);
            continue;
        }
        const int times = std::stoi(words[i]);
        std::vector<std::string> cell;
        for (i += 3; words.at(i) != ")"; ++i) cell.push_back(words[i]);
        for (int n = 0; n < times; ++n) {
            ++mode.cells;
            for (const std::string& slot : cell) mode.slots.push_back(fmt::format("{}/{}", mode.cells, slot));
        }
    }
    return mode;
}

Types read_types(const std::string& text) {
    Types types;
    std::string type;
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);) {
        const auto words = words_of(line);
        if (words.empty()) continue;
        if (line[0] != ' ') type = words[0] == "type" ? words[1] : "";
        if (!type.empty() && words[0] == "mode") types[type].push_back(read_mode(line));
    }
    return types;
}

std::pair<int, int> read_address(const std::string& word) {
    const std::size_t slash = word.find('/');
    return {std::stoi(word), std::stoi(word.substr(slash + 1))};
}

// One line of a patch; `row` is where it goes on.
void read_line(const std::vector<std::string>& words, const Types& types, std::pair<int, int>& row,
               std::map<std::string, PatchedBody>& out) {
    std::size_t i = 1;
    int first = 0, last = 0;
    if (words.at(1)[0] >= '0' && words[1][0] <= '9') {
        first = last = std::stoi(words[1]);
        if (const auto dots = words[1].find(".."); dots != std::string::npos)
            last = std::stoi(words[1].substr(dots + 2));
        ++i;
    }
    PatchedBody body;
    body.type = words.at(i++);
    const std::vector<ModeText>& modes = types.at(body.type);
    ModeText mode = modes.front();
    bool ganged = false, aside = false;
    std::pair<int, int> at = row;
    for (; i < words.size(); ++i) {
        for (const ModeText& m : modes)
            if (m.name == words[i]) mode = m;
        ganged = ganged || words[i] == "ganged";
        if (words[i] == "at") {
            aside = true;
            at = read_address(words.at(++i));
        }
    }
    body.mode = mode.name;
    body.slots = mode.slots;
    body.cells = mode.cells;
    const int size = static_cast<int>(mode.slots.size());
    for (int n = first; n <= last; ++n) {
        body.universe = at.first;
        body.address = at.second;
        out[first == 0 ? words[0] : fmt::format("{} {}", words[0], n)] = body;
        if (!ganged || n == last) at.second += size;
    }
    if (!aside) row = at;
}

std::uint64_t read_value(const PatchedBody& body, std::size_t place, const SlotOf& slot) {
    const auto byte = [&](std::size_t at) {
        return static_cast<std::uint64_t>(slot(body.universe, body.address + static_cast<int>(at)));
    };
    for (std::size_t fine = 0; fine < body.slots.size(); ++fine)
        if (body.slots[fine] == body.slots[place] + ".fine") return byte(place) * 256 + byte(fine);
    return byte(place) * 257;
}

// The cell of a slot, and its name; 0 for the whole fixture.
std::pair<std::uint32_t, std::string> parted(const std::string& slot) {
    const std::size_t slash = slot.find('/');
    if (slash == std::string::npos) return {0, slot};
    return {static_cast<std::uint32_t>(std::stoul(slot)), slot.substr(slash + 1)};
}

// A slot's name in a mode of other cells.
std::string moved(const std::string& slot, std::uint32_t from, std::uint32_t to) {
    const auto [cell, name] = parted(slot);
    if (cell == 0 || to == 0) return name;
    return fmt::format("{}/{}", (cell - 1) * to / from + 1, name);
}

}  // namespace

std::map<std::string, PatchedBody> read_patch(const std::string& types, const std::string& text) {
    const Types known = read_types(types + "\n" + text);
    std::map<std::string, PatchedBody> out;
    std::pair<int, int> row;
    bool inside = false;
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);) {
        const auto words = words_of(line);
        if (words.empty() || words[0][0] == '#') continue;
        if (line[0] != ' ') {
            inside = words[0] == "patch";
            if (inside) row = read_address(words.at(1));
        } else if (inside) {
            read_line(words, known, row, out);
        }
    }
    return out;
}

std::string without_patches(const std::string& text) {
    std::string out;
    bool inside = false;
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);) {
        if (!line.empty() && line[0] != ' ' && line[0] != '#') inside = line.rfind("patch ", 0) == 0;
        if (!inside) out += line + "\n";
    }
    return out;
}

BodyLight light_of(const PatchedBody& body, const SlotOf& slot) {
    std::map<std::string, std::uint64_t> level;
    for (std::size_t i = 0; i < body.slots.size(); ++i)
        if (body.slots[i] != "-" && body.slots[i].find(".fine") == std::string::npos)
            level[body.slots[i]] = read_value(body, i, slot);
    const auto or_full = [&](const std::string& name) {
        const auto at = level.find(name);
        return at == level.end() ? std::uint64_t{65535} : at->second;
    };
    BodyLight light;
    bool emits = false;
    for (const auto& [name, value] : level) emits = emits || emitters.count(parted(name).second) > 0;
    for (const auto& [name, value] : level) {
        const auto [cell, kind] = parted(name);
        if (emitters.count(kind) > 0)
            light.shines[name] = value * or_full("intensity") *
                                 (cell == 0 ? 65535 : or_full(fmt::format("{}/intensity", cell)));
        else if (kind == "intensity" && !emits)
            light.shines[name] = value * 65535 * 65535;
        else if (kind != "intensity")
            light.values[name] = value;
    }
    return light;
}

std::string difference(const PatchedBody& before, const BodyLight& was, const BodyLight& at_home,
                       const PatchedBody& after, const BodyLight& is) {
    const auto told = [](const std::string& what, std::uint64_t a, std::uint64_t b) {
        return fmt::format("{} {} became {}", what, a, b);
    };
    bool lit = was.shines.empty();
    for (const auto& [name, value] : was.shines) {
        lit = lit || value > 0;
        const auto now = is.shines.find(moved(name, before.cells, after.cells));
        const std::uint64_t is_now = now == is.shines.end() ? 0 : now->second;
        if (value != is_now) return told(name, value, is_now);
    }
    for (const auto& [name, value] : is.shines) {
        bool known = false;
        for (const auto& [old, level] : was.shines)
            known = known || moved(old, before.cells, after.cells) == name;
        if (!known && value != 0) return told(name, 0, value);
    }
    for (const auto& [name, value] : was.values) {
        const auto now = is.values.find(moved(name, before.cells, after.cells));
        const std::uint64_t is_now = now == is.values.end() ? at_home.values.at(name) : now->second;
        if (lit && value != is_now) return told(name, value, is_now);
    }
    return "";
}

}  // namespace tallow::test
