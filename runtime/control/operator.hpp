// The operator's thread: hears what is typed and what other machines say, passes it on to the clock's thread,
// and tells what happens there.
#pragma once

#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "runtime/control/trigger.hpp"
#include "runtime/play/clock.hpp"
#include "runtime/play/intercom.hpp"
#include "runtime/play/source.hpp"

namespace tallow::runtime {

// Says what happened, with its time.
void tell(const Event& event, const Source& source, const std::function<void(std::string_view)>& say);

class Operator : public Listener {
  public:
    struct Ways {
        int input = -1;  // lines of commands come from here; -1: none
        std::vector<std::unique_ptr<Trigger>> triggers;
        std::function<void(std::string_view)> say;  // a line for people
        // Done in each round, twenty times a second and more.
        std::vector<std::function<void(const Progress&)>> chores;
    };
    // `source` reads commands and describes what happens; clock and intercom are the clock thread's. All must
    // outlive this.
    Operator(const Source& source, Clock& clock, Intercom& intercom, Ways ways);

    // Works until `over` says that the play has ended. The commands are those of command.hpp, an empty line
    // for `go`, and `quit`.
    void run(const std::function<bool()>& over);

    // Another source plays from here on.
    void set_source(const Source& source) { source_ = &source; }

    void words(std::uint64_t ns, std::string_view from, std::string_view words) override;
    void timecode(std::uint64_t ns, std::uint64_t frame, unsigned labels_per_second, bool drop) override;
    void complaint(std::string_view from, std::string_view why) override;

  private:
    void wait();
    void read_lines();
    void obey_line(std::string_view line);
    void order(std::uint64_t ns, const Command& command);
    void tell();

    const Source* source_;
    Clock& clock_;
    Intercom& intercom_;
    Ways ways_;
    std::string typed_;  // of a line that has not ended
};

}  // namespace tallow::runtime
