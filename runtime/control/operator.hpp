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

// What happened, with its time; "" where there is nothing to say.
std::string line_for(const Event& event, const Source& source);

class Operator : public Listener {
  public:
    struct Ways {
        std::vector<std::unique_ptr<Trigger>> triggers;
        std::optional<TimecodeChase> chase;
        // Puts in what the operator's thread does not know: the roll, the title, the outputs.
        std::function<void(View&)> view;
        // Done in each round, twenty times a second and more.
        std::vector<std::function<void(const Progress&)>> chores;
    };
    // `source` reads commands and describes what happens; clock and intercom are the clock thread's. All must
    // outlive this.
    Operator(const Source& source, Clock& clock, Intercom& intercom, Face& face, Ways ways);

    // Works until `over` says that the play has ended.
    void run(const std::function<bool()>& over);

    // Another source plays from here on.
    void set_source(const Source& source) { source_ = &source; }
    void say(std::string_view line) { face_.say(line); }
    void order(const Order& order);

    void words(std::uint64_t ns, std::string_view from, std::string_view words) override;
    void timecode(std::uint64_t ns, const TimecodeFrame& frame) override;
    void complaint(std::string_view from, std::string_view why) override;

  private:
    void wait();
    void tell();
    void show();
    void chase(const TimecodeChase::Found& found);

    const Source* source_;
    Clock& clock_;
    Intercom& intercom_;
    Face& face_;
    Ways ways_;
};

}  // namespace tallow::runtime
