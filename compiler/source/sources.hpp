// The files of a show, and places in them.
#pragma once

#include <cstdint>
#include <deque>
#include <string>
#include <string_view>
#include <vector>

namespace tallow::source {

using FileId = std::uint32_t;

// A stretch of a file's bytes, [begin, end).
struct Span {
    FileId file = 0;
    std::uint32_t begin = 0, end = 0;
    auto operator<=>(const Span&) const = default;
};

// From the first byte of one to the last of the other; both in one file.
constexpr Span join(Span a, Span b) {
    return {a.file, a.begin, b.end > a.end ? b.end : a.end};
}

// Counted from 1; columns are characters.
struct Position {
    std::uint32_t line = 1, column = 1;
};

// Keeps the text of every file that was read. References to it stay good.
class Sources {
  public:
    FileId add(std::string path, std::string text);
    std::size_t size() const { return files_.size(); }
    const std::string& path(FileId file) const { return files_[file].path; }
    std::string_view text(FileId file) const { return files_[file].text; }
    std::string_view text(Span span) const {
        return text(span.file).substr(span.begin, span.end - span.begin);
    }

    Position position(FileId file, std::uint32_t offset) const;
    // The line that holds the offset, without its line end, and where it begins.
    std::string_view line(FileId file, std::uint32_t offset) const;
    std::uint32_t line_begin(FileId file, std::uint32_t offset) const;

  private:
    struct File {
        std::string path, text;
        std::vector<std::uint32_t> line_begins;
    };
    std::deque<File> files_;
};

}  // namespace tallow::source
