#include "compiler/track/targets.hpp"

namespace tallow::track {

std::span<const Steps> Targets::intensities(Index selection) {
    Stretch& stretch = intensities_of_[selection];
    if (stretch.first == show::none) add_intensities(show_.selections[selection], stretch);
    return std::span(intensities_).subspan(stretch.first, stretch.count);
}

std::span<const EmitterRun> Targets::emitters(Index selection) {
    Stretch& stretch = emitters_of_[selection];
    if (stretch.first == show::none) add_emitters(show_.selections[selection], stretch);
    return std::span(emitters_).subspan(stretch.first, stretch.count);
}

void Targets::add_intensities(const show::Selection& selection, Stretch& stretch) {
    stretch.first = static_cast<Index>(intensities_.size());
    for (const show::Element& element : selection.elements) {
        const show::Fixture& fixture = show_.fixtures[element.fixture];
        for (const std::uint16_t place : show_.mode_of(fixture).parts[element.cell].intensity) {
            const Index parameter = fixture.first_parameter + place;
            if (stretch.count > 0 && intensities_.back().extend(parameter)) continue;
            intensities_.push_back({parameter});
            ++stretch.count;
        }
    }
}

void Targets::add_emitters(const show::Selection& selection, Stretch& stretch) {
    stretch.first = static_cast<Index>(emitters_.size());
    for (const show::Element& element : selection.elements) {
        const show::Fixture& fixture = show_.fixtures[element.fixture];
        const show::Mode& mode = show_.mode_of(fixture);
        const show::Part& part = mode.parts[element.cell];
        if (part.emitters.empty() && part.wheel == show::no_place) continue;
        const Alike alike{fixture.type, fixture.balance};
        const Index first = fixture.first_parameter;
        if (stretch.count > 0 && emitters_.back().part == &part && emitters_.back().alike == alike &&
            emitters_.back().fixtures.extend(first))
            continue;
        emitters_.push_back({alike, &mode, &part, {first}});
        ++stretch.count;
    }
}

}  // namespace tallow::track
