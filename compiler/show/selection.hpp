// Selections: which fixtures and cells a line speaks of, in order.
#pragma once

#include <string>
#include <unordered_map>

#include "compiler/show/scope.hpp"

namespace tallow::show {

// `x`, `depth` or `height`; none, and nothing taken, where the next atom is none of them.
std::optional<Axis> take_axis(Reader& reader);
// Reports that nothing says where an element hangs.
void report_no_position(const Show& show, Reader& reader, Span where, Element element);

// Reads and resolves selections; the same words give the same entry of Show::selections.
class Selector {
  public:
    explicit Selector(Scope& scope) : scope_(scope) {}

    // Reads `front 1..4, cyc cells odd except house`. The index of a selection, which may be broken; none
    // after a fault before any selection could be read.
    Index read(Reader& reader);

    // What a group was declared as.
    void add_group(Index group, std::vector<Element> elements) {
        if (groups_.size() <= group) groups_.resize(group + 1);
        groups_[group] = std::move(elements);
    }
    // Called for a group that is named and not resolved yet; resolves it. False after a fault.
    std::function<bool(Index group, Reader& reader)> need_group;

    // While set, each body of a gang counts by itself, as for places, power and data; a group or `all` has
    // them all.
    bool bodies = false;

    // Reads a selection without keeping it. `open` lets it end in a comma, as a group's line may that goes on
    // below.
    std::vector<Element> evaluate(Reader& reader, bool& broken, bool open = false);
    // Without those named, and without the cells of a fixture that is.
    static void take_away(std::vector<Element>& from, const std::vector<Element>& what);
    // Each element once, at its first place; a gang as its first fixture; broken fixtures fall away.
    void unify(std::vector<Element>& elements);

  private:
    struct Row {  // elements on their way, and what odd and even count by
        std::vector<Element> elements;
        std::vector<std::uint32_t> numbers;  // of fixtures; empty where places count
        std::string_view name;
        Span span{};
    };
    Row item(Reader& reader, const Symbol*& last, bool& broken);
    void numbered(Reader& reader, const Symbol& set, Row& row, bool& broken);
    void modifiers(Reader& reader, Row& row, bool& broken);
    void take_cells(Reader& reader, Row& row, bool& broken);
    void take_order(Reader& reader, Row& row, bool& broken);
    void take_every(Reader& reader, Row& row, bool& broken);
    void take_odd_or_even(Reader& reader, Row& row, bool& broken);
    void keep_odd_or_even(Row& row, bool odd) const;
    Row whole_set(const Symbol& symbol) const;
    Index member(const FixtureSet& set, std::int64_t number) const;
    const std::vector<Element>& everything();
    void spread_gangs(std::vector<Element>& elements);
    bool too_many(Reader& reader);

    Scope& scope_;
    std::vector<std::vector<Element>> groups_;
    text::TextIndex known_;  // sound selections, by their words
    std::vector<Element> everything_;
    std::unordered_map<Index, std::vector<Element>> gangs_;  // all bodies, by their leader
    std::size_t gathered_ = 0;                               // elements of all selections and groups
    std::vector<std::uint32_t> met_;                         // by fixture: the last round that met it
    std::uint32_t round_ = 0;                                // of unify
};

}  // namespace tallow::show
