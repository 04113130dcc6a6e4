#include "compiler/fit/patch_text.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <sstream>

#include "compiler/source/diagnostics.hpp"
#include "compiler/syntax/document.hpp"
#include "compiler/syntax/format.hpp"

namespace tallow::fit {
namespace {

// What a fixture's own patch line says of its response, in its own words; empty where it says nothing.
std::string response_words(const std::string& line) {
    std::istringstream words(line);
    std::string out;
    bool inside = false, address = false;
    for (std::string word; words >> word;) {
        if (address && word.find_first_not_of("0123456789/") == std::string::npos) continue;
        address = word == "at";
        if (address || word == "ganged") continue;
        inside = inside || word == "response" || word == "preheat" || word == "floor";
        if (inside) out += " " + word;
    }
    return out;
}

// Fixtures of one name that one line patches.
struct Line {
    Index first = show::none;
    std::uint32_t last_number = 0, size = 0;  // size: of all slots that it takes
    bool ganged = false, aside = false;
    std::string kind;  // what stands behind the numbers
};

class Writer {
  public:
    Writer(const show::Show& show, const source::Sources& sources, const Plan& plan,
           const std::vector<Slot>& at)
        : show_(show), sources_(sources), plan_(plan), at_(at), bodies_(show.fixtures.size()) {}

    std::string run() {
        std::vector<Index> order = patch_order(show_);
        for (const Index f : order) bodies_[plan_.leader[f]].push_back(f);
        std::erase_if(order, [&](Index f) { return plan_.leader[f] != f; });
        std::stable_sort(order.begin(), order.end(), [&](Index a, Index b) { return at_[a] < at_[b]; });
        for (const Index f : order) add_gang(f);
        flush();
        return syntax::format(text_);
    }

  private:
    std::string kind_of(Index f) const {
        const show::Type& type = show_.types[show_.fixtures[f].type];
        std::string words = type.name;
        if (plan_.mode[f] != 0) words += " " + type.modes[plan_.mode[f]].name;
        if (show_.fixtures[f].response != type.response)
            words += response_words(std::string(sources_.text(show_.fixtures[f].span)));
        return words;
    }

    // A gang is a line for each row of numbers; the first stands in the row of addresses.
    void add_gang(Index leader) {
        const std::vector<Index>& bodies = bodies_[leader];
        for (std::size_t from = 0; from < bodies.size();) {
            std::size_t to = from + 1;
            while (to < bodies.size() && goes_on(bodies[to - 1], bodies[to])) ++to;
            Line line{bodies[from],   show_.fixtures[bodies[to - 1]].number, 0, bodies.size() > 1, from > 0,
                      kind_of(leader)};
            line.size = from > 0 ? 0 : footprint(show_, plan_, leader);
            add(line);
            from = to;
        }
    }

    bool goes_on(Index before, Index after) const {
        const show::Fixture &a = show_.fixtures[before], &b = show_.fixtures[after];
        return a.name == b.name && a.number != 0 && b.number == a.number + 1;
    }

    void add(const Line& line) {
        const show::Fixture& f = show_.fixtures[line.first];
        const bool joins = line_.first != show::none && !line.ganged && !line_.ganged && f.number != 0 &&
                           show_.fixtures[line_.first].name == f.name && line_.last_number + 1 == f.number &&
                           line_.kind == line.kind && at_[line.first] == next_slot();
        if (joins) {
            line_.last_number = f.number;
            line_.size += line.size;
            return;
        }
        flush();
        line_ = line;
    }

    Slot next_slot() const {
        const Slot first = at_[line_.first];
        return {first.universe, static_cast<std::uint16_t>(first.slot + line_.size)};
    }

    void flush() {
        if (line_.first == show::none) return;
        const show::Fixture& f = show_.fixtures[line_.first];
        const Slot at = at_[line_.first];
        const bool aside = line_.aside || (f.aside && at != row_ && !text_.empty());
        if (!aside && at != row_) text_ += fmt::format("patch {}/{}\n", at.universe, at.slot);
        std::string numbers = f.number == 0 ? "" : fmt::format(" {}", f.number);
        if (line_.last_number != f.number) numbers += fmt::format("..{}", line_.last_number);
        text_ += fmt::format("    {}{}  {}", f.name, numbers, line_.kind);
        if (line_.ganged) text_ += "  ganged";
        if (aside) text_ += fmt::format("  at {}/{}", at.universe, at.slot);
        text_ += '\n';
        if (!aside) row_ = next_slot();
    }

    const show::Show& show_;
    const source::Sources& sources_;
    const Plan& plan_;
    const std::vector<Slot>& at_;
    std::vector<std::vector<Index>> bodies_;  // by leader
    std::string text_;
    Line line_;       // being gathered
    Slot row_{0, 0};  // where the row of the present `patch` goes on
};

// A text without what stands in these stretches of it.
std::string cut_out(std::string_view text, const std::vector<source::Span>& parts) {
    std::string kept;
    std::uint32_t from = 0;
    for (const source::Span& part : parts) {
        kept += text.substr(from, part.begin - from);
        from = part.end;
    }
    return kept + std::string(text.substr(from));
}

std::uint32_t line_end(std::string_view text, std::uint32_t offset) {
    const std::size_t feed = text.find('\n', offset);
    return static_cast<std::uint32_t>(feed == std::string_view::npos ? text.size() : feed + 1);
}

}  // namespace

std::string patch_text(const show::Show& show, const source::Sources& sources, const Plan& plan,
                       const std::vector<Slot>& at) {
    return Writer(show, sources, plan, at).run();
}

std::map<std::string, std::string> without_patch(const source::Sources& sources) {
    std::map<std::string, std::string> files;
    for (source::FileId file = 1; file < sources.size(); ++file) {
        source::Sources again;
        source::Sink sink;
        const std::string_view text = sources.text(file);
        syntax::Document document =
            syntax::cut(again.add(sources.path(file), std::string(text)), again, sink);
        syntax::arrange(document, again, sink);
        std::vector<source::Span> patches;
        for (const syntax::Declaration& d : document.declarations) {
            if (d.keyword != syntax::Word::patch || d.skipped) continue;
            const auto& header = document.lines[d.header];
            patches.push_back({0, header.begin, line_end(text, header.begin)});
            for (std::uint32_t l = d.first; l < d.last; ++l)
                if (document.lines[l].atom_count > 0)
                    patches.push_back({0, document.lines[l].begin, line_end(text, document.lines[l].begin)});
        }
        files[sources.path(file)] = cut_out(text, patches);
    }
    return files;
}

}  // namespace tallow::fit
