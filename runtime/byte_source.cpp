#include "runtime/byte_source.hpp"

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

namespace tallow::runtime {
namespace {

class FileBytes : public ByteSource {
  public:
    FileBytes(int fd, std::uint64_t size) : fd_(fd), size_(size) {}
    ~FileBytes() override { ::close(fd_); }
    FileBytes(const FileBytes&) = delete;
    FileBytes& operator=(const FileBytes&) = delete;
    std::uint64_t size() const override { return size_; }
    bool read_at(std::uint64_t offset, std::span<std::uint8_t> out) override {
        while (!out.empty()) {
            const ssize_t n = ::pread(fd_, out.data(), out.size(), static_cast<off_t>(offset));
            if (n < 0 && errno == EINTR) continue;
            if (n <= 0) return false;
            out = out.subspan(static_cast<std::size_t>(n));
            offset += static_cast<std::uint64_t>(n);
        }
        return true;
    }

  private:
    int fd_;
    std::uint64_t size_;
};

class MemoryBytes : public ByteSource {
  public:
    explicit MemoryBytes(Bytes bytes) : bytes_(std::move(bytes)) {}
    std::uint64_t size() const override { return bytes_.size(); }
    bool read_at(std::uint64_t offset, std::span<std::uint8_t> out) override {
        if (offset > bytes_.size() || out.size() > bytes_.size() - offset) return false;
        std::copy_n(bytes_.begin() + static_cast<std::ptrdiff_t>(offset), out.size(), out.begin());
        return true;
    }

  private:
    Bytes bytes_;
};

}  // namespace

Result<std::unique_ptr<ByteSource>> open_bytes(const std::string& path) {
    const int fd = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
    struct stat st {};
    if (fd < 0 || ::fstat(fd, &st) < 0) {
        const int error = errno;
        if (fd >= 0) ::close(fd);
        return Status::failure(fmt::format("cannot open `{}`: {}; check the name and that you may read it",
                                           path, std::strerror(error)));
    }
    if (!S_ISREG(st.st_mode)) {
        ::close(fd);
        return Status::failure(fmt::format("cannot read `{}`: it is not a plain file; give a file", path));
    }
    return std::unique_ptr<ByteSource>(
        std::make_unique<FileBytes>(fd, static_cast<std::uint64_t>(st.st_size)));
}

std::unique_ptr<ByteSource> bytes_in_memory(Bytes bytes) {
    return std::make_unique<MemoryBytes>(std::move(bytes));
}

}  // namespace tallow::runtime
