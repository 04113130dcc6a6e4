#include "compiler/lower/sources.hpp"

#include <algorithm>

#include "compiler/lower/waves.hpp"

namespace tallow::lower {

void Sources::add(const std::vector<track::WaveInstance>& instances) {
    for (std::size_t i = of_.size(); i < instances.size(); ++i)
        of_.push_back(instances[i].chase == show::none ? wave(instances[i]) : chase(instances[i]));
}

std::uint32_t Sources::wave(const track::WaveInstance& instance) {
    runtime::Wave wave = lower_wave(show_, colours_, instance, waveform(show_.wave_uses[instance.use].shape));
    wave.continues = of(instance.continues);
    roll_.waves.push_back(std::move(wave));
    return static_cast<std::uint32_t>(roll_.waves.size() - 1);
}

std::uint32_t Sources::chase(const track::WaveInstance& instance) {
    const show::Chase& chase = show_.chases[instance.chase];
    track::ChasePicture picture = track::chase_picture(show_, colours_, chase);
    runtime::Chase out;
    out.loop = chase.loop;
    for (const show::Chase::Step& step : chase.steps) out.steps.push_back({step.ms, step.fade_ms});
    out.parameter = std::move(picture.parameter);
    out.jumps = std::move(picture.jumps);
    out.level = std::move(picture.level);
    roll_.chases.push_back(std::move(out));
    return first_chase + static_cast<std::uint32_t>(roll_.chases.size() - 1);
}

std::uint32_t Sources::waveform(const show::WaveShape& shape) {
    runtime::Waveform wanted = lower_waveform(shape);
    const auto at = std::find(roll_.waveforms.begin(), roll_.waveforms.end(), wanted);
    const auto index = static_cast<std::uint32_t>(at - roll_.waveforms.begin());
    if (at == roll_.waveforms.end()) roll_.waveforms.push_back(std::move(wanted));
    return index;
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
