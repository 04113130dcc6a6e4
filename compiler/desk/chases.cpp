#include "compiler/desk/chases.hpp"

#include <fmt/format.h>
#include <map>
#include <set>

#include "compiler/desk/looks.hpp"
#include "compiler/desk/wave_motion.hpp"

namespace tallow::desk {
namespace {

// Channels of a cue that repeat together.
struct Group {
    std::uint64_t period = 0;
    std::vector<std::size_t> channels;
    std::vector<std::string> of;  // names, growing
};

class Taker {
  public:
    Taker(const show::Show& show, track::Book& book, const show::Desk& desk, std::size_t width,
          Pictures& pictures)
        : desk_(desk),
          width_(width),
          pictures_(pictures),
          tracker_(show, book),
          motion_(show, book, tracker_) {}

    Chases run() {
        while (desk_.chases > 0 && tracker_.next()) {
            cue_ = tracker_.index();
            take(groups());
        }
        return std::move(out_);
    }

  private:
    // What moves in the cue, by period.
    std::vector<Group> groups() {
        std::map<std::uint64_t, Group> by_period;
        std::map<std::vector<std::string>, std::vector<std::uint32_t>> never;
        for (std::size_t c = 0; c < width_; ++c) {
            if (picture().waves[c].empty() && picture().chases[c].empty()) continue;
            const auto moves = motion_.motion(pictures_.channels[c]);
            if (!moves) continue;
            if (!moves->repeats) {
                never[moves->of].push_back(pictures_.channels[c].number);
                continue;
            }
            Group& group = by_period[moves->period];
            group.period = moves->period;
            group.channels.push_back(c);
            group.of.insert(group.of.end(), moves->of.begin(), moves->of.end());
        }
        for (const auto& [names, channels] : never)
            out_.missing.push_back({cue_, fmt::format("{} on {}: it does not repeat, so it is no chase",
                                                      names_text(names), channels_text(channels))});
        std::vector<Group> groups;
        groups.reserve(by_period.size());
        for (auto& [period, group] : by_period) groups.push_back(std::move(group));
        for (Group& g : groups) tidy(g);
        return groups;
    }

    static void tidy(Group& group) {
        std::sort(group.channels.begin(), group.channels.end());
        std::sort(group.of.begin(), group.of.end());
        group.of.erase(std::unique(group.of.begin(), group.of.end()), group.of.end());
    }

    void take(const std::vector<Group>& groups) {
        if (groups.size() > 1) {
            if (const auto together = merged(groups)) {
                ChaseSteps steps = steps_of(*together);
                if (steps.within()) return give(*together, std::move(steps));
            }
            out_.missing.push_back({cue_,
                                    "what moves in different periods does not go into one chase; each period "
                                    "is one of its own"});
        }
        for (const Group& g : groups) give(g, steps_of(g));
    }

    std::optional<Group> merged(const std::vector<Group>& groups) const {
        Group all = groups.front();
        for (std::size_t i = 1; i < groups.size(); ++i) {
            const auto period = common_period(all.period, groups[i].period);
            // A round of more turns than the desk has steps cannot be drawn by them.
            if (!period || *period / groups.front().period > desk_.chase_steps) return std::nullopt;
            all.period = *period;
            all.channels.insert(all.channels.end(), groups[i].channels.begin(), groups[i].channels.end());
            all.of.insert(all.of.end(), groups[i].of.begin(), groups[i].of.end());
        }
        tidy(all);
        return all;
    }

    ChaseSteps steps_of(const Group& group) {
        std::vector<Mover> movers;
        for (const std::size_t c : group.channels)
            movers.push_back(motion_.mover(pictures_.channels[c], group.period));
        return chase_steps(movers, desk_.notch, desk_.notch / 2, desk_.chase_steps);
    }

    // A movement that one step is enough for stands still as well.
    void give(const Group& group, ChaseSteps steps) {
        if (steps.within() && steps.steps == 1) return;
        Chase* chase = find(group, steps);
        if (chase == nullptr) {
            if (out_.chases.size() == desk_.chases) {
                out_.missing.push_back({cue_, fmt::format("{} would need a chase more than the desk's {}",
                                                          names_text(group.of), desk_.chases)});
                return;
            }
            const auto number = static_cast<std::uint32_t>(out_.chases.size() + 1);
            out_.chases.push_back({number, group.period, group.channels, group.of, {}, std::move(steps)});
            chase = &out_.chases.back();
        }
        chase->cues.push_back(cue_);
        for (const std::size_t c : group.channels) {
            picture().wanted[c] = picture().set[c] = picture().swing[c] = 0;
            picture().waves[c].clear();
            picture().chases[c].clear();
            picture().chase[c] = chase->number;
        }
    }

    Chase* find(const Group& group, const ChaseSteps& steps) {
        for (Chase& c : out_.chases)
            if (c.period == group.period && c.channels == group.channels && c.steps.levels == steps.levels &&
                c.steps.fades == steps.fades)
                return &c;
        return nullptr;
    }

    static std::string names_text(const std::vector<std::string>& names) {
        return fmt::format("`{}`", fmt::join(names, "`, `"));
    }

    Picture& picture() { return pictures_.cues[cue_]; }

    const show::Desk& desk_;
    std::size_t width_;
    Pictures& pictures_;
    track::Tracker tracker_;
    WaveMotion motion_;
    Index cue_ = 0;
    Chases out_;
};

}  // namespace

Chases take_chases(const show::Show& show, track::Book& book, const show::Desk& desk, std::size_t width,
                   Pictures& pictures) {
    return Taker(show, book, desk, width, pictures).run();
}

}  // namespace tallow::desk
