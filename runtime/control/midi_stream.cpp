#include "runtime/control/midi_stream.hpp"

namespace tallow::runtime {
namespace {

constexpr std::uint8_t sysex = 0xf0, sysex_end = 0xf7, first_realtime = 0xf8;

// Data bytes behind a status byte.
std::size_t data_bytes(std::uint8_t status) {
    switch (status & 0xf0) {
        case 0xc0:
        case 0xd0:
            return 1;
        case 0xf0:
            return status == 0xf2 ? 2 : status == 0xf1 || status == 0xf3 ? 1 : 0;
        default:
            return 2;
    }
}

}  // namespace

std::span<const std::uint8_t> MidiStream::take(std::uint8_t byte) {
    if (byte >= first_realtime) return {};
    return byte >= 0x80 ? take_status(byte) : take_data(byte);
}

std::span<const std::uint8_t> MidiStream::take_status(std::uint8_t status) {
    const bool ends = status == sysex_end && running_ == sysex && message_.size() < midi_message_bytes;
    if (!ends) message_.clear();
    message_.push_back(status);
    whole_ = status > sysex && data_bytes(status) == 0;
    running_ = whole_ ? std::uint8_t{0} : status;
    if (!whole_ || (status == sysex_end && !ends)) return {};
    return message_;
}

std::span<const std::uint8_t> MidiStream::take_data(std::uint8_t data) {
    if (running_ == 0) return {};
    if (whole_) message_.assign(1, running_);
    whole_ = false;
    if (message_.size() < midi_message_bytes) message_.push_back(data);
    if (running_ == sysex || message_.size() <= data_bytes(running_)) return {};
    whole_ = true;
    if (running_ > sysex) running_ = 0;  // only channel messages run on
    return message_;
}

}  // namespace tallow::runtime
