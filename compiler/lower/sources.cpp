#include "compiler/lower/sources.hpp"

#include <array>

#include "compiler/lower/hue_waves.hpp"
#include "compiler/lower/waves.hpp"

namespace tallow::lower {

void Sources::add(const std::vector<track::WaveInstance>& instances) {
    for (std::size_t i = of_.size(); i < instances.size(); ++i)
        of_.push_back(instances[i].chase == show::none ? wave(instances[i]) : chase(instances[i]));
}

std::uint32_t Sources::of(Index instance, Index parameter) const {
    if (instance == show::none) return runtime::none;
    const Parts& parts = of_[instance];
    if (parts.numbers.size() == 1) return parts.numbers.front();
    const auto at = parts.by_parameter.find(parameter);
    return at == parts.by_parameter.end() ? runtime::none : at->second;
}

// The waveform of each of a wave's rows.
std::vector<std::uint32_t> Sources::waveforms(const track::WaveInstance& instance) {
    const show::WaveUse& use = show_.wave_uses[instance.use];
    const show::Wave& wave = show_.waves[use.wave];
    const std::uint32_t plain = waveform(lower_waveform(use.shape));
    // By component, type and balanced group.
    std::map<std::array<Index, 3>, std::vector<std::uint32_t>> turning;
    std::vector<std::uint32_t> out;
    for (const track::WaveRow& row : instance.rows) {
        out.push_back(plain);
        if (row.component == show::none || !wave.components[row.component].hue) continue;
        const show::Fixture& fixture = show_.fixtures[show_.parameters[row.parameter].fixture];
        const auto [at, fresh] = turning.try_emplace({row.component, fixture.type, fixture.balance});
        if (fresh)
            for (runtime::Waveform& form : hue_waveforms(book_.colours, {fixture.type, fixture.balance},
                                                         use.shape, wave.components[row.component]))
                at->second.push_back(waveform(std::move(form)));
        out.back() = at->second[show_.definition(row.parameter).emitter];
    }
    return out;
}

// Rows of one waveform stand together.
Sources::Parts Sources::wave(const track::WaveInstance& instance) {
    const std::vector<std::uint32_t> forms = waveforms(instance);
    const runtime::Wave all = lower_wave(show_, book_, instance, forms.empty() ? 0 : forms.front());
    std::map<std::uint32_t, runtime::Wave> by_form;
    Parts parts;
    for (std::size_t row = 0; row < forms.size(); ++row) {
        const auto [at, fresh] = by_form.try_emplace(forms[row]);
        runtime::Wave& part = at->second;
        if (fresh) {
            part.waveform = forms[row];
            part.period = all.period;
            part.continues = of(instance.continues, all.parameter[row]);
        }
        part.parameter.push_back(all.parameter[row]);
        part.low.push_back(all.low[row]);
        part.high.push_back(all.high[row]);
        part.offset.push_back(all.offset[row]);
        part.member.push_back(all.member[row]);
    }
    for (auto& [form, part] : by_form) {
        const auto number = static_cast<std::uint32_t>(roll_.waves.size());
        parts.numbers.push_back(number);
        if (by_form.size() > 1)
            for (const Index p : part.parameter) parts.by_parameter.emplace(p, number);
        roll_.waves.push_back(std::move(part));
    }
    return parts;
}

Sources::Parts Sources::chase(const track::WaveInstance& instance) {
    const show::Chase& chase = show_.chases[instance.chase];
    const track::ChasePicture& picture = book_.chase(instance.chase);
    runtime::Chase out;
    out.loop = chase.loop;
    for (const show::Chase::Step& step : chase.steps) out.steps.push_back({step.ms, step.fade_ms});
    out.parameter = picture.parameter;
    out.jumps = picture.jumps;
    out.level = picture.level;
    roll_.chases.push_back(std::move(out));
    return {{first_chase + static_cast<std::uint32_t>(roll_.chases.size() - 1)}, {}};
}

std::uint32_t Sources::waveform(runtime::Waveform wanted) {
    const auto [known, fresh] =
        waveforms_.try_emplace(wanted, static_cast<std::uint32_t>(roll_.waveforms.size()));
    if (fresh) roll_.waveforms.push_back(std::move(wanted));
    return known->second;
}

void Sources::number() {
    const auto waves = static_cast<std::uint32_t>(roll_.waves.size());
    const auto settle = [&](std::vector<std::uint32_t>& numbers) {
        for (std::uint32_t& n : numbers)
            if (n != runtime::none && n >= first_chase) n = n - first_chase + waves;
    };
    for (runtime::Cue& cue : roll_.cues) {
        settle(cue.starts);
        for (runtime::Set& set : cue.sets)
            for (runtime::Run& run : set.runs) settle(run.wave);
    }
    for (runtime::Picture& picture : roll_.pictures) settle(picture.wave);
    for (runtime::Submaster& submaster : roll_.submasters) {
        settle(submaster.starts);
        for (runtime::Run& run : submaster.runs) settle(run.wave);
    }
}

}  // namespace tallow::lower
