#include <fmt/format.h>

#include "compiler/desk/sheet_makers.hpp"
#include "compiler/text/decimal.hpp"
#include "runtime/duration.hpp"

namespace tallow::desk {
namespace {

using emit::Sheet;
using emit::Table;

// Times of a step need not be whole milliseconds: to a thousandth of a second, and steps a minute to a tenth.
std::string step_seconds(const Chase& c) {
    const auto steps = static_cast<std::int64_t>(c.steps.steps);
    return text::decimal(text::rounded(static_cast<std::int64_t>(c.period), steps) * 1000);
}
std::string per_minute(const Chase& c) {
    const auto tenths = text::rounded(static_cast<std::int64_t>(600'000 * c.steps.steps),
                                      static_cast<std::int64_t>(c.period));
    return text::decimal(tenths * 100'000);
}

class Maker {
  public:
    Maker(const OnDesk& on, const Chases& chases) : on_(on), chases_(chases) {}

    Sheet run() {
        Sheet sheet{"chases", "Chases", {}, {}, {}};
        sheet.notes.emplace_back("blank: zero; F: full; *40: move this fader before you record");
        sheet.notes.emplace_back(
            "Record each look once, then call it in the steps that name it. While a chase runs, leave its "
            "channels down on scenes and submasters: on each channel the highest counts.");
        sheet.notes.emplace_back(
            "The time of a wave, or of a chase of the show, begins with the GO of the cue that brings it: "
            "start "
            "the desk's chase at step 1 with that GO.");
        for (const Chase& c : chases_.chases) add(sheet, c);
        sheet.tables = {std::move(chases_table_), std::move(steps_), std::move(looks_), std::move(errors_)};
        return sheet;
    }

  private:
    void add(Sheet& sheet, const Chase& c) {
        Percent worst = 0;
        for (std::size_t m = 0; m < c.channels.size(); ++m) worst = std::max(worst, c.steps.worst[m]);
        const std::string fade = c.steps.fades ? step_seconds(c) : "0";
        chases_table_.rows.push_back({std::to_string(c.number), numbers(on_.show, c.cues),
                                      std::to_string(c.steps.steps), step_seconds(c), fade, per_minute(c),
                                      seconds(c.period), error_text(worst), needed_text(c), joined(c.of)});
        for (std::size_t k = 0; k < c.steps.steps; ++k)
            steps_.rows.push_back(
                {std::to_string(c.number), std::to_string(k + 1), std::to_string(c.steps.look[k] + 1)});
        for (std::size_t m = 0; m < c.channels.size(); ++m)
            errors_.rows.push_back({std::to_string(c.number),
                                    std::to_string(on_.pictures.channels[c.channels[m]].number),
                                    error_text(c.steps.worst[m]), error_text(c.steps.mean[m])});
        add_looks(sheet, c);
    }

    void add_looks(Sheet& sheet, const Chase& c) {
        std::size_t looks = 0;
        std::vector<Percent> held(on_.width, 0);
        for (std::size_t k = 0; k < c.steps.steps; ++k) {
            if (c.steps.look[k] < looks) continue;
            ++looks;
            std::vector<Percent> set(on_.width, 0);
            std::vector<bool> moves(on_.width);
            for (std::size_t m = 0; m < c.channels.size(); ++m) {
                const std::size_t channel = c.channels[m];
                looks_.rows.push_back({std::to_string(c.number), std::to_string(looks),
                                       std::to_string(on_.pictures.channels[channel].number),
                                       text::decimal(c.steps.levels.at(k, m))});
                if (channel < on_.width) set[channel] = c.steps.levels.at(k, m);
            }
            for (std::size_t j = 0; j < on_.width; ++j) moves[j] = set[j] != held[j];
            held = set;
            sheet.cards.push_back({fmt::format("CHASE {}  LOOK {}   {}", c.number, looks, joined(c.of)),
                                   steps_text(c, looks - 1),
                                   {},
                                   faders(on_, set, moves),
                                   on_.layout.rows,
                                   {}});
        }
    }

    static std::string steps_text(const Chase& c, std::size_t look) {
        std::vector<std::uint32_t> steps;
        for (std::size_t k = 0; k < c.steps.steps; ++k)
            if (c.steps.look[k] == look) steps.push_back(static_cast<std::uint32_t>(k + 1));
        return (steps.size() == 1 ? "step " : "steps ") + ranges_text(steps);
    }

    static std::string needed_text(const Chase& c) {
        return c.steps.needed == 0 ? "" : std::to_string(c.steps.needed);
    }

    const OnDesk& on_;
    const Chases& chases_;
    Table chases_table_{"chases",
                        {{"chase", true},
                         {"cues"},
                         {"steps", true},
                         {"step_s", true},
                         {"fade_s", true},
                         {"per_minute", true},
                         {"round_s", true},
                         {"off", true},
                         {"needed", true},
                         {"waves"}},
                        {}};
    Table steps_{"steps", {{"chase", true}, {"step", true}, {"look", true}}, {}};
    Table looks_{"looks", {{"chase", true}, {"look", true}, {"channel", true}, {"level", true}}, {}, false};
    Table errors_{"chase_errors", {{"chase", true}, {"channel", true}, {"worst", true}, {"mean", true}}, {}};
};

}  // namespace

Sheet chase_sheet(const OnDesk& on, const Chases& chases) {
    return Maker(on, chases).run();
}

}  // namespace tallow::desk
