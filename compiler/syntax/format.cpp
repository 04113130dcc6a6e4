// Reads the file's lines as rows of cells; gives each cell its column, then each comment its own; writes all.
#include "compiler/syntax/format.hpp"

#include <algorithm>
#include <span>
#include <vector>

#include "compiler/syntax/cells.hpp"
#include "compiler/syntax/plain.hpp"
#include "compiler/text/utf8.hpp"

namespace tallow::syntax {
namespace {

constexpr std::size_t indent = 4;
constexpr std::size_t gap = 2;            // blanks between columns, and before a comment
constexpr std::size_t narrowest = 8;      // of the first column under a header, so that cues look alike
constexpr std::size_t widest_cell = 28;   // a wider one does not move its column
constexpr std::size_t widest_first = 18;  // nor does a first cell under a header, such as a long selection
constexpr std::size_t widest_line = 76;   // a wider one does not move its neighbours' comments

struct Laid {
    std::string text;
    std::size_t width, column;
};

struct Row {
    enum class Kind { empty, as_it_is, comment, line };
    Kind kind = Kind::empty;
    std::string_view raw;      // without its line end
    std::vector<Laid> cells;   // of a line
    std::string_view comment;  // with its hash
    bool indented = false;
    bool continues = false;  // a comment alone, which goes on below the one behind the line above
    std::string out;         // the laid-out cells
    std::size_t width = 0;   // of `out`
};

constexpr std::string_view byte_order_mark = "\xef\xbb\xbf";

std::string_view without_trailing_blanks(std::string_view text) {
    while (!text.empty() && (text.back() == ' ' || text.back() == '\t' || text.back() == '\r'))
        text.remove_suffix(1);
    return text;
}

class Formatter {
  public:
    explicit Formatter(std::string_view text) {
        const source::FileId file = sources_.add("", std::string(text));
        text_ = sources_.text(file);
        document_ = cut(file, sources_, sink_);
        arrange(document_, sources_, sink_);
    }

    std::string run() {
        read_rows();
        read_declarations();
        align_single_lines();
        align_comments();
        return write();
    }

  private:
    // A row for each line of the file; those that hold no atoms are settled here.
    void read_rows() {
        std::size_t at = text_.starts_with(byte_order_mark) ? byte_order_mark.size() : 0;
        std::size_t line = 0;
        std::size_t above = 0;  // the column of the comment in the row above; 0 for none
        while (at < text_.size()) {
            const std::size_t end = std::min(text_.find('\n', at), text_.size());
            Row row;
            row.raw = text_.substr(at, end - at);
            if (row.raw.ends_with('\r')) row.raw.remove_suffix(1);
            const Line* found = nullptr;
            if (line < document_.lines.size() && document_.lines[line].begin == at) {
                found = &document_.lines[line];
                row_of_line_.push_back(rows_.size());
                ++line;
            }
            read_comment(row, at, found);
            const bool commented = !row.comment.empty();
            const std::size_t column =
                commented ? text::width(row.raw.substr(0, row.comment.data() - row.raw.data())) : 0;
            row.continues = row.kind == Row::Kind::comment && row.indented && above != 0 && column == above;
            above = row.continues || (row.kind == Row::Kind::as_it_is && commented) ? column : 0;
            rows_.push_back(std::move(row));
            at = end + 1;
        }
    }

    void read_comment(Row& row, std::size_t begin, const Line* line) {
        const bool atoms = line != nullptr && line->atom_count > 0;
        if (atoms && line->broken) {
            row.kind = Row::Kind::as_it_is;
            return;
        }
        std::size_t behind = begin;
        if (atoms) {
            const Atom& last = document_.atoms_of(*line).back();
            behind = last.offset + last.length;
        }
        const std::size_t hash = row.raw.find('#', behind - begin);
        if (hash != std::string_view::npos) row.comment = without_trailing_blanks(row.raw.substr(hash));
        row.indented = hash != 0;
        row.kind = atoms ? Row::Kind::as_it_is : row.comment.empty() ? Row::Kind::empty : Row::Kind::comment;
    }

    void read_declarations() {
        CellCutter cutter(text_, parameters_ = parameter_names(document_, text_));
        for (const Declaration& d : document_.declarations) {
            std::vector<Row*> table;
            for (std::uint32_t i = d.first; i < d.last; ++i)
                if (Row* row = read_line(i, d.keyword, cutter)) table.push_back(row);
            lay_out(table, indent, narrowest);
            Row* header = is_sound(d) ? read_line(d.header, d.keyword, cutter) : nullptr;
            if (header == nullptr) continue;
            lay_out(std::span(&header, 1), 0, 0);
            if (!has_body(d)) single_.push_back({row_of_line_[d.header], d.keyword});
        }
    }

    bool has_body(const Declaration& d) const {
        return std::any_of(document_.lines.begin() + d.first, document_.lines.begin() + d.last,
                           [](const Line& line) { return line.atom_count > 0; });
    }

    // Not under a misspelt word.
    bool is_sound(const Declaration& d) const {
        const auto atoms = document_.atoms_of(document_.lines[d.header]);
        return atoms[d.skipped ? 1 : 0].word() == d.keyword;
    }

    Row* read_line(std::uint32_t index, Word declaration, CellCutter& cutter) {
        const Line& line = document_.lines[index];
        if (line.atom_count == 0 || line.broken) return nullptr;
        const auto atoms = document_.atoms_of(line);
        Row& row = rows_[row_of_line_[index]];
        row.kind = Row::Kind::line;
        const PlainText plain(text_, atoms, declaration);
        for (const Cell& cell :
             line.indented ? cutter.body(atoms, declaration) : cutter.header(atoms, declaration)) {
            std::string text = plain.of(cell.first, cell.last);
            const std::size_t width = text::width(text);
            row.cells.push_back({std::move(text), width, cell.column});
        }
        return &row;
    }

    // Columns are as wide as their widest cell, but for cells that end a row or are too wide themselves.
    // Of headers the titles alone are a column.
    static void lay_out(std::span<Row* const> rows, std::size_t margin, std::size_t first_width) {
        std::vector<std::size_t> widths{first_width};
        for (const Row* row : rows)
            for (std::size_t c = 0; c < row->cells.size(); ++c) {
                const Laid& cell = row->cells[c];
                if (widths.size() <= cell.column) widths.resize(cell.column + 1);
                const std::size_t widest =
                    margin == 0 ? (c == 0 ? widest_cell : 0) : (c == 0 ? widest_first : widest_cell);
                if (c + 1 < row->cells.size() && cell.width <= widest)
                    widths[cell.column] = std::max(widths[cell.column], cell.width);
            }
        std::vector<std::size_t> starts{margin};
        for (const std::size_t width : widths) starts.push_back(starts.back() + width + gap);
        for (Row* row : rows) {
            row->out.clear();
            row->width = 0;
            for (const Laid& cell : row->cells) {
                const std::size_t least = row->width == 0 ? 0 : row->width + gap;
                const std::size_t start = std::max(starts[cell.column], least);
                row->out.append(start - row->width, ' ').append(cell.text);
                row->width = start + cell.width;
            }
        }
    }

    // Neighbouring declarations of one line and one word, such as palettes, are one table.
    void align_single_lines() {
        for (std::size_t i = 0; i < single_.size();) {
            std::vector<Row*> table;
            const std::size_t first = i;
            for (; i < single_.size() && single_[i].keyword == single_[first].keyword &&
                   single_[i].row == single_[first].row + (i - first);
                 ++i)
                table.push_back(&rows_[single_[i].row]);
            lay_out(table, 0, 0);
        }
    }

    static bool has_side_comment(const Row& row) {
        return (row.kind == Row::Kind::line && !row.comment.empty()) || row.continues;
    }

    void align_comments() {
        for (std::size_t i = 0; i < rows_.size(); ++i)
            rows_[i].continues = rows_[i].continues && has_side_comment(rows_[i - 1]);
        for (std::size_t i = 0; i < rows_.size();) {
            const std::size_t first = i;
            std::size_t column = 0;
            for (; i < rows_.size() && has_side_comment(rows_[i]); ++i)
                if (rows_[i].width <= widest_line) column = std::max(column, rows_[i].width + gap);
            std::size_t place = 0;
            for (std::size_t r = first; r < i; ++r) {
                Row& row = rows_[r];
                if (!row.continues) place = std::max(column, row.width + gap);
                row.out.append(place - row.width, ' ').append(row.comment);
            }
            i = std::max(i, first + 1);
        }
    }

    std::string write() const {
        std::string all;
        all.reserve(text_.size() + text_.size() / 4);
        bool empty_above = true;  // none at the beginning, one at the most, none at the end
        for (const Row& row : rows_) {
            const bool empty = row.kind == Row::Kind::empty;
            if (!empty && empty_above && !all.empty()) all += '\n';
            empty_above = empty;
            if (!empty) write_row(row, all);
        }
        // A second mark would be taken for the first one next time.
        return all.starts_with(byte_order_mark) ? std::string(byte_order_mark) + all : all;
    }

    static void write_row(const Row& row, std::string& all) {
        if (row.kind == Row::Kind::as_it_is) {
            all += row.raw;
            if (row.raw.ends_with('\r')) all += '\r';  // or it would go with the line end next time
        } else if (row.kind == Row::Kind::line || row.continues) {
            all += row.out;
        } else {
            all.append(row.indented ? indent : 0, ' ').append(row.comment);
        }
        all += '\n';
    }

    struct SingleLine {
        std::size_t row;
        Word keyword;
    };

    source::Sources sources_;
    source::Sink sink_;
    std::string_view text_;
    Document document_;
    std::set<std::string_view> parameters_;
    std::vector<Row> rows_;
    std::vector<std::size_t> row_of_line_;  // by the index of a line in the document
    std::vector<SingleLine> single_;
};

}  // namespace

std::string format(std::string_view text) {
    return Formatter(text).run();
}

}  // namespace tallow::syntax
