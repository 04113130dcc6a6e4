#include "tests/support/random_roll.hpp"

#include <algorithm>
#include <array>
#include <string>

#include "runtime/engine/picture.hpp"
#include "runtime/engine/wave_row.hpp"
#include "tests/support/random.hpp"

namespace tallow::test {
namespace {

using namespace runtime;

class Maker {
  public:
    explicit Maker(std::uint64_t seed) : random_(seed) {}
    ExactRoll make();

  private:
    void add_fixture(std::uint32_t universe);
    std::uint32_t add_parameter(Kind kind, std::uint32_t universe, bool wide, std::uint32_t under);
    void add_shapes();
    void add_wave();
    void add_chase();
    void add_list(std::uint32_t index);
    void add_cue(std::uint32_t number);
    void add_run(std::vector<Run>& runs, std::uint32_t first, std::uint32_t count,
                 std::vector<std::uint32_t>& starts);
    void add_release(Set& set, std::uint32_t first, std::uint32_t count);
    void add_submaster(std::uint32_t number);
    void add_keeps();
    void add_panic();
    void add_response();
    template <class Each>
    void each_part(Each each);
    bool moves(std::uint32_t source, std::uint32_t parameter) const;
    Level level();
    Timing timing();
    std::uint64_t time();

    Random random_;
    ExactRoll out_;
    std::array<std::uint16_t, 2> next_slot_{1, 1};
    std::vector<bool> begun_;   // by wave, then by chase
    std::vector<bool> stands_;  // by parameter: the list that is being made stands for it
};

std::uint32_t Maker::add_parameter(Kind kind, std::uint32_t universe, bool wide, std::uint32_t under) {
    Parameters& rig = out_.roll.parameters;
    const auto p = static_cast<std::uint32_t>(rig.size());
    rig.key.push_back("fixture/" + std::to_string(p));
    rig.universe.push_back(universe);
    std::uint16_t coarse = 0, fine = 0;
    if (universe != none) {
        coarse = next_slot_[universe]++;
        if (wide) fine = next_slot_[universe]++;
        if (wide && random_.one_in(3)) std::swap(coarse, fine);
    }
    rig.coarse.push_back(coarse);
    rig.fine.push_back(fine);
    rig.kind.push_back(kind);
    // Under a real master, an intensity is full from the beginning.
    const bool is_full = kind == Kind::colour || (kind == Kind::intensity && under != none);
    rig.home.push_back(kind == Kind::position ? 32768 : is_full ? full : 0);
    rig.under.push_back(under);
    return p;
}

void Maker::add_fixture(std::uint32_t universe) {
    const bool is_virtual = random_.one_in(2), wide = random_.one_in(2);
    const std::uint32_t master =
        random_.one_in(4) ? add_parameter(Kind::intensity, universe, wide, none) : none;
    const std::uint32_t intensity =
        add_parameter(Kind::intensity, is_virtual ? none : universe, wide && !is_virtual, master);
    for (int i = 0; i < 3; ++i) add_parameter(Kind::colour, universe, wide && i == 0, intensity);
    if (random_.one_in(2)) add_parameter(Kind::position, universe, true, is_virtual ? none : intensity);
    if (random_.one_in(2)) add_parameter(Kind::beam, universe, false, is_virtual ? none : intensity);
}

void Maker::add_shapes() {
    using Form = Shape::Form;
    for (const Form form :
         {Form::sine, Form::triangle, Form::rise, Form::fall, Form::square, Form::points, Form::flicker}) {
        Shape shape;
        shape.form = form;
        shape.duty = Rational(1 + random_.below(9), 10);
        shape.seed = random_.bits();
        Rational at = 0;
        for (int i = 0; i < 4; ++i) {
            shape.points.push_back({at, level()});
            at = at + Rational(1 + random_.below(7), 30);
        }
        out_.shapes.push_back(shape);
        out_.roll.waveforms.push_back(shape.waveform());
    }
}

void Maker::add_wave() {
    Roll& roll = out_.roll;
    Wave wave;
    wave.waveform = random_.below(static_cast<std::uint32_t>(roll.waveforms.size()));
    wave.period = 20 + random_.below(3000u);
    const auto earlier = static_cast<std::uint32_t>(roll.waves.size());
    if (earlier > 0 && random_.one_in(3)) wave.continues = random_.below(earlier);
    // One more link would make the fractions of the model too long.
    if (wave.continues != none && roll.waves[wave.continues].continues != none) wave.continues = none;
    std::vector<Rational> offsets;
    const std::int64_t wavelength = 1 + random_.below(8);
    const std::uint32_t each = 1 + random_.below(4u);  // parameters of one member, which share its phase
    for (std::uint32_t p = 0; p < roll.parameters.size(); ++p) {
        if (random_.one_in(3)) continue;
        const bool additive = roll.parameters.kind[p] == Kind::position;
        const auto end = [&] { return random_.below(additive ? 60001 : 65536) - (additive ? 30000 : 0); };
        const auto member = static_cast<std::uint32_t>(wave.parameter.size()) / each;
        const Rational own_phase(each > 1 ? 0 : random_.below(4) * 90, 360);
        offsets.push_back((Rational(-static_cast<std::int64_t>(member), wavelength) + own_phase).fraction());
        wave.member.push_back(member);
        wave.parameter.push_back(p);
        wave.low.push_back(end());
        wave.high.push_back(random_.one_in(4) && !additive ? 65535 : end());
        wave.offset.push_back(offsets.back().phase());
    }
    roll.waves.push_back(std::move(wave));
    out_.offsets.push_back(std::move(offsets));
}

Level Maker::level() {
    constexpr std::array<Level, 4> common{0, full, 32768, 13107};
    return random_.one_in(3) ? static_cast<Level>(random_.below(65536)) : random_.one_of(common);
}

std::uint64_t Maker::time() {
    return random_.one_in(4) ? 0 : random_.below(20u) * 50 + random_.below(2u);
}

Timing Maker::timing() {
    const std::uint64_t up = time();
    return {random_.one_in(2) ? 0 : time(), up, random_.one_in(2) ? up : time(),
            static_cast<Curve>(random_.below(3))};
}

bool Maker::moves(std::uint32_t source, std::uint32_t parameter) const {
    const Roll& roll = out_.roll;
    const std::size_t waves = roll.waves.size();
    if (source == none) return false;
    return (source < waves ? row_of(roll.waves[source], parameter)
                           : row_of(roll.chases[source - waves], parameter)) != none;
}

void Maker::add_chase() {
    const Roll& roll = out_.roll;
    Chase chase;
    chase.loop = random_.one_in(2);
    const std::uint32_t steps = 1 + random_.below(4u);
    for (std::uint32_t i = 0; i < steps; ++i) {
        const std::uint64_t ms = 1 + random_.below(900u);
        chase.steps.push_back({ms, random_.one_in(3) ? 0 : random_.below(ms + 1)});
    }
    for (std::uint32_t p = 0; p < roll.parameters.size(); ++p) {
        if (random_.one_in(3)) continue;
        chase.parameter.push_back(p);
        chase.jumps.push_back(random_.one_in(5));
    }
    const std::size_t n = chase.parameter.size();
    const bool no_light = random_.one_in(6);
    for (std::size_t i = 0; i < steps * n; ++i)
        chase.level.push_back(
            no_light && roll.parameters.kind[chase.parameter[i % n]] == Kind::intensity ? Level{0} : level());
    out_.roll.chases.push_back(std::move(chase));
}

void Maker::add_run(std::vector<Run>& runs, std::uint32_t first, std::uint32_t count,
                    std::vector<std::uint32_t>& starts) {
    Run run{first, {}, {}};
    const auto source = random_.one_in(2) ? random_.below(static_cast<std::uint32_t>(begun_.size())) : none;
    bool any = false;
    for (std::uint32_t p = first; p < first + count; ++p) {
        run.level.push_back(level());
        run.wave.push_back(moves(source, p) ? source : none);
        any = any || moves(source, p);
    }
    if (!any) run.wave.clear();
    if (any && (!begun_[source] || random_.one_in(8))) {
        if (!random_.one_in(5)) starts.push_back(source);  // else it begins by being stated
        begun_[source] = true;
    }
    runs.push_back(std::move(run));
}

void Maker::add_release(Set& set, std::uint32_t first, std::uint32_t count) {
    for (std::uint32_t p = first; p < first + count; ++p)
        if (stands_[p]) {
            set.releases.push_back({p, 1});
            stands_[p] = false;
        }
}

// Goes through the rig in short stretches.
template <class Each>
void Maker::each_part(Each each) {
    const auto n = static_cast<std::uint32_t>(out_.roll.parameters.size());
    for (std::uint32_t p = 0; p < n;) {
        const std::uint32_t count = std::min(n - p, 1 + random_.below(6u));
        each(p, count);
        p += count;
    }
}

void Maker::add_cue(std::uint32_t number) {
    Cue cue;
    cue.number = number;
    const std::array<Next, 5> nexts{Next::go, Next::go, Next::go, Next::follow, Next::next_at};
    cue.next = random_.one_of(nexts);
    cue.next_ms = time();
    if (random_.one_in(4)) cue.timecode = random_.below(200u);
    for (Timing* t : {&cue.intensity, &cue.colour, &cue.position, &cue.beam}) *t = timing();
    cue.sets.resize(3);
    for (Set& set : cue.sets) set.timing = timing();
    each_part([&](std::uint32_t first, std::uint32_t count) {
        Set& set = cue.sets[random_.below(3u)];
        if (!random_.one_in(3)) {
            add_run(set.runs, first, count, cue.starts);
            std::fill_n(stands_.begin() + first, count, true);
        } else if (random_.one_in(3)) {
            add_release(set, first, count);
        }
    });
    for (const Set& set : cue.sets)
        cue.complete_ms =
            std::max(cue.complete_ms, set.timing.delay + std::max(set.timing.up, set.timing.down));
    out_.roll.cues.push_back(std::move(cue));
}

void Maker::add_list(std::uint32_t index) {
    Roll& roll = out_.roll;
    const auto first = static_cast<std::uint32_t>(roll.cues.size());
    const std::uint32_t cues = random_.one_in(10) ? 70 : 1 + random_.below(12u);
    stands_.assign(roll.parameters.size(), false);
    for (std::uint32_t i = 1; i <= cues; ++i) add_cue(i * 1000);
    roll.lists.push_back({"list/" + std::to_string(index), first, cues});
    for (std::uint32_t i = picture_every - 1; i < cues; i += picture_every) {
        Tracked tracked;
        fold_picture(roll, first + i, tracked);
        roll.pictures.push_back(pack_picture(first + i, tracked));
    }
}

void Maker::add_submaster(std::uint32_t number) {
    Submaster submaster;
    submaster.number = number;
    each_part([&](std::uint32_t first, std::uint32_t count) {
        if (!random_.one_in(3)) return;
        add_run(submaster.runs, first, count, submaster.starts);
        if (random_.one_in(3)) submaster.jumps.push_back({first, 1});
    });
    out_.roll.submasters.push_back(std::move(submaster));
}

void Maker::add_keeps() {
    const Parameters& rig = out_.roll.parameters;
    for (std::uint32_t p = 0; p < rig.size(); ++p)
        if (rig.kind[p] == Kind::intensity && random_.one_in(3))
            out_.roll.keeps.push_back({p, {level()}, {}});
}

void Maker::add_panic() {
    each_part([&](std::uint32_t first, std::uint32_t count) {
        if (random_.one_in(2)) return;
        Run run{first, {}, {}};
        for (std::uint32_t i = 0; i < count; ++i) run.level.push_back(level());
        out_.roll.panic.push_back(std::move(run));
    });
}

// No steeper than twice its level, so that the engine's own rounding stays small.
void Maker::add_response() {
    const Parameters& rig = out_.roll.parameters;
    Response response;
    std::uint32_t at = 0, slot = random_.below(2000u);
    response.level = {0};
    response.slot = {static_cast<Level>(slot)};
    while (at < full) {
        const std::uint32_t step = std::min(full - at, 1 + random_.below(30'000u));
        at += step;
        slot = std::min<std::uint32_t>(full, slot + random_.below(2 * step));
        response.level.push_back(static_cast<Level>(at));
        response.slot.push_back(static_cast<Level>(slot));
    }
    for (std::uint32_t p = 0; p < rig.size(); ++p) {
        const bool taken =
            std::any_of(out_.roll.responses.begin(), out_.roll.responses.end(), [&](const Response& r) {
                return std::any_of(r.on.begin(), r.on.end(),
                                   [&](const Stretch& on) { return p - on.parameter < on.count; });
            });
        const bool light = rig.kind[p] == Kind::intensity || rig.kind[p] == Kind::colour;
        if (light && !taken && random_.one_in(3)) response.on.push_back({p, 1});
    }
    out_.roll.responses.push_back(std::move(response));
}

ExactRoll Maker::make() {
    Roll& roll = out_.roll;
    roll.title = "Rehearsal";
    roll.refresh = 1 + random_.below(44u);
    roll.universes = {{1, 256}, {7, 512}};
    const std::uint32_t fixtures = 1 + random_.below(9u);
    for (std::uint32_t i = 0; i < fixtures; ++i) add_fixture(i % 2);
    add_shapes();
    for (int i = 0; i < 6; ++i) add_wave();
    for (std::uint32_t i = random_.below(4u); i > 0; --i) add_chase();
    begun_.resize(roll.waves.size() + roll.chases.size());
    roll.timecode_rate = static_cast<TimecodeRate>(random_.below(4));
    const std::uint32_t lists = random_.one_in(2) ? 1 : 2 + random_.below(3u);
    for (std::uint32_t i = 0; i < lists; ++i) add_list(i);
    if (random_.one_in(2))
        for (std::uint32_t i = random_.below(4u); i > 0; --i) add_submaster(10 - i);
    if (random_.one_in(4)) add_keeps();
    if (random_.one_in(3))
        for (int i = 0; i < 2; ++i) add_response();
    if (random_.one_in(3)) add_panic();
    return std::move(out_);
}

}  // namespace

ExactRoll random_roll(std::uint64_t seed) {
    return Maker(seed).make();
}

}  // namespace tallow::test
