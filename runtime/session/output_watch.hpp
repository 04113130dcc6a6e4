// How the outputs of a session do, for people.
#pragma once

#include <cstdint>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "runtime/control/view.hpp"
#include "runtime/output/supervised.hpp"

namespace tallow::runtime {

// The outputs must live as long. Times are nanoseconds of the clock.
class OutputWatch {
  public:
    void add(const SupervisedOutput& output) { watched_.push_back({&output}); }
    // Says which of them began to fail or hang, or work again, since the last call.
    void tell(std::uint64_t now, const std::function<void(std::string_view)>& say);
    // Adds them to a view.
    void show(std::uint64_t now, View& view) const;

  private:
    struct Watched {
        const SupervisedOutput* output;
        OutputHealth::State told = OutputHealth::State::opening;
        bool hung = false;  // was told
    };
    std::vector<Watched> watched_;
};

}  // namespace tallow::runtime
