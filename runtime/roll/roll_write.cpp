#include <fmt/compile.h>
#include <iterator>
#include <type_traits>

#include "runtime/roll/roll_format.hpp"
#include "runtime/roll/roll_io.hpp"

namespace tallow::runtime {
namespace {

// JSON text as it grows: keys in the order in which they are named.
class Writer {
  public:
    void key(std::string_view name) {
        text(name);
        out_ += ':';
        fresh_ = true;
    }
    void open(char bracket) {
        comma();
        out_ += bracket;
        fresh_ = true;
    }
    void close(char bracket) {
        out_ += bracket;
        fresh_ = false;
    }
    // What follows stands on a line of its own.
    void line() {
        comma();
        out_ += '\n';
        fresh_ = true;
    }
    template <class T>
    void number(T value) {
        comma();
        if constexpr (std::is_enum_v<T>)
            fmt::format_to(std::back_inserter(out_), FMT_COMPILE("{}"), static_cast<unsigned>(value));
        else
            fmt::format_to(std::back_inserter(out_), FMT_COMPILE("{}"), value);
    }
    // An index that may be missing is -1.
    void index(std::uint32_t value) {
        if (value == none)
            number(-1);
        else
            number(value);
    }
    void text(std::string_view value);
    std::string take() { return std::move(out_); }

  private:
    void comma() {
        if (!fresh_) out_ += ',';
        fresh_ = false;
    }

    std::string out_;
    bool fresh_ = true;  // nothing here to be parted from by a comma
};

void Writer::text(std::string_view value) {
    comma();
    out_ += '"';
    for (const char c : value) {
        if (static_cast<unsigned char>(c) < 0x20) {
            fmt::format_to(std::back_inserter(out_), "\\u{:04x}", static_cast<unsigned>(c));
        } else {
            if (c == '"' || c == '\\') out_ += '\\';
            out_ += c;
        }
    }
    out_ += '"';
}

void field(Writer& to, std::string_view key, std::string_view value) {
    to.key(key);
    to.text(value);
}

template <class T>
requires(!std::is_convertible_v<T, std::string_view>) void field(Writer& to, std::string_view key, T value) {
    to.key(key);
    to.number(value);
}

void index_field(Writer& to, std::string_view key, std::uint32_t value) {
    to.key(key);
    to.index(value);
}

// A key and a list, of which `one` writes each element.
template <class Elements, class One>
void list(Writer& to, std::string_view key, const Elements& elements, One one) {
    to.key(key);
    to.open('[');
    for (const auto& element : elements) one(element);
    to.close(']');
}

template <class T>
void column(Writer& to, std::string_view key, const std::vector<T>& numbers) {
    list(to, key, numbers, [&](const T& n) { to.number(n); });
}

void index_column(Writer& to, std::string_view key, const std::vector<std::uint32_t>& indices) {
    list(to, key, indices, [&](std::uint32_t i) { to.index(i); });
}

template <class Object, class Number>
void column_of(Writer& to, std::string_view key, const std::vector<Object>& objects, Number Object::*number) {
    list(to, key, objects, [&](const Object& o) { to.number(o.*number); });
}

// A key and a list of objects, each on its own line.
template <class Object>
void objects(Writer& to, std::string_view key, const std::vector<Object>& all,
             void (*write)(Writer&, const Object&)) {
    to.line();
    list(to, key, all, [&](const Object& object) {
        to.line();
        to.open('{');
        write(to, object);
        to.close('}');
    });
}

void write_universes(Writer& to, const std::vector<Universe>& universes) {
    to.line();
    to.key("universes");
    to.open('{');
    column_of(to, "number", universes, &Universe::number);
    column_of(to, "slots", universes, &Universe::slots);
    to.close('}');
}

void write_parameters(Writer& to, const Parameters& rig) {
    to.line();
    to.key("parameters");
    to.open('{');
    list(to, "key", rig.key, [&](const std::string& key) { to.text(key); });
    index_column(to, "universe", rig.universe);
    column(to, "coarse", rig.coarse);
    column(to, "fine", rig.fine);
    column(to, "home", rig.home);
    column(to, "kind", rig.kind);
    index_column(to, "under", rig.under);
    to.close('}');
}

void write_waveform(Writer& to, const Waveform& form) {
    field(to, "shape", form.shape);
    field(to, "seed", form.seed);
    column_of(to, "start", form.segments, &Waveform::Segment::start);
    column_of(to, "from", form.segments, &Waveform::Segment::from);
    column_of(to, "to", form.segments, &Waveform::Segment::to);
}

void write_wave(Writer& to, const Wave& wave) {
    field(to, "waveform", wave.waveform);
    field(to, "period", wave.period);
    index_field(to, "continues", wave.continues);
    column(to, "parameter", wave.parameter);
    column(to, "low", wave.low);
    column(to, "high", wave.high);
    column(to, "offset", wave.offset);
    column(to, "member", wave.member);
}

void write_timing(Writer& to, std::string_view key, const Timing& timing) {
    to.key(key);
    to.open('[');
    for (const std::uint64_t time : {timing.delay, timing.up, timing.down}) to.number(time);
    to.number(timing.curve);
    to.close(']');
}

void write_stretches(Writer& to, std::string_view key, const std::vector<Stretch>& stretches) {
    list(to, key, stretches, [&](const Stretch& s) {
        to.number(s.parameter);
        to.number(s.count);
    });
}

void write_runs(Writer& to, std::string_view key, const std::vector<Run>& runs) {
    list(to, key, runs, [&](const Run& run) {
        to.number(run.parameter);
        to.number(run.level.size());
        for (const Level level : run.level) to.number(level);
    });
}

void write_run_waves(Writer& to, const std::vector<Run>& runs) {
    std::uint32_t index = 0;
    list(to, "waves", runs, [&](const Run& run) {
        if (!run.wave.empty()) to.number(index);
        for (const std::uint32_t wave : run.wave) to.index(wave);
        ++index;
    });
}

void write_chase(Writer& to, const Chase& chase) {
    field(to, "loop", static_cast<unsigned>(chase.loop));
    column_of(to, "ms", chase.steps, &Chase::Step::ms);
    column_of(to, "fade_ms", chase.steps, &Chase::Step::fade_ms);
    column(to, "parameter", chase.parameter);
    column(to, "jumps", chase.jumps);
    column(to, "level", chase.level);
}

void write_list(Writer& to, const CueList& cues) {
    field(to, "name", cues.name);
    field(to, "first", cues.first);
    field(to, "count", cues.count);
}

void write_set(Writer& to, const Set& set) {
    to.open('{');
    write_timing(to, "timing", set.timing);
    write_runs(to, "runs", set.runs);
    write_run_waves(to, set.runs);
    if (!set.releases.empty()) write_stretches(to, "releases", set.releases);
    to.close('}');
}

void write_cue(Writer& to, const Cue& cue) {
    field(to, "number", cue.number);
    field(to, "label", cue.label);
    field(to, "on", cue.on);
    field(to, "note", cue.note);
    field(to, "page", cue.page);
    field(to, "next", cue.next);
    field(to, "next_ms", cue.next_ms);
    field(to, "complete_ms", cue.complete_ms);
    write_timing(to, "intensity", cue.intensity);
    write_timing(to, "colour", cue.colour);
    write_timing(to, "position", cue.position);
    write_timing(to, "beam", cue.beam);
    if (cue.timecode != no_timecode) field(to, "timecode", cue.timecode);
    column(to, "starts", cue.starts);
    list(to, "sets", cue.sets, [&](const Set& set) { write_set(to, set); });
}

void write_picture(Writer& to, const Picture& picture) {
    field(to, "cue", picture.cue);
    write_stretches(to, "stated", picture.stated);
    column(to, "level", picture.level);
    index_column(to, "wave", picture.wave);
}

void write_submaster(Writer& to, const Submaster& submaster) {
    field(to, "number", submaster.number);
    field(to, "label", submaster.label);
    column(to, "starts", submaster.starts);
    write_runs(to, "runs", submaster.runs);
    write_run_waves(to, submaster.runs);
    write_stretches(to, "jumps", submaster.jumps);
}

// If any, on a line of their own.
void write_still_runs(Writer& to, std::string_view key, const std::vector<Run>& runs) {
    if (runs.empty()) return;
    to.line();
    write_runs(to, key, runs);
}

void write_response(Writer& to, const Response& response) {
    column(to, "level", response.level);
    column(to, "slot", response.slot);
    write_stretches(to, "on", response.on);
}

}  // namespace

std::string write_roll(const Roll& roll) {
    Writer to;
    to.open('{');
    field(to, "roll", roll_version);
    field(to, "title", roll.title);
    field(to, "by", roll.by);
    field(to, "refresh", roll.refresh);
    write_universes(to, roll.universes);
    write_parameters(to, roll.parameters);
    objects(to, "waveforms", roll.waveforms, write_waveform);
    objects(to, "waves", roll.waves, write_wave);
    if (!roll.chases.empty()) objects(to, "chases", roll.chases, write_chase);
    to.line();
    field(to, "timecode_rate", roll.timecode_rate);
    objects(to, "lists", roll.lists, write_list);
    objects(to, "cues", roll.cues, write_cue);
    objects(to, "pictures", roll.pictures, write_picture);
    if (!roll.submasters.empty()) objects(to, "submasters", roll.submasters, write_submaster);
    write_still_runs(to, "keeps", roll.keeps);
    write_still_runs(to, "panic", roll.panic);
    if (!roll.responses.empty()) objects(to, "responses", roll.responses, write_response);
    to.close('}');
    return to.take() + '\n';
}

}  // namespace tallow::runtime
