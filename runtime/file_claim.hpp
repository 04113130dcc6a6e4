// Whose a file is that is replaced again and again.
#pragma once

#include <string>

namespace tallow::runtime {

// Tells other processes that a file is this one's for as long as it runs, however it ends. By flock(2): it
// keeps off those who ask, and where a file system has no locks nobody is seen.
class FileClaim {
  public:
    FileClaim() = default;
    ~FileClaim();
    FileClaim(const FileClaim&) = delete;
    FileClaim& operator=(const FileClaim&) = delete;

    // What stands at the path now is ours, and what stood there before is not any more.
    void take(const std::string& path);
    // Whether what stands there is claimed, and not by this.
    bool taken_by_another(const std::string& path) const;

  private:
    int fd_ = -1;  // of the file that is ours
};

}  // namespace tallow::runtime
