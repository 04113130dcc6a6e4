// A show's files: the first one and all that it uses.
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "compiler/source/diagnostics.hpp"
#include "compiler/syntax/document.hpp"
#include "runtime/status.hpp"

namespace tallow::show {

// How a path becomes bytes; tests put their own in.
using ReadFile = std::function<runtime::Result<std::string>(const std::string& path)>;

inline constexpr std::size_t file_bytes = std::size_t{64} << 20;  // of all files of one show
inline constexpr std::size_t deepest_use = 200;                   // files that stand in one another
inline constexpr std::size_t files_at_most = 10'000;              // of one show

// Reads from disk, within file_bytes.
runtime::Result<std::string> read_from_disk(const std::string& path);

// A file that a command of ours has made, and no show's text, is a failure.
runtime::Status check_kind(const std::string& path, std::string_view bytes);

// Reads `path` and, in turn, what it uses, each file once. A failure means that the first file itself could
// not be read; all else goes to the sink. The built-in types come first.
runtime::Result<std::vector<syntax::Document>> load(const std::string& path, const ReadFile& read,
                                                    source::Sources& sources, source::Sink& sink);

}  // namespace tallow::show
