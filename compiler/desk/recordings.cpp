#include "compiler/desk/recordings.hpp"

#include <algorithm>
#include <set>

#include "compiler/desk/dark.hpp"
#include "compiler/desk/presets.hpp"

namespace tallow::desk {
namespace {

// Levels that fall into a range: slot_of() rounds them to one of its slots.
submasters::Between span_of(const show::Range& range) {
    const auto edge = [](std::int64_t doubled) { return (doubled * all_of_it + 509) / 510; };
    return {std::max(edge(2 * range.from - 1), Percent{0}), std::min(edge(2 * range.to + 1) - 1, all_of_it)};
}

class Maker {
  public:
    Maker(const show::Show& show, const show::Desk& desk, const show::Layout& layout,
          const Pictures& pictures)
        : show_(show),
          desk_(desk),
          layout_(layout),
          pictures_(pictures),
          masters_(masters_of(show, pictures, pictures.channels.size())) {
        width_ = width_of(pictures, layout);
        out_.room = std::size_t{layout.submasters} * layout.pages;
    }

    Recordings run() {
        submasters::Task task{wanted(), {}, desk_.notch, out_.room, layout_.submasters};
        task.bounds = submasters::bounds_around(task.wanted, desk_.notch / 2);
        keep_ranges(task.bounds);
        keep_floors(task.bounds);
        leave_dark_out(task);
        plan_ = submasters::make_plan(task);
        out_.needed = plan_.needed;
        out_.can_be_kept = plan_.can_be_kept;
        out_.kept = plan_.kept();
        add_reason(task.bounds);
        add_recordings();
        for (Index cue = 0; cue < pictures_.cues.size(); ++cue) add_step(cue, task.bounds);
        add_not_levels();
        return std::move(out_);
    }

  private:
    Levels wanted() const {
        Levels wanted(pictures_.cues.size(), width_);
        for (std::size_t c = 0; c < wanted.rows(); ++c)
            for (std::size_t j = 0; j < width_; ++j) wanted.at(c, j) = pictures_.cues[c].wanted[j];
        return wanted;
    }

    void keep_ranges(submasters::Bounds& bounds) const {
        for (std::size_t c = 0; c < bounds.low.rows(); ++c) {
            for (std::size_t j = 0; j < width_; ++j) {
                const show::Range* range =
                    range_of(show_, pictures_.channels[j], pictures_.cues[c].wanted[j]);
                if (range == nullptr) continue;
                Percent &low = bounds.low.at(c, j), &high = bounds.high.at(c, j);
                const submasters::Between span = span_of(*range);
                const Percent set = pictures_.cues[c].set[j];
                low = std::min(std::max(low, span.low), set);
                high = std::max(std::min(high, span.high), set);
            }
        }
    }

    // What a chase of the desk plays holds its floor in the steps.
    void keep_floors(submasters::Bounds& bounds) const {
        for (std::size_t c = 0; c < bounds.low.rows(); ++c) {
            const Picture& picture = pictures_.cues[c];
            for (std::size_t j = 0; j < width_; ++j) {
                const Percent floor = pictures_.channels[j].floor;
                if (floor == 0 || picture.chase[j] != 0) continue;
                bounds.low.at(c, j) = std::max(bounds.low.at(c, j), least_level(floor));
                bounds.high.at(c, j) = std::max(bounds.high.at(c, j), picture.set[j]);
            }
        }
    }

    bool dark(std::size_t cue, std::size_t j) const { return is_down(pictures_.cues[cue], masters_[j]); }

    // What shows nothing counts in no error. Colours may be left out: they come and go with the light that
    // they colour. Positions and beam values stay, so that they do not move in sight.
    void leave_dark_out(submasters::Task& task) const {
        for (std::size_t c = 0; c < task.wanted.rows(); ++c) {
            for (std::size_t j = 0; j < width_; ++j) {
                if (!dark(c, j)) continue;
                task.wanted.at(c, j) = any_setting;
                if (kind_of(j) != runtime::Kind::colour) continue;
                task.bounds.low.at(c, j) = 0;
                task.bounds.high.at(c, j) = all_of_it;
            }
        }
    }

    runtime::Kind kind_of(std::size_t j) const {
        return show_.definition(pictures_.channels[j].parameter).kind;
    }

    void add_reason(const submasters::Bounds& bounds) {
        for (const submasters::Cell& cell : plan_.apart) {
            ReasonCell r{
                static_cast<Index>(cell.cue), cell.channel, bounds.low.at(cell.cue, cell.channel), {}};
            for (const submasters::Cell& other : plan_.apart)
                r.highest.push_back(bounds.high.at(cell.cue, other.channel));
            out_.reason.push_back(std::move(r));
        }
    }

    void add_recordings() {
        const auto places = submasters::lay_on_pages(plan_.positions, layout_.submasters, layout_.pages);
        for (std::size_t r = 0; r < plan_.recordings.rows(); ++r) {
            Recording recording{places[r], {}, {}};
            for (std::size_t j = 0; j < width_; ++j) recording.set.push_back(plan_.recordings.at(r, j));
            for (Index cue = 0; cue < plan_.positions.rows(); ++cue)
                if (plan_.positions.at(cue, r) > 0) recording.cues.push_back(cue);
            out_.recordings.push_back(std::move(recording));
        }
    }

    Percent position(Index cue, std::size_t r) const { return plan_.positions.at(cue, r); }

    void add_step(Index cue, const submasters::Bounds& bounds) {
        RunStep step;
        step.cue = cue;
        std::vector<SubmasterMove> falls;
        std::set<std::uint32_t> pages, up, before, after;  // the last three: submasters
        for (std::size_t r = 0; r < out_.recordings.size(); ++r) {
            const Percent from = cue == 0 ? 0 : position(cue - 1, r), to = position(cue, r);
            const submasters::Place place = out_.recordings[r].place;
            if (from != to) (to > from ? step.moves : falls).push_back({r, from, to});
            if (from > 0 && to == 0) before.insert(place.submaster);
            if (from == 0 && to > 0) after.insert(place.submaster);
            if (to == 0) continue;
            pages.insert(place.page);
            step.clash |= !up.insert(place.submaster).second;
        }
        step.taken_over = std::any_of(before.begin(), before.end(),
                                      [&](std::uint32_t submaster) { return after.contains(submaster); });
        step.moves.insert(step.moves.end(), falls.begin(), falls.end());
        step.pages.assign(pages.begin(), pages.end());
        step.work = step.moves.size() * desk_.reach;
        step.room = until_next(show_, cue);
        step.error = plan_.error[cue];
        find_glow(step, bounds);
        find_mixed(step);
        out_.run.push_back(std::move(step));
    }

    void find_glow(RunStep& step, const submasters::Bounds& bounds) {
        for (std::size_t j = 0; j < width_; ++j) {
            if (dark(step.cue, j)) continue;
            std::int64_t product = 0;
            for (std::size_t r = 0; r < out_.recordings.size(); ++r)
                product = std::max(product, position(step.cue, r) * plan_.recordings.at(r, j));
            out_.lost += product < bounds.low.at(step.cue, j) * all_of_it ||
                         product > bounds.high.at(step.cue, j) * all_of_it;
            if (product == 0 || pictures_.cues[step.cue].wanted[j] > 0) continue;
            step.glow.push_back(pictures_.channels[j].number);
            step.brightest_glow = std::max(step.brightest_glow, (product + all_of_it - 1) / all_of_it);
        }
    }

    // Fixtures of which two recordings that are up hold colours.
    void find_mixed(RunStep& step) const {
        std::vector<std::set<std::size_t>> holders(show_.fixtures.size());
        for (std::size_t r = 0; r < out_.recordings.size(); ++r) {
            if (position(step.cue, r) == 0) continue;
            for (std::size_t j = 0; j < width_; ++j) {
                const Index p = pictures_.channels[j].parameter;
                if (plan_.recordings.at(r, j) > 0 && kind_of(j) == runtime::Kind::colour &&
                    !dark(step.cue, j))
                    holders[show_.parameters[p].fixture].insert(r);
            }
        }
        for (Index f = 0; f < holders.size(); ++f)
            if (holders[f].size() > 1) step.mixed.push_back(show::element_text(show_, {f, 0}));
    }

    void add_not_levels() {
        for (std::size_t j = 0; j < width_; ++j) {
            const auto kind = kind_of(j);
            if (kind != runtime::Kind::position && kind != runtime::Kind::beam) continue;
            for (const Recording& r : out_.recordings) {
                if (r.set[j] == 0) continue;
                out_.not_levels.push_back(pictures_.channels[j].number);
                break;
            }
        }
    }

    const show::Show& show_;
    const show::Desk& desk_;
    const show::Layout& layout_;
    const Pictures& pictures_;
    Masters masters_;
    std::size_t width_ = 0;
    submasters::Plan plan_;
    Recordings out_;
};

}  // namespace

Recordings make_recordings(const show::Show& show, const show::Desk& desk, const show::Layout& layout,
                           const Pictures& pictures) {
    return Maker(show, desk, layout, pictures).run();
}

}  // namespace tallow::desk
