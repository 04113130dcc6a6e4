#include "runtime/survival/gone_cues.hpp"

#include <algorithm>
#include <fmt/format.h>

#include "runtime/control/plain_text.hpp"
#include "runtime/cue_number.hpp"
#include "runtime/roll/cue_places.hpp"

namespace tallow::runtime {
namespace {

constexpr unsigned list_columns = 40;  // of a name, which a state may have from anybody

bool has(const Roll& roll, const CueList& list, std::uint32_t number) {
    const std::uint32_t at = cue_up_to(roll, list, number);
    return at != none && roll.cues[at].number == number;
}

}  // namespace

std::vector<GoneCue> gone_cues(const Standing& standing, const Roll& from, const Roll& to) {
    std::vector<GoneCue> gone;
    for (std::size_t l = 0; l < standing.lists.size(); ++l) {
        const std::uint32_t cue = standing.lists[l].current;
        if (cue == none) continue;
        const GoneCue at{from.lists[l].name, from.cues[cue].number};
        const std::size_t list = list_named(to, at.list);
        if (list < to.lists.size() && !has(to, to.lists[list], at.number)) gone.push_back(at);
    }
    return gone;
}

std::string gone_words(const std::vector<GoneCue>& gone, const Roll& to) {
    std::string cues;
    for (const auto& [list, number] : gone) {
        const bool named = to.lists.size() != 1 || to.lists[0].name != list;
        cues += fmt::format("{}{}cue {}", cues.empty() ? "" : ", ",
                            named ? cut(plain(list), list_columns) + " " : "", cue_number(number));
    }
    if (cues.empty()) return "";
    return fmt::format("it stood in {}, which {} no more", cues, gone.size() == 1 ? "is" : "are");
}

std::string gone_behind(const std::vector<GoneCue>& gone, const Roll& to) {
    const std::string words = gone_words(gone, to);
    return words.empty() ? "" : "; " + words;
}

}  // namespace tallow::runtime
