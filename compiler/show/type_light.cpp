#include "compiler/show/type_light.hpp"

#include <algorithm>
#include <fmt/format.h>

#include "compiler/colour/typical.hpp"
#include "compiler/show/values.hpp"

namespace tallow::show {

void LightReader::read_emitter(Reader& reader) {
    const auto name = reader.name("the name of an emitter");
    if (!name) return;
    const Span span = reader.last();
    const colour::TypicalEmitter* typical = colour::typical(*name);
    Emitter e{*name, {}, true, false};
    if (typical != nullptr) e = {*name, typical->emitter, typical->visible, false};
    bool placed = typical != nullptr, bright = typical != nullptr, own_place = false, own_flux = false;
    while (!reader.at_end() && !reader.muted()) {
        if (reader.take(Word::xy)) {
            const auto xy = read_xy(reader);
            if (!xy) return;
            e.light.xy = *xy;
            placed = own_place = e.visible = true;
            if (typical != nullptr && !typical->visible) bright = false;
        } else {
            const auto lumens = reader.measure(Unit::lumen, "a flux", "95 lm", 0, 1'000'000);
            if (!lumens) return;
            if (*lumens == 0) {
                reader
                    .fault(Finding::out_of_range, reader.last(),
                           "an emitter with measured light has a flux above 0")
                    .with_hint("write its lumens at full, from its data sheet: `95 lm`");
                return;
            }
            e.light.lumens = static_cast<double>(*lumens) * 1e-6;
            bright = own_flux = true;
        }
    }
    e.measured = own_place && own_flux;
    if (e.visible && (!placed || !bright)) {
        reader
            .fault(Finding::expected, span,
                   fmt::format("the emitter `{}` has no {}, and there is no typical value for it", *name,
                               placed ? "flux" : "chromaticity"))
            .with_hint(fmt::format("write `emitter {}  xy 0.31 0.33  100 lm`, from its data sheet", *name));
        return;
    }
    if (!is_new(reader, *name, span)) return;
    said_.emplace_back(scope_.attribute(*name), span);
    type_.emitters.push_back(std::move(e));
}

bool LightReader::is_new(Reader& reader, const std::string& name, Span span) {
    const bool known = std::any_of(type_.emitters.begin(), type_.emitters.end(),
                                   [&](const Emitter& e) { return e.name == name; });
    if (known)
        reader.fault(Finding::name_taken, span, fmt::format("the type has an emitter `{}` already", name));
    return !known;
}

void LightReader::read_filters(Reader& reader) {
    if (type_.filtered()) {
        reader.fault(Finding::repeated_word, reader.last(), "`filters` is said twice");
        return;
    }
    for (const Filter filter : {Filter::red, Filter::green, Filter::blue}) {
        const auto name = reader.name("the slots of three filters, such as `cyan magenta yellow`,");
        if (!name || !is_new(reader, *name, reader.last())) return;
        said_.emplace_back(scope_.attribute(*name), reader.last());
        type_.emitters.push_back({*name, {}, false, true, filter});
    }
    filters_ = reader.whole();
}

void LightReader::read_wheel(Reader& reader) {
    const auto name = reader.name("the slot of the wheel");
    if (!name) return;
    bool said = type_.wheel.attribute != none;
    reader.once(said, "wheel");
    type_.wheel.attribute = scope_.attribute(*name);
    said_.emplace_back(type_.wheel.attribute, reader.last());
    wheel_ = reader.last();
    while (!reader.at_end() && !reader.muted()) {
        const auto range = read_range(reader);
        if (!range || !add_range(reader, type_, type_.wheel.attribute, *range, *name)) return;
        if (!next_is_colour(reader)) continue;
        const auto colour = read_colour(reader);
        if (!colour) return;
        type_.wheel.slots.push_back({range->name, range->middle(), colour->xy});
    }
    if (type_.wheel.slots.empty() && !reader.muted())
        reader.expected("colours of the wheel, such as `open 0..9 6500K  amber 10..19 #ffb000`,");
}

// A colour is made in one way.
void LightReader::settle(Reader& header) {
    if (type_.filtered() && type_.emitters.size() > 3)
        header
            .fault(Finding::unexpected, filters_,
                   fmt::format("the type has the emitter `{}` beside its filters",
                               std::find_if(type_.emitters.begin(), type_.emitters.end(),
                                            [](const Emitter& e) { return e.filter == Filter::no; })
                                   ->name))
            .with_hint("filters make their colours before one white lamp: leave its `emitter` away");
}

std::uint16_t LightReader::emitter_of(Index attribute) {
    const std::string& name = scope_.show.attributes[attribute];
    const auto at = std::find_if(type_.emitters.begin(), type_.emitters.end(),
                                 [&](const Emitter& e) { return e.name == name; });
    if (at != type_.emitters.end()) return static_cast<std::uint16_t>(at - type_.emitters.begin());
    const colour::TypicalEmitter* typical = type_.filtered() ? nullptr : colour::typical(name);
    if (typical == nullptr) return no_place;
    type_.emitters.push_back({name, typical->emitter, typical->visible, false});
    return static_cast<std::uint16_t>(type_.emitters.size() - 1);
}

}  // namespace tallow::show
