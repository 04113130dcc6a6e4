// Cue lists, cues, pictures, submasters, floors and the panic look; then what ties the parts of a roll
// together.
#include <initializer_list>

#include "runtime/engine/wave_row.hpp"
#include "runtime/limits.hpp"
#include "runtime/refuse.hpp"
#include "runtime/roll/roll_check.hpp"
#include "runtime/roll/roll_io.hpp"
#include "runtime/timecode.hpp"

namespace tallow::runtime {
namespace {

Status check_timing(const Timing& timing, std::string_view where, std::size_t index) {
    for (const std::uint64_t time : {timing.delay, timing.up, timing.down})
        if (time > limits::time_ms)
            return refuse("`{}` {} has a time of {} ms; at most {}", where, index, time, limits::time_ms);
    if (timing.curve > Curve::visual) return refuse("`{}` {} has an unknown curve", where, index);
    return {};
}

}  // namespace

bool RollCheck::moves(std::uint32_t source, std::uint32_t parameter) const {
    const std::size_t waves = roll_.waves.size();
    if (source == none) return true;
    if (source < waves) return row_of(roll_.waves[source], parameter) != none;
    return source - waves < roll_.chases.size() && row_of(roll_.chases[source - waves], parameter) != none;
}

Status RollCheck::list(std::size_t index) {
    const CueList& list = roll_.lists[index];
    if (roll_.lists.size() > limits::lists) return refuse("`lists` has over {} entries", limits::lists);
    if (list.name.empty() || too_long(list.name) || !names_.insert(list.name).second)
        return refuse("`lists` {} has a name that is empty, too long or there twice", index);
    if (list.name.find_first_of(" \t\r\n") != std::string::npos)
        return refuse("`lists` {} has a name with a blank in it", index);
    const std::uint64_t due =
        index == 0 ? 0 : std::uint64_t{roll_.lists[index - 1].first} + roll_.lists[index - 1].count;
    if (list.first != due || list.count > limits::cues)
        return refuse("`lists` {} has {} cues from {} on; lists follow each other, and it would begin at {}",
                      index, list.count, list.first, due);
    return {};
}

// The list that a cue belongs to; cues are asked for in order. The number of lists, if none has it.
std::size_t RollCheck::list_of(std::size_t cue) {
    while (list_ < roll_.lists.size() &&
           cue >= std::size_t{roll_.lists[list_].first} + roll_.lists[list_].count)
        ++list_;
    return list_;
}

Status RollCheck::cue(std::size_t index) {
    const Cue& cue = roll_.cues[index];
    if (roll_.cues.size() > limits::cues) return refuse("`cues` has over {} entries", limits::cues);
    const std::size_t list = list_of(index);
    if (list == roll_.lists.size()) return refuse("`cues` {} is in none of the `lists`", index);
    if (index > roll_.lists[list].first && cue.number <= roll_.cues[index - 1].number)
        return refuse("`cues` {}: numbers grow", index);
    if (auto s = texts_and_times(cue, index); !s.ok()) return s;
    const Part part{"cues", index};
    if (auto s = starts(part, cue.starts); !s.ok()) return s;
    ++part_;
    for (const Set& set : cue.sets) {
        if (auto s = check_timing(set.timing, "sets of cues", index); !s.ok()) return s;
        if (auto s = runs(part, set.runs); !s.ok()) return s;
        if (auto s = stretches(part, set.releases); !s.ok()) return s;
        for (const Stretch& stretch : set.releases)
            for (std::uint32_t i = 0; i < stretch.count; ++i)
                if (auto s = say_once(part, stretch.parameter + i); !s.ok()) return s;
    }
    return {};
}

Status RollCheck::texts_and_times(const Cue& cue, std::size_t index) const {
    for (const std::string* text : {&cue.label, &cue.on, &cue.note, &cue.page})
        if (too_long(*text))
            return refuse("`cues` {} has a text of over {} bytes", index, limits::text_bytes);
    if (cue.next > Next::next_at) return refuse("`cues` {} has an unknown `next`", index);
    // A cue is complete after a delay and a time.
    if (cue.next_ms > limits::time_ms || cue.complete_ms > 2 * limits::time_ms)
        return refuse("`cues` {}: `next_ms` may be up to {}, `complete_ms` twice that", index,
                      limits::time_ms);
    if (cue.timecode != no_timecode && cue.timecode >= frames_per_day(roll_.timecode_rate))
        return refuse("`cues` {} has frame {} of timecode; a day has {}", index, cue.timecode,
                      frames_per_day(roll_.timecode_rate));
    for (const Timing* timing : {&cue.intensity, &cue.colour, &cue.position, &cue.beam})
        if (auto s = check_timing(*timing, "cues", index); !s.ok()) return s;
    return {};
}

Status RollCheck::starts(Part part, const std::vector<std::uint32_t>& sources) const {
    for (const std::uint32_t source : sources)
        if (source >= roll_.waves.size() + roll_.chases.size())
            return refuse("`{}` {} starts wave {}, which is not there", part.key, part.index, source);
    return {};
}

Status RollCheck::runs(Part part, const std::vector<Run>& runs) {
    for (const Run& each : runs)
        if (auto s = run(part, each); !s.ok()) return s;
    return {};
}

Status RollCheck::run(Part part, const Run& run) {
    const std::size_t n = roll_.parameters.size();
    if (run.level.empty() || run.parameter >= n || run.level.size() > n - run.parameter)
        return refuse("`{}` {} has a run of {} from parameter {}; there are {}", part.key, part.index,
                      run.level.size(), run.parameter, n);
    if (!run.wave.empty() && run.wave.size() != run.level.size())
        return refuse("`{}` {} has a run of {} levels and {} waves", part.key, part.index, run.level.size(),
                      run.wave.size());
    for (std::uint32_t i = 0; i < run.level.size(); ++i) {
        const std::uint32_t p = run.parameter + i;
        if (auto s = say_once(part, p); !s.ok()) return s;
        if (!run.wave.empty() && !moves(run.wave[i], p))
            return refuse("`{}` {} puts wave {} on parameter {}, which it does not move", part.key,
                          part.index, run.wave[i], p);
    }
    return {};
}

// A part says what becomes of a parameter once at most.
Status RollCheck::say_once(Part part, std::uint32_t parameter) {
    said_.resize(roll_.parameters.size());
    if (said_[parameter] == part_)
        return refuse("`{}` {} sets parameter {} twice", part.key, part.index, parameter);
    said_[parameter] = part_;
    return {};
}

// Growing, none empty, and within the rig.
Status RollCheck::stretches(Part part, const std::vector<Stretch>& stretches) const {
    const std::size_t n = roll_.parameters.size();
    std::size_t from = 0;
    for (const Stretch& s : stretches) {
        if (s.count == 0 || s.parameter < from || s.parameter >= n || s.count > n - s.parameter)
            return refuse("`{}` {} has {} parameters from {} on; stretches grow, and there are {}", part.key,
                          part.index, s.count, s.parameter, n);
        from = std::size_t{s.parameter} + s.count;
    }
    return {};
}

// Pictures stand in the order of their cues: of the first list, then of the second …
Status RollCheck::picture(std::size_t index) {
    const Picture& picture = roll_.pictures[index];
    if (index == 0) list_ = 0;
    const auto kept = [&] { return roll_.lists[list_].count / picture_every; };
    for (; list_ < roll_.lists.size() && index - pictures_ >= kept(); ++list_) pictures_ += kept();
    if (list_ == roll_.lists.size()) return refuse("`pictures` has over {} entries", pictures_);
    const std::size_t due = roll_.lists[list_].first + picture_every * (index - pictures_ + 1) - 1;
    if (picture.cue != due)
        return refuse("`pictures` {} is of cue {}; it would be of {}", index, picture.cue, due);
    const Part part{"pictures", index};
    if (auto s = stretches(part, picture.stated); !s.ok()) return s;
    std::size_t stated = 0;
    for (const Stretch& stretch : picture.stated) stated += stretch.count;
    if (picture.level.size() != stated || picture.wave.size() != stated)
        return refuse("`pictures` {} has columns of {} and {}; {} parameters are stated", index,
                      picture.level.size(), picture.wave.size(), stated);
    std::size_t at = 0;
    for (const Stretch& stretch : picture.stated)
        for (std::uint32_t i = 0; i < stretch.count; ++i, ++at)
            if (!moves(picture.wave[at], stretch.parameter + i))
                return refuse("`pictures` {} puts wave {} on parameter {}, which it does not move", index,
                              picture.wave[at], stretch.parameter + i);
    return {};
}

Status RollCheck::submaster(std::size_t index) {
    const Submaster& submaster = roll_.submasters[index];
    const Part part{"submasters", index};
    if (roll_.submasters.size() > limits::submasters)
        return refuse("`submasters` has over {} entries", limits::submasters);
    if (submaster.number <= (index == 0 ? 0 : roll_.submasters[index - 1].number))
        return refuse("`submasters` {}: numbers grow, from 1", index);
    if (too_long(submaster.label))
        return refuse("`submasters` {} has a label of over {} bytes", index, limits::text_bytes);
    if (auto s = starts(part, submaster.starts); !s.ok()) return s;
    ++part_;
    if (auto s = runs(part, submaster.runs); !s.ok()) return s;
    return stretches(part, submaster.jumps);
}

// A part of its own, of which nothing moves.
Status RollCheck::still_runs(std::string_view key, const std::vector<Run>& runs) {
    ++part_;
    if (auto s = this->runs({key, 0}, runs); !s.ok()) return s;
    for (const Run& run : runs)
        if (!run.wave.empty())
            return refuse("`{}` has waves in the run from parameter {}; it holds levels alone", key,
                          run.parameter);
    return {};
}

Status RollCheck::keeps() {
    if (auto s = still_runs("keeps", roll_.keeps); !s.ok()) return s;
    for (const Run& run : roll_.keeps)
        for (std::uint32_t i = 0; i < run.level.size(); ++i)
            if (roll_.parameters.kind[run.parameter + i] != Kind::intensity)
                return refuse("`keeps` holds parameter {}; it holds levels of intensities alone",
                              run.parameter + i);
    return {};
}

Status RollCheck::panic() {
    return still_runs("panic", roll_.panic);
}

Status RollCheck::response(std::size_t index) {
    if (roll_.responses.size() > limits::responses)
        return refuse("`responses` has over {} entries", limits::responses);
    if (index == 0) ++part_;  // a parameter has one of all responses
    const Response& response = roll_.responses[index];
    const std::size_t knots = response.level.size();
    if (knots < 2 || knots != response.slot.size() || knots > limits::response_knots)
        return refuse("`responses` {} has {} levels and {} slots; it has 2 to {}, as many of each", index,
                      knots, response.slot.size(), limits::response_knots);
    if (response.level.front() != 0 || response.level.back() != full)
        return refuse("`responses` {} goes from level {} to {}; it goes from 0 to {}", index,
                      response.level.front(), response.level.back(), full);
    for (std::size_t i = 1; i < knots; ++i)
        if (response.level[i] <= response.level[i - 1] || response.slot[i] < response.slot[i - 1])
            return refuse("`responses` {}: levels grow and slots never fall; knot {} does not so", index, i);
    if (auto s = stretches({"responses", index}, response.on); !s.ok()) return s;
    for (const Stretch& on : response.on) {
        for (std::uint32_t p = on.parameter; p < on.parameter + on.count; ++p) {
            if (roll_.parameters.kind[p] != Kind::intensity && roll_.parameters.kind[p] != Kind::colour)
                return refuse("`responses` {} is on parameter {}; intensities and colours alone respond",
                              index, p);
            if (auto s = say_once({"responses", index}, p); !s.ok()) return s;
        }
    }
    return {};
}

Status RollCheck::whole() {
    for (std::size_t i = 0; i < roll_.waves.size(); ++i)
        if (const auto before = roll_.waves[i].continues; before != none && before >= roll_.waves.size())
            return refuse("`waves` {} continues wave {}, which is not there", i, before);
    if (roll_.lists.empty()) return refuse("`lists` is empty; a roll has one cue list at least");
    const CueList& last = roll_.lists.back();
    if (std::size_t{last.first} + last.count != roll_.cues.size())
        return refuse("`lists` holds {} cues; there are {}", last.first + last.count, roll_.cues.size());
    std::size_t pictures = 0;
    for (const CueList& list : roll_.lists) pictures += list.count / picture_every;
    if (roll_.pictures.size() != pictures)
        return refuse("`pictures` has {} entries; there is one for each {}th cue of a list, {} in all",
                      roll_.pictures.size(), picture_every, pictures);
    return {};
}

Status validate(const Roll& roll) {
    RollCheck check(roll);
    const auto each = [](const auto& parts, auto&& one) {
        Status status;
        for (std::size_t i = 0; i < parts.size() && status.ok(); ++i) status = one(i);
        return status;
    };
    if (auto s = check.head(); !s.ok()) return s;
    if (auto s = check.universes(); !s.ok()) return s;
    if (auto s = check.parameters(); !s.ok()) return s;
    if (auto s = each(roll.waveforms, [&](std::size_t i) { return check.waveform(i); }); !s.ok()) return s;
    if (auto s = each(roll.waves, [&](std::size_t i) { return check.wave(i); }); !s.ok()) return s;
    if (auto s = each(roll.chases, [&](std::size_t i) { return check.chase(i); }); !s.ok()) return s;
    if (auto s = each(roll.lists, [&](std::size_t i) { return check.list(i); }); !s.ok()) return s;
    if (auto s = each(roll.cues, [&](std::size_t i) { return check.cue(i); }); !s.ok()) return s;
    if (auto s = each(roll.pictures, [&](std::size_t i) { return check.picture(i); }); !s.ok()) return s;
    if (auto s = each(roll.submasters, [&](std::size_t i) { return check.submaster(i); }); !s.ok()) return s;
    if (auto s = check.keeps(); !s.ok()) return s;
    if (auto s = check.panic(); !s.ok()) return s;
    if (auto s = each(roll.responses, [&](std::size_t i) { return check.response(i); }); !s.ok()) return s;
    return check.whole();
}

}  // namespace tallow::runtime
