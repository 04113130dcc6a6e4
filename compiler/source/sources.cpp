#include "compiler/source/sources.hpp"

#include <algorithm>
#include <cstring>

#include "compiler/text/utf8.hpp"

namespace tallow::source {

FileId Sources::add(std::string path, std::string text) {
    File file{std::move(path), std::move(text), {0}};
    const char* const begin = file.text.data();
    const char* const end = begin + file.text.size();
    for (const char* at = begin; at < end; ++at) {
        at = static_cast<const char*>(std::memchr(at, '\n', static_cast<std::size_t>(end - at)));
        if (at == nullptr) break;
        file.line_begins.push_back(static_cast<std::uint32_t>(at + 1 - begin));
    }
    files_.push_back(std::move(file));
    return static_cast<FileId>(files_.size() - 1);
}

std::uint32_t Sources::line_begin(FileId file, std::uint32_t offset) const {
    const auto& begins = files_[file].line_begins;
    return *(std::upper_bound(begins.begin(), begins.end(), offset) - 1);
}

std::string_view Sources::line(FileId file, std::uint32_t offset) const {
    std::string_view rest = text(file).substr(line_begin(file, offset));
    rest = rest.substr(0, rest.find('\n'));
    if (rest.ends_with('\r')) rest.remove_suffix(1);
    return rest;
}

Position Sources::position(FileId file, std::uint32_t offset) const {
    const auto& begins = files_[file].line_begins;
    const std::uint32_t begin = line_begin(file, offset);
    const auto line = std::upper_bound(begins.begin(), begins.end(), offset) - begins.begin();
    std::string_view before = text(file).substr(begin, offset - begin);
    if (begin == 0 && before.starts_with("\xef\xbb\xbf"))
        before.remove_prefix(3);  // a byte-order mark is no column
    return {static_cast<std::uint32_t>(line), static_cast<std::uint32_t>(text::count(before)) + 1};
}

}  // namespace tallow::source
