// Whole files in and out.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "runtime/status.hpp"

namespace tallow::runtime {

// The file's bytes; a failure names the path and what the system said. `limit` bounds its size. "-" is
// standard input.
Result<std::string> read_file(const std::string& path, std::size_t limit);

// Writes beside the path, flushes to disk and renames into place: the old file stays whole until the new one
// is. It keeps the old file's permissions, and a symbolic link stays one. What stands there and is no plain
// file, such as a device or a pipe, is written into. "-" is standard output.
Status write_file(const std::string& path, std::string_view bytes);

// Whether a command that reads `input` may write `output`: not over what it reads, and not over a show's
// text.
Status may_write(const std::string& output, const std::string& input);

// The same for bytes that come in pieces: nothing stands at the path until commit(); a writer that goes
// without it takes its part file along.
class FileWriter {
  public:
    FileWriter() = default;
    ~FileWriter();
    FileWriter(const FileWriter&) = delete;
    FileWriter& operator=(const FileWriter&) = delete;
    Status open(const std::string& path);
    Status write(std::string_view bytes);
    Status overwrite(std::uint64_t offset, std::string_view bytes);  // bytes already written, in place
    Status commit();

  private:
    std::string path_, part_;  // no part where it is written into
    int fd_ = -1;
};

}  // namespace tallow::runtime
