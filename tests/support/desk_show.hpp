// A show on a desk, compiled from text, and its sheets as a reader of the JSON gets them.
#pragma once

#include <map>
#include <memory>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "compiler/command/compilation.hpp"
#include "compiler/desk/sheets.hpp"

namespace tallow::test {

struct DeskShow {
    std::unique_ptr<command::Compilation> compiled;
    emit::SheetSet sheets;
    nlohmann::json json;
    const nlohmann::json& table(const char* id) const { return json.at("tables").at(id); }
};

// The first desk of the show; an empty layout is the one that loses least.
DeskShow desk_show(const std::string& text, const std::string& layout = "");

// What the sheets say the desk cannot do, of one kind; with its cue ahead, `2.5: …`, where that is asked for.
enum class WithCue : bool { no, yes };
std::vector<std::string> losses(const DeskShow& show, const std::string& kind, WithCue cue = WithCue::no);

// For each cue (thousandths) the lowest and highest of every slot of the first universe from its completion
// to the end of a hold of `hold` milliseconds.
struct Seen {
    std::vector<int> low, high;
};
std::map<std::uint32_t, Seen> settled_frames(DeskShow& show, std::uint64_t hold);

}  // namespace tallow::test
