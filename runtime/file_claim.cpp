#include "runtime/file_claim.hpp"

#include <cerrno>
#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

namespace tallow::runtime {
namespace {

int open_to_lock(const std::string& path) {
    return ::open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK);
}

bool same_file(int a, int b) {
    struct stat one {
    }, other{};
    return ::fstat(a, &one) == 0 && ::fstat(b, &other) == 0 && one.st_dev == other.st_dev &&
           one.st_ino == other.st_ino;
}

}  // namespace

FileClaim::~FileClaim() {
    if (fd_ >= 0) ::close(fd_);
}

void FileClaim::take(const std::string& path) {
    const int fd = open_to_lock(path);
    if (fd < 0) return;
    static_cast<void>(::flock(fd, LOCK_EX | LOCK_NB));
    if (fd_ >= 0) ::close(fd_);
    fd_ = fd;
}

bool FileClaim::taken_by_another(const std::string& path) const {
    const int fd = open_to_lock(path);
    if (fd < 0) return false;
    const bool ours = fd_ >= 0 && same_file(fd, fd_);
    const bool taken = !ours && ::flock(fd, LOCK_EX | LOCK_NB) != 0 && errno == EWOULDBLOCK;
    ::close(fd);
    return taken;
}

}  // namespace tallow::runtime
