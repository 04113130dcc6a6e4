#include "compiler/fit/given_up.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <map>
#include <set>

#include "compiler/colour/chromaticity.hpp"
#include "compiler/colour/solve.hpp"
#include "compiler/fit/scenes.hpp"

namespace tallow::fit {
namespace {

constexpr double least_step = 0.5 / 255;  // of a slot of 8 bits: less is no change of a picture
constexpr double least_distance = 0.001;  // Δu′v′ that is just noticeable
constexpr double rounding = 1.5 / 255;    // three roundings to 8 bits, half a step each
constexpr double on_the_way = 0.001;      // so that what differs between cues alone comes first
constexpr std::size_t scenes_told = 6;

struct Pair {
    const Output* before;
    const Output* after;  // null: given up
};

struct Compared {
    Index fixture;
    std::vector<Output> after;
    std::vector<Pair> pairs;
};

// What is lost of the fixtures of one name.
struct Lost {
    std::set<Index> level_on, colour_on, value_on, rounded, moving_on, on_the_way;  // fixtures
    double level = 0, value = 0, moving = 0, distance = 0, darker = 0, brighter = 0;
    std::vector<std::string> level_in, colour_in, moving_in;   // scenes
    std::map<std::string, std::vector<std::string>> value_in;  // by attribute
};

void note(std::vector<std::string>& scenes, const std::string& scene) {
    if (scenes.empty() || scenes.back() != scene) scenes.push_back(scene);
}

class Comparer {
  public:
    Comparer(const Tester& tester, const Trial& trial)
        : show_(tester.show()), before_(tester.roll()), after_(trial.after->roll) {
        const Played& now = *trial.after;
        for (const Index f : trial.differs) {
            Compared& c = compared_.emplace_back();
            c.fixture = f;
            c.after = outputs_of(now.show, now.roll, now.histories, trial.of_before[f]);
            const std::uint16_t from = show_.mode_of(show_.fixtures[f]).cells;
            const std::uint16_t to = now.show.mode_of(now.show.fixtures[trial.of_before[f]]).cells;
            for (const Output& o : tester.outputs(f))
                c.pairs.push_back({&o, counterpart(c.after, o, from, to)});
        }
    }

    std::map<std::string, Lost> run() {
        while (before_.next() && after_.next()) {
            scene_ = scene_text(show_, before_.scene());
            for (const Compared& c : compared_) compare(c);
        }
        for (const Compared& c : compared_) {
            Lost& lost = lost_[show_.fixtures[c.fixture].name];
            if (lost.level_on.contains(c.fixture) || lost.value_on.contains(c.fixture) ||
                lost.moving_on.contains(c.fixture))
                continue;
            (alike_but_rounded(c) ? lost.rounded : lost.on_the_way).insert(c.fixture);
        }
        return std::move(lost_);
    }

  private:
    void compare(const Compared& c) {
        Lost& lost = lost_[show_.fixtures[c.fixture].name];
        std::map<std::uint16_t, bool> changed;  // by cell: its emitters differ
        for (const Pair& pair : c.pairs) {
            const double was = before_.level(*pair.before);
            const double is = pair.after != nullptr ? after_.level(*pair.after)
                              : pair.before->shines ? 0
                                                    : static_cast<double>(pair.before->home) / runtime::full;
            compare_moves(c, pair, lost);
            const double off = was > is ? was - is : is - was;
            if (off < least_step) continue;
            if (!pair.before->shines) {
                if (!lit(c, pair.before->cell)) continue;
                lost.value_on.insert(c.fixture);
                lost.value = std::max(lost.value, off);
                note(lost.value_in[show_.attributes[pair.before->attribute]], scene_);
                continue;
            }
            lost.level_on.insert(c.fixture);
            lost.level = std::max(lost.level, off);
            note(lost.level_in, scene_);
            if (pair.before->emitter != show::no_place) changed[pair.before->cell] = true;
        }
        for (const auto& [cell, yes] : changed) compare_colour(c, cell, lost);
    }

    // What moves in two ways may be at the one end and at the other.
    void compare_moves(const Compared& c, const Pair& pair, Lost& lost) {
        if (pair.after == nullptr || pair.before->parts == pair.after->parts) return;
        const double low = before_.low(*pair.before), high = before_.high(*pair.before);
        const double now_low = after_.low(*pair.after), now_high = after_.high(*pair.after);
        if (high - low < least_step && now_high - now_low < least_step) return;
        const double off = std::max(high - now_low, now_high - low);
        if (off < least_step) return;
        lost.moving_on.insert(c.fixture);
        lost.moving = std::max(lost.moving, off);
        note(lost.moving_in, scene_);
    }

    // Whether anything of a part shines in the present picture; a fixture without light of its own always
    // counts.
    bool lit(const Compared& c, std::uint16_t cell) const {
        bool shines = false, any = false;
        for (const Pair& pair : c.pairs) {
            if (!pair.before->shines || (cell != 0 && pair.before->cell != cell)) continue;
            any = true;
            shines = shines || before_.level(*pair.before) > 0;
        }
        return shines || !any;
    }

    std::optional<colour::Light> light(const Compared& c, std::uint16_t cell, bool after) const {
        const show::Type& type = show_.type_of(show_.fixtures[c.fixture]);
        std::vector<colour::Emitter> emitters;
        std::vector<double> levels;
        for (const Pair& pair : c.pairs) {
            if (pair.before->emitter == show::no_place || pair.before->cell != cell) continue;
            const show::Emitter& emitter = type.emitters[pair.before->emitter];
            if (!emitter.visible) continue;
            emitters.push_back(emitter.light);
            levels.push_back(!after                  ? before_.level(*pair.before)
                             : pair.after == nullptr ? 0
                                                     : after_.level(*pair.after));
        }
        return colour::light_of(emitters, levels);
    }

    void compare_colour(const Compared& c, std::uint16_t cell, Lost& lost) {
        const auto was = light(c, cell, false), is = light(c, cell, true);
        if (!was) return;
        const double share = is ? is->lumens / was->lumens - 1 : -1;
        lost.darker = std::min(lost.darker, share);
        lost.brighter = std::max(lost.brighter, share);
        const double distance = is ? colour::distance_uv(was->xy, is->xy) : 0;
        if (distance < least_distance) return;
        lost.colour_on.insert(c.fixture);
        lost.distance = std::max(lost.distance, distance);
        note(lost.colour_in, scene_);
    }

    static bool alike_but_rounded(const Compared& c) {
        return std::all_of(c.pairs.begin(), c.pairs.end(), [](const Pair& p) {
            if (p.after == nullptr) return p.before->always == (p.before->shines ? Level{0} : p.before->home);
            return p.before->always == p.after->always && p.before->parts == p.after->parts;
        });
    }

    const show::Show& show_;
    Scenes before_, after_;
    std::vector<Compared> compared_;
    std::string scene_;
    std::map<std::string, Lost> lost_;
};

std::string scenes_text(const std::vector<std::string>& scenes) {
    std::string words;
    for (std::size_t i = 0; i < std::min(scenes.size(), scenes_told); ++i)
        words += (i == 0 ? "" : ", ") + scenes[i];
    if (scenes.size() > scenes_told) words += fmt::format(" and {} more", scenes.size() - scenes_told);
    return words;
}

std::string percent(double share) {
    return fmt::format("{:.1f}%", share * 100);
}

std::vector<Index> listed(const std::set<Index>& fixtures) {
    return {fixtures.begin(), fixtures.end()};
}

void tell(const show::Show& show, const Lost& lost, std::vector<std::string>& lines) {
    const auto who = [&](const std::set<Index>& fixtures) { return numbers_text(show, listed(fixtures)); };
    if (!lost.level_on.empty()) {
        std::string words =
            fmt::format("{}: levels off by up to {}", who(lost.level_on), percent(lost.level));
        if (lost.darker < 0) words += fmt::format(", light down to {}", percent(1 + lost.darker));
        if (lost.brighter > 0) words += fmt::format(", light up to {}", percent(1 + lost.brighter));
        lines.push_back(words + ", in " + scenes_text(lost.level_in));
    }
    if (!lost.colour_on.empty())
        lines.push_back(fmt::format("{}: colour off by up to Δu′v′ {:.4f}, in {}", who(lost.colour_on),
                                    lost.distance, scenes_text(lost.colour_in)));
    for (const auto& [attribute, scenes] : lost.value_in)
        lines.push_back(fmt::format("{}: {} off by up to {} of its travel, in {}", who(lost.value_on),
                                    attribute, percent(lost.value), scenes_text(scenes)));
    if (!lost.moving_on.empty())
        lines.push_back(fmt::format("{}: waves or chases off by up to {} at times, in {}",
                                    who(lost.moving_on), percent(lost.moving), scenes_text(lost.moving_in)));
    if (!lost.rounded.empty())
        lines.push_back(
            fmt::format("{}: rounded in another way, by up to {}", who(lost.rounded), percent(rounding)));
    if (!lost.on_the_way.empty())
        lines.push_back(
            fmt::format("{}: the same when a cue is complete; fades go another way", who(lost.on_the_way)));
}

}  // namespace

std::string numbers_text(const show::Show& show, const std::vector<Index>& fixtures) {
    std::vector<std::uint32_t> numbers;
    for (const Index f : fixtures) numbers.push_back(show.fixtures[f].number);
    std::sort(numbers.begin(), numbers.end());
    std::string words = show.fixtures[fixtures.front()].name;
    if (numbers.front() == 0) return words;
    for (std::size_t from = 0; from < numbers.size();) {
        std::size_t to = from;
        while (to + 1 < numbers.size() && numbers[to + 1] == numbers[to] + 1) ++to;
        words += fmt::format("{} {}", from == 0 ? "" : ",", numbers[from]);
        if (to > from) words += fmt::format("..{}", numbers[to]);
        from = to + 1;
    }
    return words;
}

GivenUp given_up(const Tester& tester, const Trial& trial) {
    GivenUp all;
    for (const auto& [name, lost] : Comparer(tester, trial).run()) {
        tell(tester.show(), lost, all.lines);
        all.worst = std::max({all.worst, lost.level, lost.value, lost.moving,
                              lost.rounded.empty() ? 0 : rounding, lost.on_the_way.empty() ? 0 : on_the_way});
    }
    return all;
}

}  // namespace tallow::fit
