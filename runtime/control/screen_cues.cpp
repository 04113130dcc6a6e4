#include <algorithm>
#include <fmt/format.h>

#include "runtime/control/cue_words.hpp"
#include "runtime/control/plain_text.hpp"
#include "runtime/control/screen_parts.hpp"
#include "runtime/cue_number.hpp"

namespace tallow::runtime::screen {
namespace {

constexpr unsigned word_columns = 8;     // "before", "NOW", "NEXT", "after"
constexpr unsigned narrow = 60;          // columns, below which words take less room
constexpr unsigned beside_percent = 55;  // where what a cue waits for stands
constexpr std::size_t note_lines = 12, wait_lines = 3;
constexpr std::uint32_t coming_cues = 12;  // after the next one

// Draws cues of the chosen list below one another.
class CueRows {
  public:
    CueRows(Rows& rows, const View& view)
        : rows_(rows), view_(view), roll_(*view.roll), at_(view.progress.show.lists[view.list]) {
        number_at_ = rows.columns() < narrow ? word_columns - 1 : word_columns;
        label_at_ = number_at_ + widest_number() + 2;
    }

    void before() {
        if (at_.before() != none) rows_.add(rank::around, head("before", at_.before(), false));
    }
    void now() {
        if (at_.current == none) {
            rows_.add(rank::always, line("NOW").to(number_at_).put("before the first cue", true));
            return;
        }
        const Row row = head("NOW", at_.current, true);
        std::string how = going(roll_, view_.progress.show, view_.list);
        const std::string strip = bar(at_, view_.progress.show.now);
        if (!strip.empty() && row.left() >= width(how) + strip.size() + 4) how += "  " + strip;
        with_words(row, how, false);
        note(at_.current);
    }
    void next() {
        if (at_.next == none) {
            rows_.add(rank::always, line("NEXT").to(number_at_).put("nothing: that was the last cue", true));
            return;
        }
        with_words(head("NEXT", at_.next, true), next_waits_for(roll_, view_.list, view_.progress.show),
                   true);
        note(at_.next);
    }
    void after() {
        for (std::uint32_t i = 1; i < coming(); ++i) {
            Row row = head(i == 1 ? "after" : "", at_.next + i, false);
            const std::string waits = waits_for(roll_, view_.list, at_.next + i);
            beside(row, waits);
            rows_.add(i == 1 ? rank::moving : rank::rest + i, row.put(waits));
        }
    }

  private:
    // How many cues that are still to come are shown: the next one, and some after it.
    std::uint32_t coming() const {
        const CueList& list = roll_.lists[view_.list];
        return at_.next == none ? 0 : std::min(list.first + list.count - at_.next, 1 + coming_cues);
    }
    // Of the cues that matter most; a wider one further on pushes its label aside.
    unsigned widest_number() const {
        unsigned digits = 2;
        for (const std::uint32_t cue :
             {at_.before(), at_.current, at_.next, coming() > 1 ? at_.next + 1 : none})
            if (cue != none) digits = std::max(digits, width(cue_number(roll_.cues[cue].number)));
        return digits;
    }
    Row line(std::string_view word) const {
        return Row(rows_.columns()).put(word, word == "NOW" || word == "NEXT");
    }

    Row head(std::string_view word, std::uint32_t index, bool bold) const {
        const Cue& cue = roll_.cues[index];
        Row row = line(word);
        row.to(number_at_).put(cue_number(cue.number), bold).to(std::max(label_at_, row.used() + 1));
        return row.put(plain(cue.label), bold);
    }
    // Goes to the column for further words, or to where they just fit; at least two blanks on.
    void beside(Row& row, std::string_view words) const {
        const unsigned columns = rows_.columns(), room = std::min(width(words), columns);
        row.to(std::max(row.used() + 2, std::min(columns * beside_percent / 100, columns - room)));
    }
    // Beside the label if there is room, else below it.
    void with_words(Row row, const std::string& words, bool bold) {
        if (words.empty() || row.left() >= width(words) + 2) {
            beside(row, words);
            rows_.add(rank::always, row.put(words, bold));
            return;
        }
        rows_.add(rank::always, row);
        const unsigned first = bold ? rank::cue : rank::moving;
        rows_.add_text({first, first, rank::rest}, label_at_, words, wait_lines, bold);
    }
    void note(std::uint32_t cue) {
        const std::string& note = roll_.cues[cue].note;
        if (note.empty()) return;
        rows_.add_text({rank::first_note, rank::more, rank::rest}, label_at_, "note: " + plain(note),
                       note_lines);
    }

    Rows& rows_;
    const View& view_;
    const Roll& roll_;
    const Standing::List& at_;
    unsigned number_at_ = 0, label_at_ = 0;
};

std::string named(const Roll& roll, std::uint32_t cue) {
    const std::string label = plain(roll.cues[cue].label);
    return cue_number(roll.cues[cue].number) + (label.empty() ? "" : " " + label);
}

// Another list in one line.
Row short_line(const View& view, std::uint32_t list, unsigned columns) {
    const Roll& roll = *view.roll;
    const Standing& show = view.progress.show;
    const Standing::List& at = show.lists[list];
    Row row(columns);
    row.put(plain(roll.lists[list].name)).to(word_columns).put(row.used() >= word_columns ? " " : "");
    const bool short_of_room = columns < narrow && at.next != none;
    if (at.current == none)
        row.put("not begun; ");
    else if (!short_of_room)  // half of it is for the next one
        row.put(cut(fmt::format("now {}, {}", named(roll, at.current), going(roll, show, list)),
                    row.left() / 2))
            .put("; ");
    if (at.next == none) return row.put("no next cue");
    return row.put(fmt::format("next {}, {}", named(roll, at.next), next_waits_for(roll, list, show)), true);
}

}  // namespace

void add_cues(Rows& rows, const View& view) {
    CueRows cues(rows, view);
    cues.before();
    cues.now();
    rows.gap(rank::more);
    cues.next();
    rows.gap(rank::gap);
    cues.after();
    rows.gap(rank::gap);
    for (std::uint32_t list = 0; list < view.roll->lists.size(); ++list) {
        if (list == view.list) continue;
        const bool begun = view.progress.show.lists[list].current != none;
        rows.add(begun ? rank::around : rank::more, short_line(view, list, rows.columns()));
    }
    rows.gap(rank::gap);
}

void add_now_and_next(Rows& rows, const View& view) {
    CueRows cues(rows, view);
    cues.now();
    cues.next();
    rows.gap(rank::gap);
}

}  // namespace tallow::runtime::screen
