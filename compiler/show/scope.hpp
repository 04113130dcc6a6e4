// What the steps of the resolver share: the show as it grows, the names that are known, and where findings
// go.
#pragma once

#include <deque>
#include <functional>
#include <set>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "compiler/show/names.hpp"
#include "compiler/show/show.hpp"
#include "compiler/source/diagnostics.hpp"
#include "compiler/syntax/document.hpp"
#include "compiler/syntax/reader.hpp"

namespace tallow::show {

using source::Finding;
using syntax::AtomKind;
using syntax::Reader;
using syntax::Unit;
using syntax::Word;

// Fixtures of one name.
struct FixtureSet {
    std::vector<Index> members;  // into Show::fixtures, by number
    bool single = false;         // without a number
    bool broken = false;         // a member was lost to a fault: numbers that are missing are not missed
    bool gapless = false;        // each number is that of the member before and 1
};

// A declaration's place.
struct Place {
    const syntax::Document* document;
    const syntax::Declaration* declaration;
    const syntax::Line& header() const { return document->lines[declaration->header]; }
};

struct Scope {
    Scope(const source::Sources& all_sources, source::Sink& to,
          const std::vector<syntax::Document>& all_documents)
        : sources(all_sources), sink(to), documents(all_documents) {}

    const source::Sources& sources;
    source::Sink& sink;
    const std::vector<syntax::Document>& documents;
    Show show;
    std::vector<Item> look_parts;  // looks of which a line takes a part, to be checked when all are read
    NameTable rig;                 // fixtures, groups and palettes
    NameTable looks, waves, types, desks, chases, lists, hangs, data_runs;
    std::vector<FixtureSet> sets;                // what a Symbol::Kind::fixtures refers to
    std::set<std::string, std::less<>> dropped;  // names of lines that were dropped: not missed
    std::set<std::string, std::less<>> missed;   // unknown names that were reported

    // Every declaration of a kind, in the order of files and lines, but for those that are parked.
    std::vector<Place> declarations(Word keyword) const;
    Reader reader(const syntax::Document& document, const syntax::Line& line) const {
        return Reader(document, line, sources, sink);
    }
    // Calls read(Reader&) for each further line of a declaration.
    template <class Read>
    void each_line(const Place& place, Read read) const {
        for (std::uint32_t i = place.declaration->first; i < place.declaration->last; ++i) {
            if (place.document->lines[i].atom_count == 0) continue;
            Reader line = reader(*place.document, place.document->lines[i]);
            read(line);
        }
    }
    // A reader behind the declaration's word.
    Reader header(const Place& place) const;

    Index attribute(std::string_view name);             // its index, made when new
    Index find_attribute(std::string_view name) const;  // none when no type has it
    bool is_emitter(Index attribute) const;             // of any type

    // Reads the name that a declaration gives; one that cannot be read is not missed elsewhere.
    std::optional<std::string> new_name(Reader& reader, std::string_view what);
    // Takes a name for a new symbol: reports a bad, reserved or taken one and returns false.
    bool declare(NameTable& table, Reader& reader, Symbol symbol);
    // The symbol that the next atom names, which is taken. Reports an unknown name once, with the nearest one
    // that fits. Null when unknown, broken or of another kind; `wanted` says what is looked for: "a look".
    const Symbol* look_up(const NameTable& table, Reader& reader, std::string_view wanted,
                          const std::function<bool(const Symbol&)>& fits);
    // `otherwise`: the hint where no name is near.
    void report_unknown(const NameTable& table, Reader& reader, const syntax::Atom& atom,
                        std::string_view wanted, const std::function<bool(const Symbol&)>& fits,
                        std::string otherwise = {});
    // Whether an unknown name was brought about by another fault: a dropped line, or a file that is not
    // there.
    bool excused(std::string_view name) const { return dropped.contains(name) || sink.has(Finding::no_file); }

    // "line 7", or "line 7 of rig.tallow" for another file.
    std::string where(source::Span span, source::FileId from) const;

  private:
    std::unordered_map<std::string, Index> attribute_index_;
};

// The label of a declaration, if it has one; words without quotes are reported, those near one of `words`,
// which could stand there too, as such.
std::string read_label(Reader& reader, std::span<const Word> words = {});
// A text that has to be there: `what` says which.
std::string read_text(Reader& reader, std::string_view what);

}  // namespace tallow::show
