// How the outputs of a session do, for people.
#pragma once

#include <cstdint>
#include <functional>
#include <string_view>
#include <vector>

#include "runtime/control/view.hpp"
#include "runtime/output/supervised.hpp"

namespace tallow::runtime {

// The outputs must live as long. Times are nanoseconds of the clock.
class OutputWatch {
  public:
    void add(const SupervisedOutput& output) { watched_.push_back({&output, OutputHealth::State::opening}); }
    // Says which of them went down or came back since the last call.
    void tell(const std::function<void(std::string_view)>& say);
    // Adds them to a view.
    void show(std::uint64_t now, View& view) const;

  private:
    struct Watched {
        const SupervisedOutput* output;
        OutputHealth::State told;
    };
    std::vector<Watched> watched_;
};

}  // namespace tallow::runtime
