#include "runtime/control/mtc.hpp"

#include <algorithm>
#include <fmt/format.h>

#include "runtime/timecode.hpp"

namespace tallow::runtime {
namespace {

// Pieces lie 10.4 ms apart at most, a quarter of a frame at 24; what is this late begins anew.
constexpr std::uint64_t gap_ns = 200000000;
constexpr std::uint8_t universal = 0x7f, timecode_id = 0x01, full_frame = 0x01;

// hr is 0rrhhhhh, with the rate: 0 = 24, 1 = 25, 2 = 30 drop-frame, 3 = 30.
std::optional<TimecodeFrame> labelled(std::uint64_t ns, unsigned hr, unsigned mn, unsigned sc, unsigned fr) {
    TimecodeFrame frame{ns, 0, static_cast<TimecodeRate>(hr >> 5 & 3), false};
    const auto count =
        parse_timecode(fmt::format("{:02}:{:02}:{:02}:{:02}", hr & 0x1f, mn, sc, fr), frame.rate);
    if (!count.ok()) return {};
    frame.frame = *count;
    return frame;
}

}  // namespace

std::optional<TimecodeFrame> Mtc::take(std::uint64_t ns, std::span<const std::uint8_t> m) {
    if (m.size() == 2 && m[0] == 0xf1) return quarter(ns, m[1]);
    const bool full_frame_message =
        m.size() == 10 && m[0] == 0xf0 && m[1] == universal && m[3] == timecode_id && m[4] == full_frame;
    if (!full_frame_message) return {};
    run_ = 0;
    auto frame = labelled(ns, m[5], m[6], m[7], m[8]);
    if (frame) frame->located = true;
    return frame;
}

std::optional<TimecodeFrame> Mtc::quarter(std::uint64_t ns, std::uint8_t data) {
    const unsigned piece = data >> 4 & 7;
    const bool forth = piece == (last_ + 1) % 8, back = last_ == (piece + 1) % 8;
    const bool in_turn = run_ > 0 && ns - last_ns_ < gap_ns && (forth || back);
    if (!in_turn)
        run_ = 1;
    else
        run_ = run_ == 1 || back == backwards_ ? std::min(run_ + 1, 8u) : 2;
    backwards_ = in_turn && back;
    last_ = piece;
    last_ns_ = ns;
    pieces_[piece] = data & 0xf;
    if (piece == 0) piece_0_ns_ = ns;
    if (run_ < 8 || piece != (backwards_ ? 0u : 7u)) return {};
    const auto both = [&](std::size_t low, unsigned mask) {
        return pieces_[low] | (pieces_[low + 1] & mask) << 4;
    };
    return labelled(piece_0_ns_, both(6, 7), both(4, 3), both(2, 3), both(0, 1));
}

}  // namespace tallow::runtime
