#include "compiler/show/not_taken.hpp"

#include <algorithm>
#include <fmt/format.h>

#include "compiler/show/can_take.hpp"
#include "compiler/show/selection.hpp"
#include "compiler/text/decimal.hpp"

namespace tallow::show {
namespace {

// A range by its name, or `-270deg..270deg`.
std::string range_text(const Range& range) {
    const std::string_view sign = grammar::text(range.unit);
    return range.unit == Unit::none
               ? range.name
               : fmt::format("{}{}..{}{}", text::decimal(range.low), sign, text::decimal(range.high), sign);
}

// `a`, `b`: each once.
void list(std::string& into, std::string_view opening, const std::string& item) {
    const std::string quoted = fmt::format("`{}`", item);
    if (into.find(quoted) != std::string::npos) return;
    into += into.empty() ? opening : ", ";
    into += quoted;
}

struct Reason {
    std::string why, hint;
};

// Of an emitter or a parameter that the first fixture lacks, or lacks the value of.
Reason lacks(const Show& show, const std::string& selection, const Fixture& first, const Setting& setting) {
    const Type& type = show.type_of(first);
    const std::string& name = show.attributes[setting.what];
    const std::vector<ParameterDef>& slots = show.mode_of(first).parameters;
    const bool has_slot = std::any_of(slots.begin(), slots.end(),
                                      [&](const ParameterDef& p) { return p.attribute == setting.what; });
    Reason reason;
    if (const auto* ranges = type.ranges_of(setting.what); ranges != nullptr && has_slot) {
        reason.why = fmt::format("the type `{}` has no such value of `{}`", type.name, name);
        for (const Range& r : *ranges)
            if (!r.name.empty() || r.unit != Unit::none)
                list(reason.hint, "it has ", fmt::format("{} {}", name, range_text(r)));
    } else {
        reason.why = fmt::format("`{}` has no `{}`", selection, name);
        for (const ParameterDef& p : slots)
            if (p.coarse != 0) list(reason.hint, "its mode has ", show.attributes[p.attribute]);
    }
    return reason;
}

Reason reason_for(const Scope& scope, const std::string& selection, const Fixture& first,
                  const Setting& setting) {
    const Show& show = scope.show;
    const std::string_view said = scope.sources.text(setting.span);
    switch (setting.kind) {
        case Setting::Kind::colour:
        case Setting::Kind::palette:
            if (!show.mode_of(first).parts[0].emitters.empty()) break;
            return {fmt::format("`{}` has no colour to set: `{}` is of the type `{}`", selection,
                                fixture_text(first), show.type_of(first).name),
                    fmt::format("give it a level alone: `{} 60%`", selection)};
        case Setting::Kind::level:
            return {fmt::format("`{}` has no intensity", selection), ""};
        case Setting::Kind::emitter:
        case Setting::Kind::parameter:
            return lacks(show, selection, first, setting);
        case Setting::Kind::wave:
            return {fmt::format("`{}` moves nothing that `{}` has", said, selection), ""};
        default:
            break;
    }
    return {fmt::format("`{}` cannot take `{}`", selection, said), ""};
}

// A wave in metres needs to know where what it moves hangs.
void check_positions(const Show& show, Reader& reader, const Selection& selection, const Setting& setting) {
    const WaveShape& shape = show.wave_uses[setting.what].shape;
    if (!shape.along) return;
    for (const Element& e : selection.elements)
        if (!position_of(show, e, *shape.along) && can_take(show, e, setting))
            return report_no_position(show, reader, setting.span, e);
}

}  // namespace

void check_taken(Scope& scope, Reader& reader, const Statement& statement) {
    const Show& show = scope.show;
    const Selection& selection = show.selections[statement.selection];
    for (Index i = 0; i < statement.setting_count; ++i) {
        const Setting& setting = show.settings[statement.first_setting + i];
        if (setting.kind == Setting::Kind::wave) check_positions(show, reader, selection, setting);
        // Of a spread both ends have to be taken.
        const auto taken = [&](const Element& e) {
            return can_take(show, e, setting) &&
                   (setting.to == none || can_take(show, e, show.ends[setting.to]));
        };
        if (selection.elements.empty() ||
            std::any_of(selection.elements.begin(), selection.elements.end(), taken))
            continue;
        const Fixture& first = show.fixtures[selection.elements.front().fixture];
        Reason reason = reason_for(scope, selection.text, first, setting);
        reader.fault(Finding::cannot_take, setting.span, std::move(reason.why))
            .with_hint(std::move(reason.hint))
            .see(first.span, fmt::format("`{}` is patched here", fixture_text(first)));
        return;
    }
}

}  // namespace tallow::show
