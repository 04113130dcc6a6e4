// One row of a screen, and how rows share the room.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace tallow::runtime {

// What is put into it ends at its last column, whatever it is.
class Row {
  public:
    explicit Row(unsigned columns) : columns_(columns) {}

    // Plain text (plain_text.hpp), cut to the room that is left.
    Row& put(std::string_view text, bool bold = false);
    // Blanks up to a column; nothing when that is passed.
    Row& to(unsigned column);
    unsigned used() const { return used_; }
    unsigned left() const { return columns_ - used_; }
    // With the terminal's marks around what is bold.
    const std::string& text() const { return text_; }

  private:
    unsigned columns_, used_ = 0;
    std::string text_;
};

// Rows from the top down, each with a rank: where room is short, those of the largest go first, among equals
// the lowest.
class Rows {
  public:
    explicit Rows(unsigned columns) : columns_(columns) {}

    unsigned columns() const { return columns_; }
    void add(unsigned rank, const Row& row) { rows_.push_back({rank, row.text(), false}); }
    void add(unsigned rank, std::string_view text, bool bold = false) {
        add(rank, Row(columns_).put(text, bold));
    }
    // Several lines of one text, from a column on: the first with a rank of its own, the second and third,
    // and the others. Where some have no room, the last of those that have ends in ` …`.
    struct Ranks {
        unsigned first, few, rest;
    };
    void add_text(const Ranks& ranks, unsigned column, std::string_view text, std::size_t lines,
                  bool bold = false);
    // A blank row, unless there is one already.
    void gap(unsigned rank);
    // What is added from here on stands at the foot of the screen.
    void foot() { foot_ = rows_.size(); }
    // So many rows.
    std::vector<std::string> fitted(std::size_t rows) const;

  private:
    struct Ranked {
        unsigned rank;
        std::string text;
        bool goes_on;  // the text of the row above, which has two columns left
    };
    unsigned columns_;
    std::vector<Ranked> rows_;
    std::size_t foot_ = 0;
};

}  // namespace tallow::runtime
