// The resolved show: what the text says, with every name looked up and every value exact. It refers by index;
// spans lead back to the text.
#pragma once

#include <algorithm>
#include <cstdint>
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "compiler/colour/chromaticity.hpp"
#include "compiler/colour/solve.hpp"
#include "compiler/source/sources.hpp"
#include "grammar/words.hpp"
#include "runtime/roll/roll.hpp"

namespace tallow::show {

using Index = std::uint32_t;
inline constexpr Index none = runtime::none;
using runtime::Kind;
using runtime::Level;
using source::Span;

// ---- types ----

// What a filter takes away from a white lamp as it is driven in.
enum class Filter : std::uint8_t { no, red, green, blue };

// Or a filter: its level is how far it is driven in.
struct Emitter {
    std::string name;
    colour::Emitter light;  // its chromaticity and flux in lumens
    bool visible = true;    // ultraviolet and filters are kept out of colour solutions
    bool measured = false;  // by the type's own words, not a typical value
    Filter filter = Filter::no;
};

// A wheel of fixed colours.
struct Wheel {
    struct Slot {
        std::string name;
        Level level;  // that shows it
        colour::Chromaticity xy;
    };
    Index attribute = none;
    std::vector<Slot> slots;
};

// A place on a line that is drawn from left to right.
struct Point {
    std::int64_t at;  // millionths of a percent: of a turn, or of a slot
    Level level;
    auto operator<=>(const Point&) const = default;
};

// How the light of a fixture follows its slot.
enum class Law : std::uint8_t { unsaid, linear, square, lightness, points };
struct Response {
    Law law = Law::unsaid;
    std::vector<Point> points;            // light by slot, from 0 to full
    std::int64_t preheat = 0, floor = 0;  // millionths of a percent of the slot; one of them is 0
    auto operator<=>(const Response&) const = default;
};

// A part of a slot's travel, in slot values 0..255 whatever the resolution, perhaps with a scale in a unit.
struct Range {
    std::string name;  // may be empty
    std::uint8_t from = 0, to = 255;
    grammar::Unit unit = grammar::Unit::none;  // none: no scale; its values jump
    std::int64_t low = 0, high = 0;            // millionths of the unit, at `from` and at `to`
    Level middle() const { return runtime::widen(static_cast<std::uint8_t>((from + to) / 2)); }
};

struct AttributeRanges {
    Index attribute;
    std::vector<Range> ranges;
};

inline constexpr std::uint16_t no_place = 0xffff;

// One parameter of a mode: a slot or two, or a virtual intensity without any.
struct ParameterDef {
    Index attribute;         // into Show::attributes
    std::uint16_t cell = 0;  // 0: of the whole fixture
    Kind kind = Kind::beam;
    std::uint16_t coarse = 0;          // 1-based place in the mode; 0: virtual
    std::uint16_t fine = 0;            // 0: 8 bits
    std::uint16_t under = no_place;    // the intensity that it stands under: a place in Mode::parameters
    std::uint16_t emitter = no_place;  // into Type::emitters
    Level home = 0;
};

// Where a setting for the whole fixture (part 0) or for one cell goes: places in Mode::parameters.
struct Part {
    std::vector<std::uint16_t> intensity;  // a real master alone, else every intensity
    std::vector<std::uint16_t> emitters, position, beam;
    std::uint16_t wheel = no_place;  // that stands for its colour where it has no emitters; also in `beam`
};

struct Mode {
    std::string name;
    Span span{};
    std::uint16_t footprint = 0;  // slots
    std::uint16_t cells = 0;
    std::vector<ParameterDef>
        parameters;           // in slot order; a virtual intensity before the first that it scales
    std::vector<Part> parts;  // cells + 1
};

enum class Supply : std::uint8_t { unsaid, constant, dimmed };

struct Type {
    std::string name, label;
    Span span{};
    std::vector<Emitter> emitters;  // or three filters
    Wheel wheel;
    std::vector<AttributeRanges> ranges;
    std::vector<Mode> modes;
    Supply supply = Supply::unsaid;
    std::string plug;
    std::int64_t watts = 0, power_factor = 0, length = 0;  // millionths (of W, of 1, of m); 0: unsaid
    Index response = none;                                 // into Show::responses
    bool broken = false;

    bool filtered() const { return !emitters.empty() && emitters.front().filter != Filter::no; }
    // Whether some light that it mixes is taken for a typical one.
    bool typical() const {
        return std::any_of(emitters.begin(), emitters.end(),
                           [](const Emitter& e) { return e.visible && !e.measured; });
    }
    const std::vector<Range>* ranges_of(Index attribute) const {
        for (const AttributeRanges& a : ranges)
            if (a.attribute == attribute) return &a.ranges;
        return nullptr;
    }
};

// ---- patch ----

struct Fixture {
    std::string name;
    std::uint32_t number = 0;  // 0: a single fixture
    Index type = none;         // none: broken, and never spoken of again
    Index mode = 0;
    std::uint16_t universe = 1, address = 1;
    bool aside = false;            // its line says `at`
    Index leader = none;           // the first of its gang; itself otherwise
    Index first_parameter = none;  // into the rig's parameters; a gang shares its leader's
    Index response = none;         // into Show::responses: its type's, or what its patch line says
    Index balance = none;          // into Show::balances
    Index hang = none;             // into Show::hangs
    std::int64_t x = 0;            // where it hangs: millionths of a metre toward stage left
    Span hung{};                   // the line that says so
    Span span{};
};

// A group whose kinds of fixtures show a colour equally bright.
struct Balance {
    std::string group;
    std::vector<Index> types;  // each once
    Span span{};
};

enum class Axis : std::uint8_t { x, depth, height };

// A bar, a stand, a boom: where fixtures hang. Millionths of a metre.
struct Hang {
    std::string name, label;
    std::int64_t height = 0, depth = 0;  // above the stage; upstage of the setting line
    Span span{};
};

// A fixture (cell 0) or one of its cells.
struct Element {
    Index fixture;
    std::uint16_t cell = 0;
    bool operator==(const Element&) const = default;
};

struct Selection {
    std::vector<Element> elements;  // in order, each once, a gang at its first one's place
    std::string text;               // as written
    bool broken = false;
};

// ---- what a line says ----

struct ColourTarget {
    colour::Chromaticity xy;
    std::string text;  // as written
};

// The value of a parameter, still in the words of its type.
struct Value {
    enum class Form : std::uint8_t { level, measure, named };
    Form form = Form::level;
    Level level = 0;
    grammar::Unit unit = grammar::Unit::none;
    std::int64_t measure = 0;  // millionths
    std::string name;
};

struct Setting {
    enum class Kind : std::uint8_t {
        level,
        colour,
        palette,
        emitter,
        parameter,
        wave,
        steady,
        chase,
        chase_off
    };
    Kind kind = Kind::level;
    Level level = 0;     // level, emitter
    Index what = none;   // colour: Show::colours; palette; emitter and parameter: attribute; wave:
                         // Show::wave_uses; chase
    Index value = none;  // parameter: Show::values
    Index to = none;     // of a spread over the selection: its other end, into Show::ends
    Span span{};
};

// A time of a line's own, in milliseconds: of the first member of its selection and of the last.
struct OwnTime {
    std::uint64_t from = 0, to = 0;
    bool spread() const { return from != to; }
};

struct Statement {
    Index selection = none;
    Index first_setting = 0, setting_count = 0;  // into Show::settings
    std::optional<OwnTime> fade, delay;          // of this line alone
    Span span{};
    // Whether members have times of their own.
    bool has_spread_times() const { return (fade && fade->spread()) || (delay && delay->spread()); }
};

// How levels of a look are scaled: parts of 10^16, so that percents of percents stay exact.
using Scale = std::uint64_t;
inline constexpr Scale whole_scale = 10'000'000'000'000'000;

// A line of a look or a cue: a statement, or a look.
struct Item {
    Index statement = none;
    Index look = none;
    Span span{};
    Scale scale = whole_scale;  // of the look's levels
    Index within = none;        // the selection of which alone the look speaks here
};

struct Palette {
    std::string name;
    Index first_setting = 0,
          setting_count = 0;  // colour, emitter and parameter settings; emitters are a whole colour
    bool coloured = false;
    bool of_fixtures = false;  // what one line of the palette of this name says of some fixtures
    // Fixtures and cells for which such another holds: into Show::palettes.
    std::map<std::pair<Index, std::uint16_t>, Index> differs;
    Span span{};
};

struct Look {
    std::string name, label;
    std::vector<Item> items;
    Span span{};
};

// ---- waves ----

enum class Shape : std::uint8_t { sine, triangle, rise, fall, square, flicker, points };
enum class Travel : std::uint8_t { forward, backward, outward, inward, scattered };

struct WaveShape {
    Shape shape = Shape::sine;
    Travel travel = Travel::forward;
    std::uint64_t period = 1000;  // milliseconds
    std::int64_t wavelength = 0;  // millionths of a member, or of a metre; 0: all move together
    bool metres = false;
    std::optional<Axis> along{};       // which way metres are measured
    std::int64_t phase = 0;            // millionths of a degree
    std::int64_t duty = 50'000'000;    // millionths of a percent
    std::int64_t swing = 100'000'000;  // millionths of a percent
    std::uint32_t seed = 0;
    std::vector<Point> points;
    bool operator==(const WaveShape&) const = default;
};

// One line of a wave: what moves between which ends.
struct Component {
    Kind kind = Kind::intensity;
    Index attribute = none;  // none: a whole colour
    Value low, high;         // levels and measures; of a position offsets, which may be below 0
    Index low_colour = none,
          high_colour = none;  // settings of Setting::Kind::colour or palette, for a whole colour
    bool hue = false;          // a whole colour that turns: low and high are degrees
    std::int64_t saturation = 100'000'000;  // of a hue, in millionths of a percent
    std::int64_t phase = 0;                 // millionths of a degree
    Span span{};
};

struct Wave {
    std::string name, label;
    WaveShape shape;
    std::vector<Component> components;
    Span span{};
};

// A wave as a line puts it on: with what the line changes.
struct WaveUse {
    Index wave = none;
    WaveShape shape;
    bool operator==(const WaveUse&) const = default;
};

// ---- cues ----

struct Times {
    std::uint64_t delay = 0, up = 0, down = 0, colour = 0, move = 0, beam = 0;  // milliseconds
    runtime::Curve curve = runtime::Curve::linear;
};

struct Cue {
    Index list = 0;            // into Show::lists
    std::uint32_t number = 0;  // thousandths; unique in its list
    std::string label, on, page, note;
    Times times;
    runtime::Next next = runtime::Next::go;
    std::uint64_t next_ms = 0;
    std::uint64_t timecode = runtime::no_timecode;  // the frame at which it starts itself
    bool block = false, cue_only = false;
    std::vector<Item> items;
    Span span{};
};

// Cues that play in turn, beside those of other lists.
struct CueList {
    std::string name, label;
    Index first = 0, count = 0;  // in Show::cues
    Span span{};
};

// ---- chases and submasters ----

struct Chase {
    std::string name, label;
    bool loop = false;  // otherwise it holds its last step
    struct Step {
        std::vector<Item> items;
        std::uint64_t ms = 0,
                      fade_ms = 0;  // how long it lasts, and how much of that fades from the step before
    };
    std::vector<Step> steps;
    Index selection = none;  // all that its steps name
    Span span{};
};

struct Submaster {
    std::uint32_t number = 1;
    std::string label;
    std::vector<Item> items;
    Span span{};
};

// ---- safety ----

// A level that nothing may go under.
struct Keep {
    Index selection = none;
    Level level = 0;
    Span span{};
};

struct Safety {
    std::uint32_t flashes = 3;  // at most, in any one second
    std::vector<Keep> keeps;
    std::optional<Item> panic;  // the look that one key brings up over everything
};

// ---- desks ----

struct Layout {
    std::string name;
    std::uint32_t channels = 0, scenes = 0, submasters = 0, pages = 1, rows = 1;
    Span span{};
};

// A `channel` line: the slot that a channel plays in place of its own.
struct DeskChannel {
    std::uint16_t number;          // 1..512
    std::uint16_t universe, slot;  // 1..512
    Span span{};
};

struct Desk {
    std::string name, label;
    std::uint16_t universe = 1;
    std::vector<Layout> layouts;
    std::vector<DeskChannel> channels;  // those that are not one to one
    std::uint32_t chases = 0, chase_steps = 0;
    std::int64_t notch = 5'000'000;  // millionths of a percent
    std::uint64_t reach = 1200;      // milliseconds
    bool dips = false;
    Span span{};
};

// ---- power and data ----

struct Circuit {
    std::uint32_t number = 0;
    std::string label;
    Supply supply = Supply::unsaid;
    std::int64_t amperes = 0, volts = 0;  // millionths; 0: unsaid
    std::vector<Index> fixtures;          // each body of a gang; as declared
    Span span{};
};

struct DataRun {
    std::string name, label;
    std::string outlet;  // "3-pin", "5-pin", or empty: unsaid
    struct Link {
        Index fixture;          // each body of a gang
        bool wireless = false;  // reached by a radio hop from the one before, or from the outlet
    };
    std::vector<Link> chain;  // in the order of the daisy chain
    Span span{};
};

// A parameter of the rig: whose it is.
struct RigParameter {
    Index fixture;
    std::uint16_t place;  // in its mode
};

struct Show {
    std::string title, by;
    std::uint32_t refresh = 40;
    std::uint64_t default_fade = 3000;    // milliseconds
    std::vector<std::string> attributes;  // red, pan, zoom …
    std::vector<Type> types;
    std::vector<Fixture> fixtures;         // in the order of the text
    std::vector<RigParameter> parameters;  // of the whole rig, in slot order
    std::vector<Balance> balances;
    std::vector<Response> responses;
    Law law = Law::square;  // how light follows a level, on fixtures whose own response is known
    std::vector<Hang> hangs;
    std::vector<Selection> selections;
    std::vector<ColourTarget> colours;
    std::vector<Value> values;
    std::vector<Setting> settings;
    std::vector<Setting> ends;  // the other ends of spreads
    std::vector<Statement> statements;
    std::vector<Palette> palettes;
    std::vector<Look> looks;
    std::vector<Wave> waves;
    std::vector<WaveUse> wave_uses;
    runtime::TimecodeRate timecode_rate = runtime::TimecodeRate::f25;
    std::vector<CueList> lists;  // the main list first
    std::vector<Cue> cues;       // by list, then by number
    std::vector<Chase> chases;
    std::vector<Submaster> submasters;  // by number
    Safety safety;
    std::vector<Desk> desks;
    std::vector<Circuit> circuits;   // by number
    std::vector<DataRun> data_runs;  // in the order of the text

    const Type& type_of(const Fixture& f) const { return types[f.type]; }
    const Mode& mode_of(const Fixture& f) const { return types[f.type].modes[f.mode]; }
    const ParameterDef& definition(Index parameter) const {
        const RigParameter& p = parameters[parameter];
        return mode_of(fixtures[p.fixture]).parameters[p.place];
    }
    // The intensity right above a parameter, real or virtual; none: it stands under none.
    Index above(Index parameter) const {
        const std::uint16_t under = definition(parameter).under;
        return under == no_place ? none : fixtures[parameters[parameter].fixture].first_parameter + under;
    }
    // The same where it is virtual: multiplied into the parameter's slots.
    Index virtual_above(Index parameter) const {
        const Index over = above(parameter);
        return over == none || definition(over).coarse != 0 ? none : over;
    }
};

class ElementSet;
// Calls take for each line of looks and cues that the items come to, in order, but for lines of a look that
// do not concern the selection of which alone it speaks; with what a line is cut down to, or null.
void for_each_line(const Show& show, const std::vector<Item>& items,
                   const std::function<void(const Statement&, const ElementSet* within)>& take);

// `front 3`, or `house` for a single fixture; with its cell: `cyc 2 cell 3`.
std::string fixture_text(const Fixture& fixture);
std::string element_text(const Show& show, Element element);
// Where it hangs along an axis, in millionths of a metre; none where nothing says so. The cells of a fixture
// lie along its own length, from stage right to stage left.
std::optional<std::int64_t> position_of(const Show& show, Element element, Axis axis);
// The palette that holds for an element where this one is named: itself, or what it says of that fixture.
Index palette_for(const Show& show, Index palette, Element element);
// The cue that plays after one in its list; none at its end.
Index next_cue(const Show& show, Index cue);
// `2.5`, or `2.5 of side` in another list than the main one.
std::string cue_text(const Show& show, Index cue);
// `cyc/2/3/red`: fixture, number (if any), cell (if any), attribute.
std::string parameter_key(const Show& show, Index parameter);

// The level of a value on one type's attribute; none where the type has no such range or scale. `jumps` is
// set where the value belongs to a range without a scale.
std::optional<Level> level_of(const Type& type, Index attribute, const Value& value, bool& jumps);
// The same for the two ends of a wave that are offsets: −65535..65535 of the whole travel.
std::optional<std::int32_t> offset_of(const Type& type, Index attribute, const Value& value);
// Whether a type can place both ends of a wave over a position or beam parameter.
bool has_ends(const Type& type, const Component& component);

}  // namespace tallow::show
