// Looks up a host that was not found, again and again, on a thread of its own: a name server may take seconds
// to answer, and nobody waits for it.
#pragma once

#include <chrono>
#include <functional>
#include <memory>
#include <optional>

#include "runtime/output/udp_address.hpp"
#include "runtime/status.hpp"

namespace tallow::runtime {

// Where a host is, or why that is not known. It may take its time.
using FindHost = std::function<Result<SocketAddress>(const Host&)>;

struct SearchPauses {
    std::chrono::milliseconds first{1000};     // before it is looked up again; doubled for each further time,
    std::chrono::milliseconds longest{30000};  // up to this
};

class HostSearch {
  public:
    // Fails when there is no thread.
    static Result<std::unique_ptr<HostSearch>> start(const Host& host, FindHost find, SearchPauses pauses);
    // Waits for no look-up that is under way: that is left behind with its thread.
    ~HostSearch();
    HostSearch(const HostSearch&) = delete;
    HostSearch& operator=(const HostSearch&) = delete;

    // Once it is found. Never waits.
    std::optional<SocketAddress> found() const;

  private:
    struct Shared;
    explicit HostSearch(std::shared_ptr<Shared> shared) : shared_(std::move(shared)) {}

    std::shared_ptr<Shared> shared_;  // with the thread, which may outlive this
};

}  // namespace tallow::runtime
