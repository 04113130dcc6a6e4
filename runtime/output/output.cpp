#include "runtime/output/output.hpp"

namespace tallow::runtime {
namespace {

class NullOutput : public Output {
  public:
    Status frame(const Frame&) override { return {}; }
    Status end(std::uint64_t) override { return {}; }
    Status finish() override { return {}; }
};

}  // namespace

std::unique_ptr<Output> null_output() {
    return std::make_unique<NullOutput>();
}

}  // namespace tallow::runtime
