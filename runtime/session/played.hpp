// What a session plays, and what that rests on.
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <string_view>

#include "runtime/play/source.hpp"
#include "runtime/status.hpp"

namespace tallow::runtime {

struct Played {
    std::string path;   // of the file that it came from
    std::string title;  // for people
    std::unique_ptr<FramesReader> frames;
    std::unique_ptr<Roll> roll;   // null: a frames file
    std::uint64_t roll_hash = 0;  // of the roll's bytes
    std::unique_ptr<Source> source;
};

// A roll that is read already, and its bytes' hash.
Result<Played> played_roll(std::string path, std::unique_ptr<Roll> roll, std::uint64_t roll_hash,
                           const ScriptText& script);
// From a file: a roll, or frames.
Result<Played> open_played(const std::string& path, const ScriptText& script);

// Whether a frames file goes on behind `frame`, where it is to begin, as `--from TEXT` said; behind its end
// it would be silent. A roll has no end.
Status check_beginning(const Played& played, std::string_view text, std::uint64_t frame);

}  // namespace tallow::runtime
