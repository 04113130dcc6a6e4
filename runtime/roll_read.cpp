// Reading a roll. The JSON parser calls back for each value (SAX); no tree is built. A Place says what may
// stand where the reader is: an integer in a range, a text, a list, or an object whose keys come in their
// fixed order. Places put what they take straight into the roll, and each part is checked as soon as it
// closes, so that a fault is found where it stands.
#include <algorithm>
#include <fmt/format.h>
#include <functional>
#include <iterator>
#include <memory>
#include <nlohmann/json.hpp>
#include <utility>

#include "runtime/limits.hpp"
#include "runtime/roll_check.hpp"
#include "runtime/roll_format.hpp"
#include "runtime/roll_io.hpp"
#include "runtime/wide.hpp"

namespace tallow::runtime {
namespace {

struct Field;
using Fields = std::vector<Field>;

// What may stand at one place. `index` counts the elements of the list that an element stands in.
struct Place {
    std::function<Status(Wide value, std::size_t index)> integer{};
    std::function<Status(std::string& text, std::size_t index)> text{};
    std::function<Fields(std::size_t index)> object{};
    std::shared_ptr<const Place> element{};             // of a list
    std::size_t most = 0;                               // elements of a list
    std::function<Status(std::size_t count)> closed{};  // once a list or object is whole
};
struct Field {
    std::string_view key;
    Place place;
};

struct Range {
    Wide low, high;
};
constexpr Range any_u32{0, none - 1}, index_or_none{-1, none - 1}, level_range{0, full},
    slot_range{0, limits::slots};
constexpr Range any_u64{0, ~std::uint64_t{0}};

std::string show(Wide v) {
    return v < 0 ? fmt::format("-{}", static_cast<std::uint64_t>(-v))
                 : fmt::format("{}", static_cast<std::uint64_t>(v));
}

Status check(Wide value, Range range) {
    if (value >= range.low && value <= range.high) return {};
    return Status::failure(
        fmt::format("{} is not in {} to {}", show(value), show(range.low), show(range.high)));
}

// --- kinds of places

template <class T>
Place integer(T& out, Range range) {
    Place place;
    place.integer = [&out, range](Wide v, std::size_t) {
        out = static_cast<T>(v);
        return check(v, range);
    };
    return place;
}

Status take_text(std::string& out, std::string& text) {
    if (text.size() > limits::text_bytes)
        return Status::failure(fmt::format("a text is longer than {} bytes", limits::text_bytes));
    out = std::move(text);
    return {};
}

Place text(std::string& out) {
    Place place;
    place.text = [&out](std::string& t, std::size_t) { return take_text(out, t); };
    return place;
}

Place object(std::function<Fields()> fields, std::function<Status()> closed) {
    Place place;
    place.object = [fields = std::move(fields)](std::size_t) { return fields(); };
    place.closed = [closed = std::move(closed)](std::size_t) { return closed(); };
    return place;
}

Place list(Place element, std::size_t most) {
    Place place;
    place.element = std::make_shared<const Place>(std::move(element));
    place.most = most;
    return place;
}

template <class T>
Place column(std::vector<T>& out, Range range, std::size_t most) {
    Place element;
    element.integer = [&out, range](Wide v, std::size_t) {
        out.push_back(static_cast<T>(v));
        return check(v, range);
    };
    return list(std::move(element), most);
}

Place texts(std::vector<std::string>& out, std::size_t most) {
    Place element;
    element.text = [&out](std::string& t, std::size_t) { return take_text(out.emplace_back(), t); };
    return list(std::move(element), most);
}

// A column of one number of each object. The first column makes the objects, the others are as long.
enum class Column { first, further };
template <class Object, class T>
Place column_of(std::vector<Object>& out, T Object::*number, Range range, std::size_t most, Column which) {
    const bool makes = which == Column::first;
    Place element;
    element.integer = [&out, number, range, makes](Wide v, std::size_t index) {
        if (makes) out.emplace_back();
        if (index >= out.size()) return Status::failure("the columns are not of one length");
        out[index].*number = static_cast<T>(v);
        return check(v, range);
    };
    Place place = list(std::move(element), most);
    place.closed = [&out](std::size_t count) {
        return count == out.size() ? Status{} : Status::failure("the columns are not of one length");
    };
    return place;
}

template <class Object>
Place objects(std::vector<Object>& out, std::size_t most, std::function<Fields(Object&)> fields,
              std::function<Status(std::size_t index)> closed) {
    Place element;
    element.object = [&out, fields = std::move(fields)](std::size_t) { return fields(out.emplace_back()); };
    element.closed = [&out, closed = std::move(closed)](std::size_t) { return closed(out.size() - 1); };
    return list(std::move(element), most);
}

// An enumeration, by its number.
template <class T>
Place code(T& out, T last) {
    return integer(out, {0, static_cast<unsigned>(last)});
}

Place timing(Timing& out) {
    Place element;
    element.integer = [&out](Wide v, std::size_t index) {
        if (index == 3) {
            out.curve = static_cast<Curve>(v);
            return check(v, {0, static_cast<unsigned>(Curve::visual)});
        }
        (index == 0 ? out.delay : index == 1 ? out.up : out.down) = static_cast<std::uint64_t>(v);
        return check(v, {0, limits::time_ms});
    };
    Place place = list(std::move(element), 4);
    place.closed = [](std::size_t count) {
        return count == 4 ? Status{} : Status::failure("a timing has four numbers: delay, up, down, curve");
    };
    return place;
}

// `[parameter, count, level…, parameter, count, level…]`
class RunList {
  public:
    Status take(std::vector<Run>& runs, Wide v) {
        if (levels_ > 0) {
            --levels_;
            runs.back().level.push_back(static_cast<Level>(v));
            return check(v, level_range);
        }
        counting_ = !counting_;
        if (counting_) {
            runs.push_back({static_cast<std::uint32_t>(v), {}, {}});
            return check(v, any_u32);
        }
        levels_ = static_cast<std::uint64_t>(v);
        return check(v, {1, limits::parameters});
    }
    Status close() const {
        return levels_ > 0 || counting_ ? Status::failure("the last run is not whole") : Status{};
    }

  private:
    bool counting_ = false;     // a count comes next
    std::uint64_t levels_ = 0;  // that are still to come
};

// `[run, wave…, run, wave…]`: as many waves as that run has levels.
class RunWaveList {
  public:
    Status take(std::vector<Run>& runs, Wide v) {
        if (waves_ > 0) {
            --waves_;
            runs[run_].wave.push_back(static_cast<std::uint32_t>(v));
            return check(v, index_or_none);
        }
        if (v < next_ || v >= runs.size())
            return Status::failure(
                fmt::format("{} is not one of the {} runs, in order", show(v), runs.size()));
        run_ = static_cast<std::size_t>(v);
        next_ = v + 1;
        waves_ = runs[run_].level.size();
        return {};
    }
    Status close() const { return waves_ > 0 ? Status::failure("the last run is not whole") : Status{}; }

  private:
    std::size_t run_ = 0, waves_ = 0;  // waves_: still to come
    Wide next_ = 0;
};

template <class List>
Place run_list(std::vector<Run>& runs) {
    const auto state = std::make_shared<List>();
    Place element;
    element.integer = [&runs, state](Wide v, std::size_t) { return state->take(runs, v); };
    Place place = list(std::move(element), limits::file_bytes);
    place.closed = [state](std::size_t) { return state->close(); };
    return place;
}

// --- the parts of a roll, in the order of FORMATS.md

Fields universe_fields(std::vector<Universe>& out) {
    return {{"number", column_of(out, &Universe::number, {0, 65535}, limits::universes, Column::first)},
            {"slots", column_of(out, &Universe::slots, slot_range, limits::universes, Column::further)}};
}

Fields parameter_fields(Parameters& rig) {
    constexpr std::size_t most = limits::parameters;
    return {{"key", texts(rig.key, most)},
            {"universe", column(rig.universe, index_or_none, most)},
            {"coarse", column(rig.coarse, slot_range, most)},
            {"fine", column(rig.fine, slot_range, most)},
            {"home", column(rig.home, level_range, most)},
            {"kind", column(rig.kind, {0, static_cast<unsigned>(Kind::beam)}, most)},
            {"under", column(rig.under, index_or_none, most)}};
}

Fields waveform_fields(Waveform& form) {
    using Segment = Waveform::Segment;
    constexpr std::size_t most = limits::wave_points;
    return {{"shape", code(form.shape, Waveform::Shape::flicker)},
            {"seed", integer(form.seed, any_u64)},
            {"start", column_of(form.segments, &Segment::start, any_u64, most, Column::first)},
            {"from", column_of(form.segments, &Segment::from, level_range, most, Column::further)},
            {"to", column_of(form.segments, &Segment::to, level_range, most, Column::further)}};
}

Fields wave_fields(Wave& wave) {
    constexpr Range end{-Wide{full}, full};
    constexpr std::size_t most = limits::parameters;
    return {{"waveform", integer(wave.waveform, any_u32)},
            {"period", integer(wave.period, any_u64)},
            {"continues", integer(wave.continues, index_or_none)},
            {"parameter", column(wave.parameter, any_u32, most)},
            {"low", column(wave.low, end, most)},
            {"high", column(wave.high, end, most)},
            {"offset", column(wave.offset, any_u64, most)},
            {"member", column(wave.member, any_u32, most)}};
}

Fields set_fields(Set& set) {
    return {{"timing", timing(set.timing)},
            {"runs", run_list<RunList>(set.runs)},
            {"waves", run_list<RunWaveList>(set.runs)}};
}

Fields cue_fields(Cue& cue) {
    return {{"number", integer(cue.number, any_u32)},
            {"label", text(cue.label)},
            {"on", text(cue.on)},
            {"note", text(cue.note)},
            {"page", text(cue.page)},
            {"next", code(cue.next, Next::next_at)},
            {"next_ms", integer(cue.next_ms, any_u64)},
            {"complete_ms", integer(cue.complete_ms, any_u64)},
            {"intensity", timing(cue.intensity)},
            {"colour", timing(cue.colour)},
            {"position", timing(cue.position)},
            {"beam", timing(cue.beam)},
            {"starts", column(cue.starts, any_u32, limits::waves)},
            {"sets",
             objects<Set>(cue.sets, limits::parameters, set_fields, [](std::size_t) { return Status{}; })}};
}

Fields picture_fields(Picture& picture) {
    return {{"cue", integer(picture.cue, any_u32)},
            {"level", column(picture.level, level_range, limits::parameters)},
            {"wave", column(picture.wave, index_or_none, limits::parameters)}};
}

Place version() {
    Place place;
    place.integer = [](Wide v, std::size_t) {
        if (v == roll_version) return Status{};
        return Status::failure(
            fmt::format("this is version {}, and this program reads version {}", show(v), roll_version));
    };
    return place;
}

Fields roll_fields(Roll& roll, RollCheck& check) {
    return {{"roll", version()},
            {"title", text(roll.title)},
            {"by", text(roll.by)},
            {"refresh", integer(roll.refresh, {limits::refresh_min, limits::refresh_max})},
            {"universes",
             object([&] { return universe_fields(roll.universes); }, [&] { return check.universes(); })},
            {"parameters",
             object([&] { return parameter_fields(roll.parameters); }, [&] { return check.parameters(); })},
            {"waveforms", objects<Waveform>(roll.waveforms, limits::waves, waveform_fields,
                                            [&](std::size_t i) { return check.waveform(i); })},
            {"waves", objects<Wave>(roll.waves, limits::waves, wave_fields,
                                    [&](std::size_t i) { return check.wave(i); })},
            {"cues",
             objects<Cue>(roll.cues, limits::cues, cue_fields, [&](std::size_t i) { return check.cue(i); })},
            {"pictures", objects<Picture>(roll.pictures, limits::cues / picture_every, picture_fields,
                                          [&](std::size_t i) { return check.picture(i); })}};
}

// --- the reader

// Walks over the text and tells how far the parser has come.
class Cursor {
  public:
    using iterator_category = std::input_iterator_tag;
    using value_type = char;
    using difference_type = std::ptrdiff_t;
    using pointer = const char*;
    using reference = const char&;

    Cursor(const char* at, const char** seen) : at_(at), seen_(seen) {}
    const char& operator*() const { return *at_; }
    Cursor& operator++() {
        *seen_ = ++at_;
        return *this;
    }
    Cursor operator++(int) {
        Cursor before = *this;
        ++*this;
        return before;
    }
    bool operator==(const Cursor& other) const { return at_ == other.at_; }
    bool operator!=(const Cursor& other) const { return at_ != other.at_; }

  private:
    const char* at_;
    const char** seen_;
};

class Reader : public nlohmann::json_sax<nlohmann::json> {
  public:
    explicit Reader(std::string_view text) : text_(text), seen_(text.data()), check_(roll_) {
        top_.object = [this](std::size_t) { return roll_fields(roll_, check_); };
        top_.closed = [this](std::size_t) {
            if (auto s = check_.head(); !s.ok()) return s;
            return check_.whole();
        };
    }

    Result<Roll> read() {
        const char* const end = text_.data() + text_.size();
        const bool whole = nlohmann::json::sax_parse(Cursor(text_.data(), &seen_), Cursor(end, &seen_), this);
        if (whole) return std::move(roll_);
        return failure_;
    }

    bool null() override { return fail("null does not belong here"); }
    bool boolean(bool) override { return fail("true and false do not belong here"); }
    bool number_integer(std::int64_t v) override { return take_integer(v); }
    bool number_unsigned(std::uint64_t v) override { return take_integer(v); }
    bool number_float(double, const std::string&) override {
        return fail("a number that is not whole, or has over 64 bits, does not belong here");
    }
    bool binary(nlohmann::json::binary_t&) override { return fail("bytes do not belong here"); }
    bool string(std::string& text) override {
        return take(&Place::text, "a text",
                    [&](const Place& place, std::size_t index) { return accept(place.text(text, index)); });
    }
    bool start_object(std::size_t) override {
        return take(&Place::object, "an object", [&](const Place& place, std::size_t index) {
            open_.push_back({&place, place.object(index), 0});
            return true;
        });
    }
    bool key(std::string& name) override;
    bool end_object() override {
        const Open& top = open_.back();
        if (top.count < top.fields.size())
            return fail(fmt::format("the key `{}` is missing", top.fields[top.count].key));
        return close();
    }
    bool start_array(std::size_t) override {
        return take(&Place::element, "a list", [&](const Place& place, std::size_t) {
            open_.push_back({&place, {}, 0});
            return true;
        });
    }
    bool end_array() override { return close(); }
    bool parse_error(std::size_t, const std::string&, const nlohmann::json::exception&) override {
        return fail("this is not JSON, or it ends too soon");
    }

  private:
    // An object or a list that is being read. `count`: keys or elements that have been begun.
    struct Open {
        const Place* place;
        Fields fields;  // of an object
        std::size_t count;
    };

    // A value begins: goes on with the place that it stands in, if that takes its kind.
    template <class Taker, class Use>
    bool take(Taker Place::*taker, std::string_view kind, Use use) {
        const Place* place = &top_;
        std::size_t index = 0;
        if (!open_.empty()) {
            Open& top = open_.back();
            if (top.place->element && top.count == top.place->most)
                return fail(fmt::format("there are over {} elements", top.place->most));
            if (top.place->element) index = top.count++;
            place = top.place->element ? top.place->element.get() : &top.fields[top.count - 1].place;
        }
        if (!(place->*taker)) return fail(fmt::format("{} does not belong here", kind));
        return use(*place, index);
    }

    bool take_integer(Wide v) {
        return take(&Place::integer, "a number",
                    [&](const Place& place, std::size_t index) { return accept(place.integer(v, index)); });
    }

    bool close() {
        const Open& top = open_.back();
        if (top.place->closed && !accept(top.place->closed(top.count))) return false;
        open_.pop_back();
        return true;
    }

    bool accept(const Status& status) { return status.ok() || fail(status.why()); }
    bool fail(std::string_view why);
    std::string path() const;

    std::string_view text_;
    const char* seen_;
    Roll roll_;
    RollCheck check_;
    Place top_;
    std::vector<Open> open_;
    Status failure_;
};

// Keys stand in one order, so each is either the next one or a fault.
bool Reader::key(std::string& name) {
    Open& top = open_.back();
    if (top.count < top.fields.size() && top.fields[top.count].key == name) {
        ++top.count;
        return true;
    }
    const auto known =
        std::find_if(top.fields.begin(), top.fields.end(), [&](const Field& f) { return f.key == name; });
    if (known == top.fields.end()) return fail(fmt::format("the key `{}` is unknown", name));
    if (known < top.fields.begin() + static_cast<std::ptrdiff_t>(top.count))
        return fail(fmt::format("the key `{}` is there twice", name));
    return fail(fmt::format("the key `{}` stands where `{}` is missing", name, top.fields[top.count].key));
}

// Where the reader is: `cues[3].sets[0].runs[7]`.
std::string Reader::path() const {
    std::string path;
    for (const Open& open : open_) {
        if (open.count == 0) continue;
        if (open.place->element)
            path += fmt::format("[{}]", open.count - 1);
        else
            path += fmt::format("{}{}", path.empty() ? "" : ".", open.fields[open.count - 1].key);
    }
    return path.empty() ? "its beginning" : fmt::format("`{}`", path);
}

bool Reader::fail(std::string_view why) {
    failure_ =
        Status::failure(fmt::format("cannot read the roll at {}, byte {}: {}; build it again from its show",
                                    path(), seen_ - text_.data(), why));
    return false;
}

}  // namespace

Result<Roll> read_roll(std::string_view text) {
    if (text.size() > limits::file_bytes)
        return Status::failure(
            fmt::format("cannot read the roll: it is larger than {} bytes", limits::file_bytes));
    return Reader(text).read();
}

}  // namespace tallow::runtime
