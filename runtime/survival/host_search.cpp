#include "runtime/survival/host_search.hpp"

#include <algorithm>
#include <condition_variable>
#include <fmt/format.h>
#include <mutex>
#include <system_error>
#include <thread>

namespace tallow::runtime {

struct HostSearch::Shared {
    std::mutex mutex;  // over all below, never held while a host is looked up
    std::condition_variable wakes;
    bool ends = false;
    std::optional<SocketAddress> found;

    void run(const Host& host, const FindHost& find, const SearchPauses& pauses);
};

void HostSearch::Shared::run(const Host& host, const FindHost& find, const SearchPauses& pauses) {
    std::unique_lock lock(mutex);
    for (auto pause = pauses.first; !wakes.wait_for(lock, pause, [&] { return ends; });
         pause = std::min(2 * pause, pauses.longest)) {
        lock.unlock();
        const auto at = find(host);
        lock.lock();
        if (!at.ok()) continue;
        found = *at;
        return;
    }
}

Result<std::unique_ptr<HostSearch>> HostSearch::start(const Host& host, FindHost find, SearchPauses pauses) {
    auto shared = std::make_shared<Shared>();
    try {
        std::thread([=] { shared->run(host, find, pauses); }).detach();
    } catch (const std::system_error& error) {
        return Status::failure(
            fmt::format("cannot start a thread: {}; check the limit on processes", error.code().message()));
    }
    return std::unique_ptr<HostSearch>(new HostSearch(std::move(shared)));
}

HostSearch::~HostSearch() {
    {
        const std::lock_guard lock(shared_->mutex);
        shared_->ends = true;
    }
    shared_->wakes.notify_one();
}

std::optional<SocketAddress> HostSearch::found() const {
    const std::lock_guard lock(shared_->mutex);
    return shared_->found;
}

}  // namespace tallow::runtime
