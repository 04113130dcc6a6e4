#include "compiler/fit/light.hpp"

#include <algorithm>

namespace tallow::fit {
namespace {

using runtime::Kind;
using runtime::none;

// A level that is known goes by itself, so that two ways to hold it are the same.
Mark mark_of(const History& history) {
    if (!history.always) return history.mark;
    Mark mark;
    mark.add(*history.always);
    return mark;
}

class Maker {
  public:
    Maker(const runtime::Roll& roll, const std::vector<History>& histories)
        : rig_(roll.parameters), histories_(histories) {}

    // What shines: a product of levels, some of which are multiplied before they are rounded to a slot.
    void shine(std::uint32_t p, Output& out) const {
        std::vector<Mark> together;  // on the slot that is being gone through
        std::uint32_t slot = p;
        for (std::uint32_t at = p; at != none; at = rig_.under[at]) {
            if (histories_[at].always == Level{0}) {
                out.always = 0;
                out.slots.clear();
                out.parts.clear();
                return;
            }
            if (at != p && rig_.coarse[at] != 0) {  // a slot of its own
                close(slot, together, out);
                slot = at;
            }
            if (histories_[at].always == runtime::full) continue;
            together.push_back(mark_of(histories_[at]));
            out.parts.push_back(together.back());
        }
        close(slot, together, out);
        std::sort(out.slots.begin(), out.slots.end());
        std::sort(out.parts.begin(), out.parts.end());
        if (out.slots.empty()) out.always = runtime::full;
    }

    // All else: its value, and what decides whether it moves in the dark.
    void stand(std::uint32_t p, Output& out) const {
        out.always = histories_[p].always;
        if (out.always) return;
        for (std::uint32_t at = rig_.under[p]; at != none; at = rig_.under[at])
            if (histories_[at].always != runtime::full) out.slots.push_back(mark_of(histories_[at]));
        std::sort(out.slots.begin(), out.slots.end());
        Mark own = mark_of(histories_[p]);
        out.parts = out.slots;
        out.parts.push_back(own);
        own.add(rig_.fine[p] != 0);
        out.slots.insert(out.slots.begin(), own);
    }

  private:
    void close(std::uint32_t slot, std::vector<Mark>& together, Output& out) const {
        if (together.empty()) return;
        std::sort(together.begin(), together.end());
        Mark mark;
        mark.add(rig_.fine[slot] != 0);
        for (const Mark& m : together) mark.add(m);
        out.slots.push_back(mark);
        together.clear();
    }

    const runtime::Parameters& rig_;
    const std::vector<History>& histories_;
};

// What a mode without the slot does.
bool is_nothing(const Output& output) {
    return output.always == (output.shines ? Level{0} : output.home);
}

}  // namespace

std::vector<Output> outputs_of(const show::Show& show, const runtime::Roll& roll,
                               const std::vector<History>& histories, Index fixture) {
    const show::Fixture& f = show.fixtures[fixture];
    const show::Mode& mode = show.mode_of(f);
    const Maker maker(roll, histories);
    // Filters stand before a lamp, and its intensity is what shines.
    const bool emits = !show.type_of(f).filtered();
    std::vector<Output> outputs;
    for (std::uint16_t place = 0; place < mode.parameters.size(); ++place) {
        const show::ParameterDef& def = mode.parameters[place];
        const bool scales =
            std::any_of(mode.parameters.begin(), mode.parameters.end(), [&](const show::ParameterDef& d) {
                return d.under == place && ((d.kind == Kind::colour && emits) || d.kind == Kind::intensity);
            });
        if (def.kind == Kind::intensity && (scales || def.coarse == 0)) continue;
        const bool shines = def.kind == Kind::intensity || (def.kind == Kind::colour && emits);
        Output out{def.attribute, def.cell, shines, def.home, {}, {}, {}, def.emitter, {}};
        for (std::uint32_t p = f.first_parameter + place; p != none; p = roll.parameters.under[p])
            out.parameters.push_back(p);
        if (out.shines)
            maker.shine(f.first_parameter + place, out);
        else
            maker.stand(f.first_parameter + place, out);
        outputs.push_back(std::move(out));
    }
    std::sort(outputs.begin(), outputs.end(), [](const Output& a, const Output& b) {
        return std::pair(a.attribute, a.cell) < std::pair(b.attribute, b.cell);
    });
    return outputs;
}

std::uint16_t cell_in(std::uint16_t cell, std::uint16_t from, std::uint16_t to) {
    if (cell == 0 || to == 0) return 0;
    return static_cast<std::uint16_t>((cell - 1) * to / from + 1);
}

const Output* counterpart(const std::vector<Output>& outputs, const Output& output, std::uint16_t from,
                          std::uint16_t to) {
    const std::uint16_t cell = cell_in(output.cell, from, to);
    const auto at = std::find_if(outputs.begin(), outputs.end(), [&](const Output& o) {
        return o.attribute == output.attribute && o.cell == cell;
    });
    return at == outputs.end() ? nullptr : &*at;
}

bool same_light(const std::vector<Output>& before, std::uint16_t from, const std::vector<Output>& after,
                std::uint16_t to) {
    std::vector<bool> met(after.size());
    for (const Output& old : before) {
        const Output* now = counterpart(after, old, from, to);
        if (now == nullptr) {
            if (!is_nothing(old)) return false;
            continue;
        }
        met[static_cast<std::size_t>(now - after.data())] = true;
        if (old.always != now->always || old.slots != now->slots) return false;
    }
    for (std::size_t i = 0; i < after.size(); ++i)
        if (!met[i] && !is_nothing(after[i])) return false;
    return true;
}

}  // namespace tallow::fit
