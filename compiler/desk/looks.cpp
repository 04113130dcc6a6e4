#include "compiler/desk/looks.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <map>

namespace tallow::desk {
namespace {

// Each once, growing.
void put_in_order(std::vector<std::uint32_t>& numbers) {
    std::sort(numbers.begin(), numbers.end());
    numbers.erase(std::unique(numbers.begin(), numbers.end()), numbers.end());
}

}  // namespace

Looks find_looks(const Pictures& pictures, const show::Layout& layout) {
    Looks looks;
    looks.width = width_of(pictures, layout);
    std::map<std::vector<Percent>, Index> known;
    for (Index cue = 0; cue < pictures.cues.size(); ++cue) {
        std::vector<Percent> set = pictures.cues[cue].set;
        set.resize(looks.width);
        if (std::all_of(set.begin(), set.end(), [](Percent level) { return level == 0; })) {
            looks.of_cue.push_back(show::none);
            continue;
        }
        const auto [at, fresh] = known.try_emplace(std::move(set), static_cast<Index>(looks.first.size()));
        if (fresh) looks.first.push_back(cue);
        looks.of_cue.push_back(at->second);
    }
    return looks;
}

std::string ranges_text(std::vector<std::uint32_t> numbers) {
    put_in_order(numbers);
    std::string out;
    for (std::size_t i = 0; i < numbers.size();) {
        std::size_t end = i;
        while (end + 1 < numbers.size() && numbers[end + 1] == numbers[end] + 1) ++end;
        out += out.empty() ? "" : ", ";
        out += end == i ? fmt::format("{}", numbers[i]) : fmt::format("{}-{}", numbers[i], numbers[end]);
        i = end + 1;
    }
    return out;
}

std::string channels_text(std::vector<std::uint32_t> numbers) {
    put_in_order(numbers);
    return (numbers.size() == 1 ? "channel " : "channels ") + ranges_text(numbers);
}

}  // namespace tallow::desk
