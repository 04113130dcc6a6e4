#include "compiler/fit/history.hpp"

#include <algorithm>

#include "compiler/fit/constants.hpp"
#include "compiler/fit/source_marks.hpp"
#include "runtime/engine/wide.hpp"

namespace tallow::fit {
namespace {

using runtime::Kind;
using runtime::none;
using runtime::Roll;

// What is said of a parameter by whom: what keeps two statements of equal words apart.
enum class Voice : std::uint64_t { cue, release, submaster, floor, panic, response };

class Writer {
  public:
    explicit Writer(const Roll& roll) : roll_(roll), sources_(roll), histories_(roll.parameters.size()) {}

    std::vector<History> run() {
        const runtime::Parameters& rig = roll_.parameters;
        for (std::uint32_t p = 0; p < histories_.size(); ++p) {
            histories_[p].mark.add(static_cast<std::uint64_t>(rig.kind[p]));
            histories_[p].mark.add(rig.home[p]);
        }
        for (std::uint32_t cue = 0; cue < roll_.cues.size(); ++cue) take_cue(cue);
        for (std::uint32_t i = 0; i < roll_.submasters.size(); ++i) take_submaster(i);
        for (const runtime::Run& run : roll_.keeps) take_run(run, begin(Voice::floor));
        for (const runtime::Run& run : roll_.panic) take_run(run, begin(Voice::panic));
        for (const runtime::Response& response : roll_.responses) take_response(response);
        return std::move(histories_);
    }

  private:
    static Mark begin(Voice voice) {
        Mark mark;
        mark.add(static_cast<std::uint64_t>(voice));
        return mark;
    }

    void take_cue(std::uint32_t index) {
        for (const runtime::Set& set : roll_.cues[index].sets) {
            for (const bool release : {false, true}) {
                Mark said = begin(release ? Voice::release : Voice::cue);
                said.add(index);
                said.add(set.timing.delay);
                said.add(set.timing.up);
                said.add(set.timing.down);
                said.add(static_cast<std::uint64_t>(set.timing.curve));
                if (!release)
                    for (const runtime::Run& run : set.runs) take_run(run, said);
                else
                    for (const runtime::Stretch& s : set.releases) add_all(s, said);
            }
        }
    }

    void take_submaster(std::uint32_t index) {
        const runtime::Submaster& submaster = roll_.submasters[index];
        Mark said = begin(Voice::submaster);
        said.add(index);
        for (const runtime::Run& run : submaster.runs) take_run(run, said);
        said.add(1);
        for (const runtime::Stretch& s : submaster.jumps) add_all(s, said);
    }

    void take_response(const runtime::Response& response) {
        Mark said = begin(Voice::response);
        for (const Level level : response.level) said.add(level);
        for (const Level slot : response.slot) said.add(slot);
        for (const runtime::Stretch& s : response.on) add_all(s, said);
    }

    void take_run(const runtime::Run& run, const Mark& said) {
        for (std::uint32_t i = 0; i < run.level.size(); ++i) {
            Mark& mark = histories_[run.parameter + i].mark;
            mark.add(said);
            mark.add(run.level[i]);
            if (!run.wave.empty() && run.wave[i] != none)
                mark.add(sources_.on(run.wave[i], run.parameter + i));
        }
    }

    void add_all(const runtime::Stretch& stretch, const Mark& said) {
        for (std::uint32_t i = 0; i < stretch.count; ++i) histories_[stretch.parameter + i].mark.add(said);
    }

    const Roll& roll_;
    SourceMarks sources_;
    std::vector<History> histories_;
};

}  // namespace

// A word goes into each half by a multiplication of 64 to 128 bits, both halves of which are kept.
void Mark::add(std::uint64_t word) {
    const runtime::UnsignedWide x = runtime::UnsignedWide{a ^ word} * 0x9e3779b97f4a7c15;
    const runtime::UnsignedWide y =
        runtime::UnsignedWide{b ^ (word + 0xbf58476d1ce4e5b9)} * 0xd6e8feb86659fd93;
    a = static_cast<std::uint64_t>(x) ^ static_cast<std::uint64_t>(y >> 64);
    b = static_cast<std::uint64_t>(y) ^ static_cast<std::uint64_t>(x >> 64);
}

std::vector<History> histories_of(const Roll& roll) {
    std::vector<History> histories = Writer(roll).run();
    find_constants(roll, histories);
    return histories;
}

}  // namespace tallow::fit
