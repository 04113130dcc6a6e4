// The operator's thread: hears what is typed and what other machines say, passes it on to the clock's thread,
// and tells what happens there.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "runtime/control/face.hpp"
#include "runtime/control/timecode_chase.hpp"
#include "runtime/control/trigger.hpp"
#include "runtime/play/clock.hpp"
#include "runtime/play/intercom.hpp"
#include "runtime/play/source.hpp"

namespace tallow::runtime {

// What happened, with its time since the beginning, "0:42:17.350", in plain text; "" where there is nothing
// to say.
std::string line_for(const Event& event, const Source& source);

class Operator : public Listener {
  public:
    struct Ways {
        std::vector<std::unique_ptr<Trigger>> triggers;
        std::optional<TimecodeChase> chase;
        // Puts in what the operator's thread does not know: the roll, the title, the outputs.
        std::function<void(View&)> view;
        std::uint64_t begins = 0;  // when the show does, by the clock; nothing is done before
        // Done in each round, twenty times a second and more, with what the present source says.
        std::vector<std::function<void(const Progress&)>> chores;
    };
    // `source` reads commands and describes what happens; clock and intercom are the clock thread's. All must
    // outlive this.
    Operator(const Source& source, Clock& clock, Intercom& intercom, Face& face, Ways ways);

    // Works until `over` says that the play has ended.
    void run(const std::function<bool()>& over);

    // Sends another source to the clock's thread, which sets the exchange's state; or does not, where too
    // many orders wait there. Until came() or refused() nothing is heard of anyone: it would be read for one
    // source and obeyed by the other. What the exchange holds must outlive that.
    bool send(Exchange& exchange);
    // The source plays a changed roll, and speaks through this line. What the one before has said is told.
    void came(const Source& source, const Roll& roll, Line& line);
    void refused() { away_ = false; }
    // With the time since the beginning, once the show has begun.
    void say(std::string_view line);

    void words(std::uint64_t ns, std::string_view from, std::string_view words) override;
    void timecode(std::uint64_t ns, const TimecodeFrame& frame) override;
    void complaint(std::string_view from, std::string_view why) override;

  private:
    void wait();
    void hear();
    void do_chores();
    void order(const Order& order);
    void tell();
    void show();
    void chase(const TimecodeChase::Found& found);

    const Source* source_;
    Clock& clock_;
    Intercom& intercom_;
    Line* line_;                          // of the source
    bool away_ = false;                   // another one is under way
    std::optional<std::uint64_t> frame_;  // as read last; none before the first
    Face& face_;
    Ways ways_;
};

}  // namespace tallow::runtime
