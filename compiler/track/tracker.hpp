// Cue states: what each cue changes, and the whole picture after it, with the line that each value came from.
#pragma once

#include <array>
#include <cstdint>
#include <map>
#include <span>
#include <unordered_map>
#include <vector>

#include "compiler/show/element_set.hpp"
#include "compiler/show/show.hpp"
#include "compiler/track/book.hpp"
#include "compiler/track/spread.hpp"
#include "compiler/track/targets.hpp"
#include "compiler/track/wave_rows.hpp"

namespace tallow::track {

// A parameter as it stands after a cue.
struct Standing {
    Level level = 0;
    bool jumps : 1 = false;   // the level belongs to a range without a scale
    bool stated : 1 = false;  // a cue gave it this level; a wave or chase over it does not
    show::Kind kind = show::Kind::beam;
    Index wave = show::none;       // into Tracker::waves, or none
    Index statement = show::none;  // that the level came from; none: at home
    Index cue = show::none;        // that brought it; none: at home
};

// A parameter that a cue sets; how it stands then is Tracker::at.
struct Change {
    Index parameter;
    std::uint32_t timing;  // into Tracker::timings
    Index statement;       // none: restored after a cue-only cue, or let go of by `block`
    show::Kind kind;
    bool jumps;  // the value before or the new one belongs to a range without a scale
};

// A wave that a cue put on a selection, or a chase that it let run.
struct WaveInstance {
    Index use;  // into Show::wave_uses; none: a chase
    Index selection;
    Index continues;                                 // the instance whose phase it takes over, or none
    std::vector<WaveRow> rows;                       // of a wave
    Index chase = show::none;                        // into Show::chases
    Index statement = show::none, cue = show::none;  // that put it on first
};

// Where a value was stated.
struct Origin {
    Index statement = show::none;  // none: at home
    Index cue = show::none;
    bool operator==(const Origin&) const = default;
};

// What a hand or a step brings in, as a cue that stands in no list.
show::Cue cue_of(const std::vector<show::Item>& items);

enum class Origins : bool { forget, keep };  // keep: Tracker::origin may be asked, for some more memory

class Tracker {
  public:
    // Plays one of the show's lists.
    Tracker(const Show& show, Book& book, Index list = 0, Origins origins = Origins::forget);
    // Plays cues that stand in no list.
    Tracker(const Show& show, Book& book, std::span<const show::Cue> cues);

    // Plays the next cue; false when there is none left.
    bool next();

    Index index() const { return index_; }  // of the cue that was played last: into Show::cues
    const show::Cue& cue() const { return cues_[index_ - first_]; }
    std::span<const Change> changes() const {
        return std::span(changes_).first(change_count_);
    }  // each parameter once
    const std::vector<runtime::Timing>& timings() const { return timings_; }
    // The four of the cue's header, by Kind, are the first.
    const std::vector<Index>& starts() const { return starts_; }                  // waves that begin in it
    const Standing& at(Index parameter) const { return parameters_[parameter]; }  // after it
    const std::vector<WaveInstance>& waves() const { return waves_; }             // of all cues so far
    bool is_chase(Index wave) const { return wave != show::none && waves_[wave].chase != show::none; }
    // Whether the list stands for the parameter: a cue of it brought what it has.
    bool stands_for(Index parameter) const { return parameters_[parameter].statement != show::none; }
    // Where a level was stated, also when a line has put a wave or a chase over it or ended one since.
    Origin origin(Index parameter) const;
    // How many emitter parameters of a fixture (a gang's leader) were given no colour yet.
    std::uint32_t uncoloured(Index fixture) const { return uncoloured_[fixture]; }
    // How many of all fixtures.
    std::size_t uncoloured() const { return all_uncoloured_; }

  private:
    // All of one parameter lies in half a cache line: a show's cues touch millions.
    struct alignas(32) Parameter : Standing {
        bool ranged : 1 = false;        // its type has ranges for it
        bool wants_colour : 1 = false;  // it shines at full where it was given no colour
        Index changed_in = show::none;  // the cue that set it last, and where in that cue's changes_
        std::uint32_t change = 0;
        Index kept_in = show::none;  // the cue-only cue that it was last kept from
    };
    struct Kept {
        Index parameter;
        Standing was;
    };

    void restore();
    void clear_all();
    // How the lines of a look are played: with their levels scaled, and for a part of the fixtures alone.
    struct Manner {
        show::Scale scale = show::whole_scale;
        const show::ElementSet* within = nullptr;
    };
    void play(const std::vector<show::Item>& items, Manner manner);
    void play(const show::Statement& statement);
    void play_members(const show::Statement& statement);
    void apply(const show::Setting& setting, const show::Selection& selection);
    void apply_level(Level level);
    void apply_colour(const show::Setting& setting);
    void apply_palette(const show::Setting& setting, const show::Selection& selection);
    void turn_wheel(const TypeColour& colour, const show::Wheel& wheel, const show::Part& part,
                    Index first_parameter);
    bool colours(const show::Palette& palette, const show::Mode& mode, const show::Part& in) const;
    // To one fixture or cell; `last` is the other end of a spread, or the setting itself.
    void apply_to_member(const show::Setting& setting, show::Element member, Share share);
    void apply_to(const show::Setting& setting, show::Element element, Share share);
    void apply_level(Level level, show::Element element);
    void apply_colour(const show::Setting& first, const show::Setting& last, show::Element element,
                      Share share);
    void apply_palette(const show::Setting& first, const show::Setting& last, show::Element element,
                       Share share);
    void apply_emitter(const show::Setting& setting, show::Element element, Level level);
    void apply_value(const show::Setting& setting, const show::Setting& last, show::Element element,
                     Share share);
    bool level_is_of_cells(show::Element whole, show::Element cell) const;
    void take_timing(std::uint32_t member);
    bool concerns(Index parameter) const;
    void apply_wave(const show::Setting& setting);
    void start_chase(Index chase);
    void end_chase(Index chase);
    // What runs on under a new value: a chase, which takes the place of whatever stands beneath it.
    Index kept_chase(Index wave) const { return is_chase(wave) ? wave : show::none; }
    void end_waves(show::Element element);
    bool level_jumps(Index parameter, Level level) const;
    void set(Index parameter, Level level, Index wave, bool jumps);
    void remember(Index parameter);
    void set_over(Index parameter, Index wave);
    void note(Index parameter, bool jumps);
    void count_colour(Index parameter, Index before, Index after);
    void add_timings(const show::Times& times);
    Index running_on(Index parameter) const;
    Index running_before(const show::WaveUse& use, Index selection, const std::vector<WaveRow>& rows) const;

    const Show& show_;
    Book& book_;
    std::span<const show::Cue> cues_;
    Index first_;  // where these stand in Show::cues
    Targets targets_;
    std::map<Index, Index> chases_;  // the instance of each that a cue let run
    std::vector<Parameter> parameters_;
    std::vector<WaveInstance> waves_;
    std::vector<Change> changes_;  // as many as there are parameters; the first count
    std::uint32_t change_count_ = 0;
    std::vector<runtime::Timing> timings_;
    std::vector<Index> starts_;
    std::vector<Kept> kept_;                   // what a cue-only cue took away
    std::unordered_map<Index, Index> let_go_;  // waves that the cue's `block` ended, by parameter
    std::vector<std::uint32_t> uncoloured_;
    std::size_t all_uncoloured_ = 0;
    Index index_ = show::none;
    bool cue_only_ = false;
    Index statement_ = show::none;    // being played
    std::uint32_t first_timing_ = 0;  // of the line being played
    Index selection_ = show::none;
    Manner manner_;
    bool keeps_origins_ = false;
    // Where levels were stated that a line only put a wave over, by parameter, that line and its cue.
    std::map<std::array<Index, 3>, Origin> stated_;
    bool by_member_ = false;           // the line has timings for each member of its selection,
    std::uint32_t member_timing_ = 0;  // from here on
    // What looks were cut down to, by what held already and by selection.
    std::map<std::pair<const show::ElementSet*, Index>, show::ElementSet> sets_;
};

// When a cue is complete, in milliseconds from its GO: the largest delay + time among its header and its
// lines.
std::uint64_t complete_time(const Show& show, const show::Cue& cue);

}  // namespace tallow::track
