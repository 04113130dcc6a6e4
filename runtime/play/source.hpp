// What the player plays: frames in growing order, from a roll by its engine or from a frames file.
#pragma once

#include <atomic>
#include <cstdint>
#include <memory>
#include <span>
#include <string>
#include <string_view>

#include "runtime/engine/standing.hpp"
#include "runtime/frames/frames.hpp"
#include "runtime/play/event.hpp"
#include "runtime/play/script.hpp"
#include "runtime/roll/roll.hpp"

namespace tallow::runtime {

class Performance;
struct Line;

// The clock's thread has it for itself, but for read_command() and describe(), which look at nothing that
// moves: the operator's thread calls them.
class Source {
  public:
    virtual ~Source() = default;
    virtual std::uint32_t refresh() const = 0;
    virtual std::span<const Universe> universes() const = 0;
    // Does what can be done ahead for frame n, in the pause before it.
    virtual void prepare(std::uint64_t n) = 0;
    // Makes slots() those of frame n, which lies after all earlier ones. False when there is no such frame.
    virtual bool frame(std::uint64_t n) = 0;
    virtual std::span<const std::span<const std::uint8_t>> slots() const = 0;
    // Obeys a command at tick t.
    virtual void obey(const Command& command, Tick t) = 0;
    // What happened since the frame before the last one.
    virtual std::span<const Event> events() const = 0;
    // Where a roll is played, how; else null.
    virtual Performance* performance() { return nullptr; }
    // Goes on at tick t, at a frame's edge, from where another source stands. False where it cannot, because
    // that one has moved on since this one was made.
    virtual bool take_over(Source&, Tick) { return false; }
    // Whether nothing more begins or ends without a command.
    virtual bool at_rest() const = 0;
    // What was wrong with the source, so far: one sentence, or "".
    virtual std::string damage() const = 0;

    // The command that an operator's words are (command.hpp), or why they are none.
    virtual Result<Command> read_command(std::string_view words) const = 0;
    virtual std::string describe(const Event& event) const = 0;
};

// The reader must outlive the source.
std::unique_ptr<Source> frames_source(FramesReader& reader);

// Another source, which obeys no commands, read ahead from frame `from` on by a thread of its own, so that
// the clock's thread waits for no disk. Comes back once that frame has been read. Where the thread is behind,
// frame() shows the latest frame that it has read; it allocates nothing and takes no lock.
std::unique_ptr<Source> read_ahead(std::unique_ptr<Source> source, std::uint64_t from);

// Another source for the player to play from the next frame on.
struct Exchange {
    std::unique_ptr<Source> source;  // the new one; once it has come, the one before
    std::unique_ptr<Line> line;      // the new one's, used once that has come
    enum class State : std::uint8_t { waits, came, refused };
    std::atomic<State> state{State::waits};  // refused: the one before moved on meanwhile; try again
};

// The roll must have passed validate() and outlive the source.
std::unique_ptr<Source> roll_source(const Roll& roll, Script script);
// One that has begun already, elsewhere.
std::unique_ptr<Source> roll_source(std::unique_ptr<Performance> performance);

// A show that was changed, made to go on from another one: where that stood when it was last asked.
struct Handover {
    Standing before;  // of the old roll
    Standing after;   // the same in the new one
    bool paused = false;
    Tick at = 0;                       // by the player's clock
    std::vector<std::uint32_t> place;  // by parameter of the new roll: the one of the old, or none
    Script script;                     // of the new roll: what of it comes after `at` is still to come
};
// Sends the universes that the player plays: what the roll does not have of them stays 0, what it has beyond
// them goes nowhere. Where values differ they go over in handover_ms.
std::unique_ptr<Source> roll_source(const Roll& roll, std::span<const Universe> universes, Handover handover);
inline constexpr std::uint64_t handover_ms = 1000;

}  // namespace tallow::runtime
