#include "compiler/lower/lower.hpp"

#include <algorithm>
#include <map>

#include "compiler/lower/waves.hpp"
#include "compiler/track/tracker.hpp"

namespace tallow::lower {
namespace {

using runtime::Level;
using runtime::Roll;
using runtime::Timing;
using show::Index;
using track::Change;

class Lowerer {
  public:
    Lowerer(const show::Show& show, track::Colours& colours)
        : show_(show), colours_(colours), tracker_(show, colours) {}

    Roll run() {
        roll_.title = show_.title;
        roll_.by = show_.by;
        roll_.refresh = show_.refresh;
        add_universes();
        add_parameters();
        while (tracker_.next()) {
            roll_.cues.push_back(lower_cue());
            if ((tracker_.index() + 1) % runtime::picture_every == 0) roll_.pictures.push_back(picture());
        }
        roll_.lists.push_back({"main", 0, static_cast<std::uint32_t>(roll_.cues.size())});
        for (const track::WaveInstance& instance : tracker_.waves())
            roll_.waves.push_back(
                lower_wave(show_, colours_, instance, waveform(show_.wave_uses[instance.use].shape)));
        return std::move(roll_);
    }

  private:
    void add_universes() {
        std::vector<std::uint16_t> numbers;
        for (const show::Fixture& f : show_.fixtures) numbers.push_back(f.universe);
        std::sort(numbers.begin(), numbers.end());
        numbers.erase(std::unique(numbers.begin(), numbers.end()), numbers.end());
        for (const std::uint16_t number : numbers) roll_.universes.push_back({number, 512});
    }

    std::uint32_t universe_index(std::uint16_t number) const {
        const auto at =
            std::lower_bound(roll_.universes.begin(), roll_.universes.end(), number,
                             [](const runtime::Universe& u, std::uint16_t n) { return u.number < n; });
        return static_cast<std::uint32_t>(at - roll_.universes.begin());
    }

    void add_parameters() {
        runtime::Parameters& columns = roll_.parameters;
        for (Index p = 0; p < show_.parameters.size(); ++p) {
            const show::ParameterDef& def = show_.definition(p);
            const show::Fixture& fixture = show_.fixtures[show_.parameters[p].fixture];
            const bool is_virtual = def.coarse == 0;
            const auto slot = [&](std::uint16_t place) {
                return static_cast<std::uint16_t>(place == 0 ? 0 : fixture.address + place - 1);
            };
            columns.key.push_back(parameter_key(show_, p));
            columns.universe.push_back(is_virtual ? runtime::none : universe_index(fixture.universe));
            columns.coarse.push_back(slot(def.coarse));
            columns.fine.push_back(slot(def.fine));
            columns.home.push_back(def.home);
            columns.kind.push_back(def.kind);
            columns.under.push_back(def.under == show::no_place ? runtime::none
                                                                : fixture.first_parameter + def.under);
        }
    }

    runtime::Cue lower_cue() {
        const show::Cue& cue = show_.cues[tracker_.index()];
        runtime::Cue out;
        out.number = cue.number;
        out.label = cue.label;
        out.on = cue.on;
        out.note = cue.note;
        out.page = cue.page;
        out.next = cue.next;
        out.next_ms = cue.next_ms;
        out.complete_ms = track::complete_time(show_, cue);
        const std::vector<Timing>& timings = tracker_.timings();
        out.intensity = timings[0];
        out.colour = timings[1];
        out.position = timings[2];
        out.beam = timings[3];
        out.starts = tracker_.starts();
        out.sets = lower_sets();
        return out;
    }

    // Changes of one timing stand together, in parameter order; a value that jumps takes the delay alone.
    std::vector<runtime::Set> lower_sets() const {
        std::map<Timing, std::vector<Index>> by_timing;
        for (const Change& change : tracker_.changes()) {
            Timing timing = tracker_.timings()[change.timing];
            if (change.jumps) timing = {timing.delay, 0, 0, runtime::Curve::linear};
            by_timing[timing].push_back(change.parameter);
        }
        std::vector<runtime::Set> sets;
        for (auto& [timing, parameters] : by_timing) {
            std::sort(parameters.begin(), parameters.end());
            sets.push_back({timing, runs(parameters)});
        }
        return sets;
    }

    std::vector<runtime::Run> runs(const std::vector<Index>& parameters) const {
        std::vector<runtime::Run> runs;
        for (std::size_t i = 0; i < parameters.size();) {
            std::size_t end = i + 1;
            while (end < parameters.size() && parameters[end] == parameters[end - 1] + 1) ++end;
            runtime::Run run{parameters[i], {}, {}};
            bool waves = false;
            for (std::size_t k = i; k < end; ++k) {
                const track::Standing& standing = tracker_.at(parameters[k]);
                run.level.push_back(standing.level);
                run.wave.push_back(standing.wave);
                waves = waves || run.wave.back() != runtime::none;
            }
            if (!waves) run.wave.clear();
            runs.push_back(std::move(run));
            i = end;
        }
        return runs;
    }

    runtime::Picture picture() const {
        runtime::Picture picture;
        picture.cue = tracker_.index();
        picture.stated.push_back({0, static_cast<std::uint32_t>(show_.parameters.size())});
        for (Index p = 0; p < show_.parameters.size(); ++p) {
            picture.level.push_back(tracker_.at(p).level);
            picture.wave.push_back(tracker_.at(p).wave);
        }
        return picture;
    }

    std::uint32_t waveform(const show::WaveShape& shape) {
        runtime::Waveform wanted = lower_waveform(shape);
        const auto at = std::find(roll_.waveforms.begin(), roll_.waveforms.end(), wanted);
        const auto index = static_cast<std::uint32_t>(at - roll_.waveforms.begin());
        if (at == roll_.waveforms.end()) roll_.waveforms.push_back(std::move(wanted));
        return index;
    }

    const show::Show& show_;
    track::Colours& colours_;
    track::Tracker tracker_;
    Roll roll_;
};

}  // namespace

Roll lower(const show::Show& show, track::Colours& colours) {
    return Lowerer(show, colours).run();
}

}  // namespace tallow::lower
