#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "compiler/cues/cue_list.hpp"
#include "compiler/cues/picture.hpp"
#include "compiler/show/elements.hpp"
#include "compiler/track/tracker.hpp"
#include "runtime/cue_number.hpp"
#include "runtime/timecode.hpp"

namespace tallow::cues {
namespace {

using Json = nlohmann::ordered_json;
constexpr int edition = 1;

std::string number(const show::Show& show, Index cue) {
    return runtime::cue_number(show.cues[cue].number);
}

Json from(const show::Show& show, const source::Sources& sources, const track::Origin& origin) {
    if (origin.statement == show::none) return nullptr;
    const source::Span span = show.statements[origin.statement].span;
    return {{"cue", number(show, origin.cue)},
            {"file", sources.path(span.file)},
            {"line", sources.position(span.file, span.begin).line}};
}

Json values(const show::Show& show, const source::Sources& sources, const std::vector<Aspect>& aspects) {
    Json all = Json::array();
    for (const Aspect& aspect : aspects) {
        Json levels = Json::object();
        for (const auto& [attribute, level] : aspect.levels) levels[attribute] = level;
        all.push_back({{"what", aspect.what},
                       {"text", aspect.words},
                       {"levels", std::move(levels)},
                       {"from", from(show, sources, aspect.from)}});
    }
    return all;
}

Json elements(const show::Show& show, const std::vector<Element>& all) {
    Json names = Json::array();
    for (const Element& element : all) names.push_back(show::element_text(show, element));
    return names;
}

Json next(const show::Show& show, Index at) {
    const show::Cue& cue = show.cues[at];
    if (cue.next == runtime::Next::go) return nullptr;
    const bool follow = cue.next == runtime::Next::follow;
    const Index follower = next_cue(show, at);
    return {{"kind", follow ? "follow" : "next-at"},
            {"time_ms", cue.next_ms},
            {"after_go_ms", cue.next_ms + (follow ? track::complete_time(show, cue) : 0)},
            {"cue", follower == show::none ? Json(nullptr) : Json(number(show, follower))}};
}

Json times(const show::Times& t) {
    constexpr const char* curves[] = {"linear", "ease", "visual"};
    return {{"up_ms", t.up},
            {"down_ms", t.down},
            {"colour_ms", t.colour},
            {"move_ms", t.move},
            {"beam_ms", t.beam},
            {"delay_ms", t.delay},
            {"curve", curves[static_cast<std::size_t>(t.curve)]}};
}

std::string dump(const Json& json) {
    return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace

std::string json(const show::Show& show, const source::Sources& sources, const std::vector<ListedCue>& cues) {
    Json list = Json::array();
    for (const ListedCue& listed : cues) {
        const show::Cue& cue = show.cues[listed.cue];
        Json changes = Json::array();
        for (const ChangeGroup& group : listed.changes)
            changes.push_back({{"selection", show::elements_text(show, group.elements)},
                               {"elements", elements(show, group.elements)},
                               {"times", group.times},
                               {"values", values(show, sources, group.aspects)}});
        const bool coded = cue.timecode != runtime::no_timecode;
        list.push_back({{"list", show.lists[cue.list].name},
                        {"number", number(show, listed.cue)},
                        {"label", cue.label},
                        {"next", next(show, listed.cue)},
                        {"timecode", coded ? Json(runtime::format_timecode(cue.timecode, show.timecode_rate))
                                           : Json(nullptr)},
                        {"times", times(cue.times)},
                        {"block", cue.block},
                        {"cue_only", cue.cue_only},
                        {"page", cue.page},
                        {"on", cue.on},
                        {"note", cue.note},
                        {"changes", std::move(changes)}});
    }
    return dump({{"cues", edition}, {"show", show.title}, {"list", std::move(list)}});
}

std::string json(const show::Show& show, const source::Sources& sources, const Picture& picture) {
    Json groups = Json::array();
    for (const Group& group : picture.groups)
        groups.push_back({{"selection", show::elements_text(show, group.elements)},
                          {"elements", elements(show, group.elements)},
                          {"values", values(show, sources, group.aspects)}});
    return dump({{"state", edition},
                 {"show", show.title},
                 {"list", show.lists[show.cues[picture.cue].list].name},
                 {"cue", number(show, picture.cue)},
                 {"label", show.cues[picture.cue].label},
                 {"lit", picture.lit},
                 {"dark", picture.dark},
                 {"preset", picture.preset},
                 {"waving", picture.waving},
                 {"groups", std::move(groups)}});
}

}  // namespace tallow::cues
