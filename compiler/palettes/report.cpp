#include "compiler/palettes/report.hpp"

#include <algorithm>
#include <map>
#include <numeric>
#include <utility>

#include "compiler/palettes/shown.hpp"
#include "compiler/show/can_take.hpp"

namespace tallow::palettes {
namespace {

using show::none;
using show::Setting;

// Distances in millionths, so that the last bits of those that are reached decide nothing.
std::int64_t steps(std::optional<double> off) {
    return static_cast<std::int64_t>(off.value_or(0) * 1e6 + 0.5);
}

class Reporter {
  public:
    Reporter(const Show& show, track::Colours& colours, std::vector<Index> desks)
        : show_(show), colours_(colours), asked_(colours.asked()), kind_of_(show.fixtures.size(), none) {
        report_.kinds = kinds_in_use(show);
        report_.desks = std::move(desks);
        for (Index k = 0; k < report_.kinds.size(); ++k)
            for (const Index fixture : report_.kinds[k].fixtures) kind_of_[fixture] = k;
    }

    Report make() {
        for (Index p = 0; p < show_.palettes.size(); ++p)
            if (!show_.palettes[p].of_fixtures) add_palette(p);
        add_colours_of_lines();
        return std::move(report_);
    }

  private:
    // The palette on kinds of which some fixture takes it as it stands, then what its own lines say.
    void add_palette(Index palette) {
        std::map<Index, std::vector<Index>> own;  // by palette, so by line
        std::vector<std::size_t> differing(report_.kinds.size(), 0);
        for (const auto& [element, other] : show_.palettes[palette].differs) {
            if (kind_of_[element.first] == none) continue;
            own[other].push_back(element.first);
            ++differing[kind_of_[element.first]];
        }
        std::vector<Index> kinds;
        for (Index k = 0; k < report_.kinds.size(); ++k)
            if (differing[k] < report_.kinds[k].fixtures.size()) kinds.push_back(k);
        add_entry(palette, kinds, {});
        for (auto& [line, fixtures] : own) {
            std::vector<Index> theirs;
            for (const Index fixture : fixtures) theirs.push_back(kind_of_[fixture]);
            std::sort(theirs.begin(), theirs.end());
            theirs.erase(std::unique(theirs.begin(), theirs.end()), theirs.end());
            add_entry(line, theirs, std::move(fixtures));
        }
    }

    void add_entry(Index palette, const std::vector<Index>& kinds, std::vector<Index> fixtures) {
        const show::Palette& p = show_.palettes[palette];
        if (!p.coloured) return;
        Entry entry{p.name, true, std::move(fixtures), target_of(p), {}, {}};
        Setting setting;
        setting.kind = Setting::Kind::palette;
        setting.what = palette;
        setting.span = p.span;
        for (const Index k : kinds)
            if (takes(report_.kinds[k], p))
                entry.on.push_back(
                    show_on(show_, report_, k, colours_.on(report_.kinds[k].alike, setting), entry.target));
        finish(std::move(entry));
    }

    std::optional<colour::Chromaticity> target_of(const show::Palette& p) const {
        for (Index i = 0; i < p.setting_count; ++i) {
            const Setting& s = show_.settings[p.first_setting + i];
            if (s.kind == Setting::Kind::colour) return show_.colours[s.what].xy;
        }
        return std::nullopt;
    }

    // Whether some mode of the kind takes the palette's colour; its other values do not matter.
    bool takes(const Kind& kind, const show::Palette& p) const {
        for (Index i = 0; i < p.setting_count; ++i) {
            const Setting& s = show_.settings[p.first_setting + i];
            if (s.kind != Setting::Kind::colour && s.kind != Setting::Kind::emitter) continue;
            for (const Index fixture : kind.examples)
                if (can_take(show_, {fixture, 0}, s)) return true;
        }
        return false;
    }

    void add_colours_of_lines() {
        std::vector<Entry> entries;
        std::map<std::string, std::size_t> place;  // by text
        for (const auto& asked : asked_) {
            if (asked.palette) continue;
            const auto kind = std::find_if(report_.kinds.begin(), report_.kinds.end(),
                                           [&](const Kind& k) { return k.alike == asked.fixtures; });
            if (kind == report_.kinds.end()) continue;
            const auto k = static_cast<Index>(kind - report_.kinds.begin());
            const show::ColourTarget& colour = show_.colours[asked.what];
            const auto [at, first] = place.emplace(colour.text, entries.size());
            if (first) entries.push_back({colour.text, false, {}, colour.xy, {}, {}});
            std::vector<Shown>& on = entries[at->second].on;
            const bool known = std::any_of(on.begin(), on.end(), [&](const Shown& s) { return s.kind == k; });
            if (!known) on.push_back(show_on(show_, report_, k, *asked.colour, colour.xy));
        }
        for (Entry& entry : entries) {
            std::sort(entry.on.begin(), entry.on.end(),
                      [](const Shown& a, const Shown& b) { return a.kind < b.kind; });
            finish(std::move(entry));
        }
    }

    void finish(Entry entry) {
        double most = 0;
        for (const Shown& s : entry.on) most = std::max(most, s.lumens);
        for (Shown& s : entry.on)
            if (most > 0) s.share = s.lumens / most;
        compare(entry);
        report_.entries.push_back(std::move(entry));
    }

    static void compare(Entry& entry) {
        std::vector<std::size_t> order;
        for (std::size_t i = 0; i < entry.on.size(); ++i)
            if (entry.on[i].xy) order.push_back(i);
        std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
            const Shown &one = entry.on[a], &other = entry.on[b];
            return entry.target ? steps(one.off) < steps(other.off) : one.lumens > other.lumens;
        });
        for (const std::size_t i : order) {
            const auto joins = [&](const std::vector<std::size_t>& group) {
                return std::all_of(group.begin(), group.end(), [&](std::size_t other) {
                    return colour::distance_uv(*entry.on[i].xy, *entry.on[other].xy) <= agreed;
                });
            };
            auto group = std::find_if(entry.groups.begin(), entry.groups.end(), joins);
            if (group == entry.groups.end()) group = entry.groups.insert(group, std::vector<std::size_t>{});
            group->push_back(i);
        }
    }

    const Show& show_;
    track::Colours& colours_;
    std::vector<track::Colours::Asked> asked_;  // by lines, before this asks for more
    std::vector<Index> kind_of_;                // by fixture
    Report report_;
};

}  // namespace

Report make_report(const Show& show, track::Colours& colours, std::vector<Index> desks,
                   std::vector<check::TypicalUse> typical) {
    Report report = Reporter(show, colours, std::move(desks)).make();
    report.typical = std::move(typical);
    return report;
}

}  // namespace tallow::palettes
