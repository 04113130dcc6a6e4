#include <algorithm>
#include <fmt/format.h>

#include "compiler/cues/cue_list.hpp"
#include "compiler/cues/picture.hpp"
#include "compiler/cues/words.hpp"
#include "compiler/show/elements.hpp"
#include "compiler/show/trigger.hpp"
#include "compiler/text/wrap.hpp"
#include "compiler/track/tracker.hpp"
#include "runtime/cue_number.hpp"
#include "runtime/duration.hpp"
#include "runtime/timecode.hpp"

namespace tallow::cues {
namespace {

using runtime::format_duration;

void join(std::string& to, const std::string& more) {
    if (!to.empty() && !more.empty()) to += "  ";
    to += more;
}

// `fade 5s`, and each class of its own time; then what is not the plain case.
std::string times_text(const show::Cue& cue) {
    const show::Times& t = cue.times;
    std::string words = t.up == t.down
                            ? (t.up == 0 ? "cut" : "fade " + format_duration(t.up))
                            : fmt::format("up {}  down {}", format_duration(t.up), format_duration(t.down));
    join(words, class_times_text(cue));
    if (t.delay != 0) join(words, "delay " + format_duration(t.delay));
    join(words, manner_text(cue));
    return words;
}

// How the next cue starts, unless it waits for its GO.
std::string going_on(const show::Show& show, Index at) {
    const show::Cue& cue = show.cues[at];
    if (cue.next == runtime::Next::go) return "";
    const bool follow = cue.next == runtime::Next::follow;
    const std::uint64_t after = cue.next_ms + (follow ? track::complete_time(show, cue) : 0);
    const std::string words = show::next_text(cue);
    const Index next = next_cue(show, at);
    if (next == show::none) return words + ": no cue is left to start";
    return words + fmt::format(": cue {} starts by itself {} after this GO",
                               runtime::cue_number(show.cues[next].number), format_duration(after));
}

std::string cue_block(const show::Show& show, const ListedCue& listed) {
    const show::Cue& cue = show.cues[listed.cue];
    std::string out = text::indented(title(cue), 0, columns);
    const auto add = [&](const std::string& line) { out += text::indented(line, 4, columns); };
    add(times_text(cue));
    if (const std::string words = going_on(show, listed.cue); !words.empty()) add(words);
    if (cue.timecode != runtime::no_timecode)
        add("timecode " + runtime::format_timecode(cue.timecode, show.timecode_rate));
    if (!cue.page.empty()) add("page " + cue.page);
    if (!cue.on.empty()) add(fmt::format("on \"{}\"", cue.on));
    if (!cue.note.empty()) add(fmt::format("note \"{}\"", cue.note));
    if (listed.changes.empty()) add("changes nothing");
    for (const ChangeGroup& group : listed.changes) add(change_text(show, group));
    return out;
}

std::string list_title(const show::CueList& list) {
    return "list " + list.name + (list.label.empty() ? "" : fmt::format(" \"{}\"", list.label));
}

}  // namespace

std::string class_times_text(const show::Cue& cue) {
    const show::Times& t = cue.times;
    std::string words;
    if (t.colour != t.up) join(words, "colour " + format_duration(t.colour));
    if (t.move != t.up) join(words, "move " + format_duration(t.move));
    if (t.beam != t.up) join(words, "beam " + format_duration(t.beam));
    return words;
}

std::string manner_text(const show::Cue& cue) {
    std::string words;
    if (cue.times.curve != runtime::Curve::linear)
        join(words, cue.times.curve == runtime::Curve::ease ? "curve ease" : "curve visual");
    if (cue.block) join(words, "block");
    if (cue.cue_only) join(words, "cue-only");
    return words;
}

std::string change_text(const show::Show& show, const ChangeGroup& group) {
    std::string line = show::elements_text(show, group.elements);
    for (const Aspect& aspect : group.aspects) join(line, aspect.words);
    for (const std::string& time : group.times) join(line, time);
    return line;
}

std::string title(const show::Cue& cue) {
    const std::string number = "cue " + runtime::cue_number(cue.number);
    return cue.label.empty() ? number : fmt::format("{}  \"{}\"", number, cue.label);
}

std::string origin_text(const show::Show& show, const source::Sources& sources, const track::Origin& origin) {
    if (origin.statement == show::none) return "home";
    const source::Span span = show.statements[origin.statement].span;
    return fmt::format("cue {}, {}:{}", show::cue_text(show, origin.cue), sources.path(span.file),
                       sources.position(span.file, span.begin).line);
}

std::string text(const show::Show& show, const std::vector<ListedCue>& cues) {
    std::string out;
    Index list = 0;
    for (const ListedCue& cue : cues) {
        if (!out.empty()) out += '\n';
        if (show.cues[cue.cue].list != list) {
            list = show.cues[cue.cue].list;
            out += list_title(show.lists[list]) + "\n\n";
        }
        out += cue_block(show, cue);
    }
    return out;
}

std::string short_text(const show::Show& show, const source::Sources& sources,
                       const std::vector<ListedCue>& cues) {
    std::string out;
    for (const ListedCue& cue : cues) {
        std::string line;
        for (const ChangeGroup& group : cue.changes) {
            line += (line.empty() ? "" : "; ") + change_text(show, group);
            std::string last;
            for (const Aspect& aspect : group.aspects) {
                const std::string from = origin_text(show, sources, aspect.from);
                if (from != last) line += (last.empty() ? "  (" : "; ") + from;
                last = from;
            }
            line += ")";
        }
        out += text::indented(fmt::format("cue {}  {}", show::cue_text(show, cue.cue), line), 0, columns);
    }
    return out;
}

std::string text(const show::Show& show, const source::Sources& sources, const Picture& picture) {
    std::string out = text::indented(title(show.cues[picture.cue]), 0, columns);
    for (const Group& group : picture.groups) {
        out += text::indented(show::elements_text(show, group.elements), 0, columns);
        for (const Aspect& aspect : group.aspects)
            out += text::indented(
                fmt::format("{}  ({})", aspect.words, origin_text(show, sources, aspect.from)), 4, columns);
    }
    return out + fmt::format("{} lit, {} dark; of the dark ones {} preset, {} with a wave running\n",
                             picture.lit, picture.dark, picture.preset, picture.waving);
}

}  // namespace tallow::cues
