#include "compiler/track/wave_rows.hpp"

#include <algorithm>

namespace tallow::track {
namespace {

using show::Component;
using show::Kind;

class Reach {
  public:
    Reach(const show::Show& show, const show::Wave& wave) : show_(show), wave_(wave) {}

    WaveReach take(const show::Selection& selection) {
        for (std::uint32_t member = 0; member < selection.elements.size(); ++member)
            add(selection.elements[member], member);
        const auto by_parameter = [](const WaveRow& a, const WaveRow& b) {
            return a.parameter < b.parameter;
        };
        std::stable_sort(reach_.rows.begin(), reach_.rows.end(), by_parameter);
        // A cell that is named beside its fixture counts at the first place.
        const auto same = [](const WaveRow& a, const WaveRow& b) { return a.parameter == b.parameter; };
        reach_.rows.erase(std::unique(reach_.rows.begin(), reach_.rows.end(), same), reach_.rows.end());
        return std::move(reach_);
    }

  private:
    bool moves(Kind kind) const {
        return std::any_of(wave_.components.begin(), wave_.components.end(),
                           [&](const Component& c) { return c.kind == kind; });
    }

    // The last line of the wave that names the parameter.
    Index component_of(const show::ParameterDef& def, const show::Type& type) const {
        Index found = show::none;
        for (Index i = 0; i < wave_.components.size(); ++i) {
            const Component& c = wave_.components[i];
            if (c.kind != def.kind) continue;
            const bool whole = c.kind == Kind::intensity || c.attribute == show::none;
            if (!whole && c.attribute != def.attribute) continue;
            if ((c.kind == Kind::position || c.kind == Kind::beam) && !has_ends(type, c)) continue;
            found = i;
        }
        return found;
    }

    void add(show::Element element, std::uint32_t member) {
        const show::Fixture& fixture = show_.fixtures[element.fixture];
        const show::Mode& mode = show_.mode_of(fixture);
        const show::Part& part = mode.parts[element.cell];
        for (const auto* places : {&part.intensity, &part.emitters, &part.position, &part.beam}) {
            if (places->empty() || !moves(mode.parameters[places->front()].kind)) continue;
            add_class(fixture, mode, *places, member);
        }
    }

    void add_class(const show::Fixture& fixture, const show::Mode& mode,
                   const std::vector<std::uint16_t>& places, std::uint32_t member) {
        std::vector<Index> found;
        found.reserve(places.size());
        for (const std::uint16_t place : places)
            found.push_back(component_of(mode.parameters[place], show_.type_of(fixture)));
        const bool any = std::any_of(found.begin(), found.end(), [](Index c) { return c != show::none; });
        if (!any) return;  // a member that lacks what the wave moves still counts as one
        for (std::size_t i = 0; i < places.size(); ++i) {
            const Index parameter = fixture.first_parameter + places[i];
            if (found[i] != show::none || mode.parameters[places[i]].kind == Kind::colour)
                reach_.rows.push_back({parameter, member, found[i]});
            else
                reach_.released.push_back(parameter);
        }
    }

    const show::Show& show_;
    const show::Wave& wave_;
    WaveReach reach_;
};

}  // namespace

WaveReach wave_reach(const show::Show& show, const show::Wave& wave, const show::Selection& selection) {
    return Reach(show, wave).take(selection);
}

}  // namespace tallow::track
