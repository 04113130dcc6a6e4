#include "runtime/file_claim.hpp"

#include <cerrno>
#include <cstddef>
#include <cstring>
#include <filesystem>
#include <fmt/format.h>
#include <sys/socket.h>
#include <sys/un.h>
#include <unistd.h>
#include <utility>

#include "runtime/hash.hpp"

namespace tallow::runtime {
namespace {

// The same for each way to write a path.
std::string name_of(const std::string& path) {
    std::error_code unknown;
    const auto whole = std::filesystem::weakly_canonical(std::filesystem::absolute(path, unknown), unknown);
    return fmt::format("tallow-{:016x}", hash(unknown ? path : whole.string()));
}

}  // namespace

FileClaim::~FileClaim() {
    if (fd_ >= 0) ::close(fd_);
}

FileClaim::FileClaim(FileClaim&& other) noexcept : fd_(std::exchange(other.fd_, -1)) {}

bool FileClaim::take(const std::string& path) {
    if (fd_ >= 0) return true;
    const std::string name = name_of(path);
    sockaddr_un at{};
    at.sun_family = AF_UNIX;
    std::memcpy(at.sun_path + 1, name.data(), name.size());  // the zero before it makes it abstract
    const auto size = static_cast<socklen_t>(offsetof(sockaddr_un, sun_path) + 1 + name.size());
    const int fd = ::socket(AF_UNIX, SOCK_DGRAM | SOCK_CLOEXEC, 0);
    if (fd < 0) return true;
    if (::bind(fd, reinterpret_cast<const sockaddr*>(&at), size) == 0) {
        fd_ = fd;
        return true;
    }
    const bool taken = errno == EADDRINUSE;
    ::close(fd);
    return !taken;
}

}  // namespace tallow::runtime
