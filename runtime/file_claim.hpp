// Whose a file is, whether it is there or not.
#pragma once

#include <string>

namespace tallow::runtime {

// Tells other processes of this machine that a file is this one's, for as long as this stands and however the
// process ends. By a name in Linux's space of abstract sockets (unix(7)), so nothing is left behind.
class FileClaim {
  public:
    FileClaim() = default;
    ~FileClaim();
    FileClaim(FileClaim&& other) noexcept;
    FileClaim& operator=(FileClaim&&) = delete;
    FileClaim(const FileClaim&) = delete;
    FileClaim& operator=(const FileClaim&) = delete;

    // Whether the file at the path is ours from now on; it stays so. Where the system cannot tell, it is.
    bool take(const std::string& path);

  private:
    int fd_ = -1;
};

}  // namespace tallow::runtime
