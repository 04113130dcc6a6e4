#include "compiler/track/targets.hpp"

namespace tallow::track {

const std::vector<Index>& Targets::intensities(Index selection) {
    Lists& lists = of_[selection];
    if (!lists.intensities) find_intensities(show_.selections[selection], lists);
    return *lists.intensities;
}

const std::vector<EmitterRun>& Targets::emitters(Index selection) {
    Lists& lists = of_[selection];
    if (!lists.runs) find_emitters(show_.selections[selection], lists);
    return *lists.runs;
}

void Targets::find_intensities(const show::Selection& selection, Lists& lists) const {
    auto& found = lists.intensities.emplace();
    for (const show::Element& element : selection.elements) {
        const show::Fixture& fixture = show_.fixtures[element.fixture];
        for (const std::uint16_t place : show_.mode_of(fixture).parts[element.cell].intensity)
            found.push_back(fixture.first_parameter + place);
    }
}

void Targets::find_emitters(const show::Selection& selection, Lists& lists) const {
    std::vector<std::size_t> starts;  // of runs, in lists.emitters
    std::vector<Index> types;
    const show::Part* before = nullptr;
    for (const show::Element& element : selection.elements) {
        const show::Fixture& fixture = show_.fixtures[element.fixture];
        const show::Mode& mode = show_.mode_of(fixture);
        const show::Part& part = mode.parts[element.cell];
        if (part.emitters.empty()) continue;
        if (&part != before) {
            starts.push_back(lists.emitters.size());
            types.push_back(fixture.type);
            before = &part;
        }
        for (const std::uint16_t place : part.emitters)
            lists.emitters.push_back({fixture.first_parameter + place, mode.parameters[place].emitter});
    }
    starts.push_back(lists.emitters.size());
    auto& runs = lists.runs.emplace();
    for (std::size_t i = 0; i < types.size(); ++i)
        runs.push_back({types[i], std::span(lists.emitters).subspan(starts[i], starts[i + 1] - starts[i])});
}

}  // namespace tallow::track
