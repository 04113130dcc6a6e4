#include "runtime/files.hpp"

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <fcntl.h>
#include <filesystem>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

namespace tallow::runtime {
namespace {

Status system_failure(std::string_view tried, const std::string& path, std::string_view cure) {
    const int error = errno;
    return Status::failure(fmt::format("cannot {} `{}`: {}; {}", tried, path, std::strerror(error), cure));
}

Status write_all(int fd, std::string_view bytes, const std::string& path) {
    while (!bytes.empty()) {
        const ssize_t n = ::write(fd, bytes.data(), bytes.size());
        if (n < 0 && errno == EINTR) continue;
        if (n < 0) return system_failure("write", path, "free some space, or write to another place");
        bytes.remove_prefix(static_cast<std::size_t>(n));
    }
    return {};
}

// The permissions that a plain open would have left or given.
mode_t usual_mode(const std::string& path) {
    struct stat st {};
    if (::stat(path.c_str(), &st) == 0 && S_ISREG(st.st_mode)) return st.st_mode & 07777;
    const mode_t mask = ::umask(0);
    ::umask(mask);
    return 0666 & ~mask;
}

}  // namespace

Result<std::string> read_file(const std::string& path, std::size_t limit) {
    const int fd =
        path == "-" ? ::fcntl(STDIN_FILENO, F_DUPFD_CLOEXEC, 0) : ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
    if (fd < 0) return system_failure("open", path, "check the name and that you may read it");
    std::string bytes;
    struct stat st {};
    if (::fstat(fd, &st) == 0 && S_ISREG(st.st_mode) && static_cast<std::size_t>(st.st_size) <= limit)
        bytes.reserve(static_cast<std::size_t>(st.st_size) + 1);
    Status status;
    for (;;) {
        const std::size_t old = bytes.size();
        const std::size_t step = std::max<std::size_t>(bytes.capacity() - old, 65536);
        bytes.resize(old + step);
        const ssize_t n = ::read(fd, bytes.data() + old, step);
        bytes.resize(old + (n > 0 ? static_cast<std::size_t>(n) : 0));
        if (n < 0 && errno == EINTR) continue;
        if (n < 0) status = system_failure("read", path, "check that it is a file and that you may read it");
        if (bytes.size() > limit)
            status =
                Status::failure(fmt::format("cannot read `{}`: it is larger than {} bytes", path, limit));
        if (n <= 0 || !status.ok()) break;
    }
    ::close(fd);
    if (!status.ok()) return status;
    return bytes;
}

Status write_file(const std::string& path, std::string_view bytes) {
    if (path == "-") return write_all(STDOUT_FILENO, bytes, "standard output");
    FileWriter file;
    if (auto s = file.open(path); !s.ok()) return s;
    if (auto s = file.write(bytes); !s.ok()) return s;
    return file.commit();
}

Status may_write(const std::string& output, const std::string& input) {
    std::error_code none_there;
    if (output != "-" && std::filesystem::equivalent(output, input, none_there))
        return Status::failure(
            fmt::format("`{}` is what is read, and would be lost; write to another place", output));
    if (output.ends_with(".tallow"))
        return Status::failure(
            fmt::format("`{}` is a name of a show's text; give the output another one", output));
    return {};
}

FileWriter::~FileWriter() {
    if (fd_ < 0) return;
    ::close(fd_);
    if (!part_.empty()) ::unlink(part_.c_str());
}

Status FileWriter::open(const std::string& path) {
    std::error_code none_there;
    path_ = std::filesystem::canonical(path, none_there).string();  // where a link leads to
    if (none_there) path_ = path;
    const auto there = std::filesystem::status(path_, none_there).type();
    using Type = std::filesystem::file_type;
    if (there == Type::character || there == Type::block || there == Type::fifo) {
        fd_ = ::open(path_.c_str(), O_WRONLY | O_CLOEXEC);
        return fd_ < 0 ? system_failure("write to", path_, "check that you may write there") : Status{};
    }
    if (there == Type::directory)
        return Status::failure(fmt::format("`{}` is a folder; give the name of a file in it", path));
    part_ = path_ + ".part-XXXXXX";
    fd_ = ::mkostemp(part_.data(), O_CLOEXEC);
    if (fd_ < 0)
        return system_failure("make a file beside", path,
                              "check that its folder is there and that you may write in it");
    return {};
}

Status FileWriter::write(std::string_view bytes) {
    return write_all(fd_, bytes, path_);
}

Status FileWriter::overwrite(std::uint64_t offset, std::string_view bytes) {
    if (::lseek(fd_, static_cast<off_t>(offset), SEEK_SET) < 0)
        return system_failure("seek in", path_, "write to a plain file");
    if (auto s = write_all(fd_, bytes, path_); !s.ok()) return s;
    if (::lseek(fd_, 0, SEEK_END) < 0) return system_failure("seek in", path_, "write to a plain file");
    return {};
}

Status FileWriter::commit() {
    if (part_.empty()) {
        const int fd = std::exchange(fd_, -1);
        return ::close(fd) < 0 ? system_failure("finish", path_, "write to another place") : Status{};
    }
    if (::fchmod(fd_, usual_mode(path_)) < 0 || ::fsync(fd_) < 0)
        return system_failure("finish", path_, "free some space, or write to another place");
    if (::rename(part_.c_str(), path_.c_str()) < 0)
        return system_failure("replace", path_, "check that it is not a folder and that you may write there");
    ::close(fd_);
    fd_ = -1;
    return {};
}

}  // namespace tallow::runtime
