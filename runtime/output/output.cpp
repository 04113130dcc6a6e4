#include "runtime/output/output.hpp"

namespace tallow::runtime {
namespace {

class NullOutput : public Output {
  public:
    Status frame(const Frame&) override { return {}; }
    Status end(std::uint64_t) override { return {}; }
    Status finish() override { return {}; }
};

class E131Output : public Output {
  public:
    E131Output(const E131Source& source, std::span<const Universe> universes, std::uint32_t refresh,
               std::unique_ptr<Carrier> carrier)
        : pace_(universes.size(), E131Pace(refresh)), carrier_(std::move(carrier)) {
        for (const Universe& u : universes) packets_.emplace_back(source, u.number);
        due_.reserve(packets_.size());
    }

    Status frame(const Frame& frame) override {
        due_.clear();
        for (std::size_t i = 0; i < packets_.size(); ++i) {
            const bool changed = packets_[i].take(frame.slots[i]);
            if (pace_[i].due(frame.number, changed))
                due_.push_back({packets_[i].universe(), packets_[i].next()});
        }
        return send(frame.number);
    }

    Status end(std::uint64_t number) override {
        due_.clear();
        for (E131Packet& p : packets_) due_.push_back({p.universe(), p.next(true)});
        return send(number);
    }

    Status finish() override { return carrier_->finish(); }

  private:
    Status send(std::uint64_t number) { return due_.empty() ? Status() : carrier_->send(due_, number); }

    std::vector<E131Packet> packets_;
    std::vector<E131Pace> pace_;
    std::vector<Datagram> due_;
    std::unique_ptr<Carrier> carrier_;
};

}  // namespace

std::unique_ptr<Output> null_output() {
    return std::make_unique<NullOutput>();
}

std::unique_ptr<Output> e131_output(const E131Source& source, std::span<const Universe> universes,
                                    std::uint32_t refresh, std::unique_ptr<Carrier> carrier) {
    return std::make_unique<E131Output>(source, universes, refresh, std::move(carrier));
}

}  // namespace tallow::runtime
