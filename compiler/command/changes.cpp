// Folders are watched, not files: an editor that saves by renaming puts another file in a name's place.
#include "compiler/command/changes.hpp"

#include <algorithm>
#include <array>
#include <cerrno>
#include <chrono>
#include <csignal>
#include <cstring>
#include <filesystem>
#include <fmt/format.h>
#include <map>
#include <poll.h>
#include <set>
#include <sys/inotify.h>
#include <sys/signalfd.h>
#include <unistd.h>
#include <utility>

namespace tallow::command {
namespace {

using runtime::Result;
using runtime::Status;
namespace fs = std::filesystem;

constexpr std::uint32_t mask =
    IN_CREATE | IN_DELETE | IN_MOVED_FROM | IN_MOVED_TO | IN_MODIFY | IN_CLOSE_WRITE | IN_ATTRIB | IN_ONLYDIR;

Status failure(int error, std::string_view tried) {
    const std::string_view cure =
        error == ENOSPC
            ? "raise the limit with `sysctl fs.inotify.max_user_watches=…`, or end programs that watch files"
        : error == EMFILE || error == ENFILE ? "raise the limits of open files and of `sysctl "
                                               "fs.inotify.max_user_instances=…`, or end programs "
                                               "that watch files"
                                             : "check that it is there and that you may read it";
    return Status::failure(fmt::format("cannot {}: {}; {}", tried, std::strerror(error), cure));
}

class InotifyChanges : public Changes {
  public:
    explicit InotifyChanges(int events) : events_(events) {}
    ~InotifyChanges() override {
        ::close(events_);
        if (signals_ < 0) return;
        ::close(signals_);
        ::sigprocmask(SIG_SETMASK, &blocked_before_, nullptr);
    }
    InotifyChanges(const InotifyChanges&) = delete;
    InotifyChanges& operator=(const InotifyChanges&) = delete;

    Status hear_signals() {
        sigset_t ends;
        sigemptyset(&ends);
        sigaddset(&ends, SIGINT);
        sigaddset(&ends, SIGTERM);
        ::sigprocmask(SIG_BLOCK, &ends, &blocked_before_);
        signals_ = ::signalfd(-1, &ends, SFD_CLOEXEC);
        if (signals_ >= 0) return {};
        const int error = errno;
        ::sigprocmask(SIG_SETMASK, &blocked_before_, nullptr);
        return failure(error, "watch for changes");
    }

    void begin() override { before_ = std::exchange(watched_, {}); }

    Status follow(const std::string& path) override {
        std::error_code error;
        const fs::path place = fs::absolute(path, error).lexically_normal();
        if (auto s = follow_to(place, path); !s.ok()) return s;
        const fs::path target = fs::canonical(place, error);  // where links lead to
        return error || target == place ? Status() : follow_to(target, path);
    }

    void end() override {
        for (const auto& [watch, names] : before_)
            if (!watched_.contains(watch)) ::inotify_rm_watch(events_, watch);
        before_.clear();
    }

    Result<Happened> wait(std::optional<int> milliseconds) override {
        using Clock = std::chrono::steady_clock;
        const auto deadline = Clock::now() + std::chrono::milliseconds(milliseconds.value_or(0));
        for (;;) {
            const auto left =
                std::chrono::duration_cast<std::chrono::milliseconds>(deadline - Clock::now()).count();
            std::array<pollfd, 2> ready{{{events_, POLLIN, 0}, {signals_, POLLIN, 0}}};
            const int n = ::poll(ready.data(), ready.size(),
                                 milliseconds ? static_cast<int>(std::max<std::int64_t>(left, 0)) : -1);
            if (n < 0 && errno != EINTR) return failure(errno, "wait for changes");
            if (n == 0) return Happened{};
            if (n > 0 && ready[1].revents != 0) {
                signalfd_siginfo asked;
                if (::read(signals_, &asked, sizeof asked) > 0) return Happened{true, {}};
            }
            if (n > 0 && ready[0].revents != 0)
                if (auto paths = read_events(); !paths.empty())
                    return Happened{false, {paths.begin(), paths.end()}};
        }
    }

  private:
    using Names = std::map<std::string, std::set<std::string>>;  // what is in a folder: the paths it leads to

    // Watches every folder on the way to the file for the next name on it, so that folders may come, go and
    // be exchanged too. Only the lowest folder that is there must be watchable.
    Status follow_to(const fs::path& place, const std::string& path) {
        fs::path missing;
        bool watched = false;
        for (fs::path at = place; at.has_relative_path(); at = at.parent_path()) {
            const fs::path folder = at.parent_path();
            const int watch = ::inotify_add_watch(events_, folder.c_str(), mask);
            if (watch >= 0) {
                watched_[watch][at.filename().string()].insert(path);
                std::error_code error;
                if (!watched && !missing.empty() && fs::is_directory(missing, error))
                    return follow_to(place, path);  // it was made in between
                watched = true;
            } else if (errno == ENOENT || errno == ENOTDIR) {
                missing = folder;
            } else if (!watched) {
                return failure(errno, fmt::format("watch the folder `{}`", folder.string()));
            }
        }
        return {};
    }

    std::set<std::string> read_events() {
        std::set<std::string> paths;
        alignas(inotify_event) char bytes[16384];
        const ssize_t size = ::read(events_, bytes, sizeof bytes);
        for (ssize_t at = 0; at < size;) {
            inotify_event event;
            std::memcpy(&event, bytes + at, sizeof event);
            const char* const name = bytes + at + sizeof event;
            at += static_cast<ssize_t>(sizeof event + event.len);
            if ((event.mask & IN_Q_OVERFLOW) != 0)
                for (const auto& [watch, names] : watched_)
                    for (const auto& [entry, led_to] : names) paths.insert(led_to.begin(), led_to.end());
            const auto watch = watched_.find(event.wd);
            if (watch == watched_.end() || event.len == 0) continue;
            if (const auto entry = watch->second.find(name); entry != watch->second.end())
                paths.insert(entry->second.begin(), entry->second.end());
        }
        return paths;
    }

    int events_, signals_ = -1;  // no signals: poll() passes -1 over
    sigset_t blocked_before_{};
    std::map<int, Names> watched_, before_;  // by the system's number of the watch
};

}  // namespace

Result<std::unique_ptr<Changes>> system_changes(bool by_signals) {
    const int events = ::inotify_init1(IN_CLOEXEC | IN_NONBLOCK);
    if (events < 0) return failure(errno, "watch for changes");
    auto changes = std::make_unique<InotifyChanges>(events);
    if (by_signals)
        if (auto s = changes->hear_signals(); !s.ok()) return s;
    return std::unique_ptr<Changes>(std::move(changes));
}

}  // namespace tallow::command
