#include "runtime/output/e131_stream.hpp"

#include <algorithm>

namespace tallow::runtime {
namespace {

constexpr std::uint64_t discovery_seconds = 10;  // E1.31, 4.3

bool chosen(const std::vector<UniverseRange>& ranges, std::uint16_t universe) {
    return ranges.empty() || std::any_of(ranges.begin(), ranges.end(),
                                         [&](const UniverseRange& r) { return r.holds(universe); });
}

}  // namespace

E131Stream::E131Stream(const E131Source& source, std::span<const Universe> universes, std::uint32_t refresh,
                       const E131Selection& selection)
    : synchronization_(source.synchronization), discovery_frames_(discovery_seconds * refresh) {
    std::vector<std::uint16_t> numbers;
    for (std::size_t i = 0; i < universes.size(); ++i) {
        const std::uint16_t number = universes[i].number;
        if (!chosen(selection.universes, number)) continue;
        parts_.push_back({i, E131Packet(source, number), E131Pace(refresh)});
        numbers.push_back(number);
    }
    if (synchronization_ != 0) {
        sync_.emplace(source);
        numbers.push_back(synchronization_);  // it is a universe that is sent, too
    }
    if (selection.discovery) discovery_ = e131_discovery(source, std::move(numbers));
    due_.reserve(parts_.size() + 1 + discovery_.size());
}

void E131Stream::restart() {
    for (Part& p : parts_) p.pace.restart();
    first_ = true;
}

std::span<const Datagram> E131Stream::frame(const Frame& frame) {
    due_.clear();
    for (Part& p : parts_) {
        const bool changed = p.packet.take(frame.slots[p.index]);
        if (p.pace.due(frame.number, changed)) due_.push_back({p.packet.universe(), p.packet.next()});
    }
    if (sync_ && !due_.empty()) due_.push_back({synchronization_, sync_->next()});
    add_discovery(frame.number);
    return due_;
}

void E131Stream::add_discovery(std::uint64_t number) {
    if (!first_ && number - discovered_ < discovery_frames_) return;
    first_ = false;
    discovered_ = number;
    for (const Bytes& page : discovery_) due_.push_back({e131_discovery_universe, page});
}

std::span<const Datagram> E131Stream::end() {
    due_.clear();
    for (Part& p : parts_) due_.push_back({p.packet.universe(), p.packet.next(true)});
    return due_;
}

}  // namespace tallow::runtime
