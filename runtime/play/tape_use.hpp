#pragma once

#include <cstdint>

namespace tallow::runtime {

// What a show makes of a tape: of timecode that comes from outside.
enum class TapeUse : std::uint8_t {
    followed,
    held,     // all lists were held or stopped: until a GO, a jump or `timecode on`
    refused,  // timecode was switched off, or typed: until `timecode on`
};

}  // namespace tallow::runtime
