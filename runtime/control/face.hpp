// Where the operator sits: lines in and out, or a terminal's screen and keys.
#pragma once

#include <cstdint>
#include <memory>
#include <string_view>

#include "runtime/control/trigger.hpp"
#include "runtime/control/view.hpp"
#include "runtime/status.hpp"

namespace tallow::runtime {

class Face {
  public:
    virtual ~Face() = default;
    // Readable when the operator did something; -1 when nothing can come any more.
    virtual int descriptor() const = 0;
    // What the operator did: commands go to the listener. Called in each round, readable or not. True when it
    // is to end.
    virtual bool read(std::uint64_t ns, Listener& listener) = 0;
    virtual void say(std::string_view line) = 0;
    // How all stands, in each round.
    virtual void show(const View& view) = 0;
    // Whether that can be seen then, the levels too, so that no line need say them.
    virtual bool shows_levels() const = 0;
};

// Commands in lines from a descriptor, `quit` among them, an empty line for `go`; lines to standard output,
// but for those that it takes no bytes for.
std::unique_ptr<Face> line_face(int input);

// The console (CONSOLE.md) on the terminal that a descriptor is. Fails where that is none.
Result<std::unique_ptr<Face>> screen_face(int terminal);

}  // namespace tallow::runtime
