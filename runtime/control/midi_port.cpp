// A MIDI port by RtMidi, which hears on a thread of its own.
#include <RtMidi.h>
#include <fcntl.h>
#include <fmt/format.h>
#include <unistd.h>

#include "runtime/control/midi.hpp"
#include "runtime/control/midi_inbox.hpp"

namespace tallow::runtime {
namespace {

// The libraries say their troubles on standard error, where an operator reads; what matters of them comes
// back. Nothing is heard there from anybody while this lives.
class QuietErrors {
  public:
    QuietErrors() : before_(::fcntl(STDERR_FILENO, F_DUPFD_CLOEXEC, 0)) {
        const int nowhere = ::open("/dev/null", O_WRONLY | O_CLOEXEC);
        if (before_ >= 0 && nowhere >= 0) ::dup2(nowhere, STDERR_FILENO);
        if (nowhere >= 0) ::close(nowhere);
    }
    ~QuietErrors() {
        if (before_ < 0) return;
        ::dup2(before_, STDERR_FILENO);
        ::close(before_);
    }
    QuietErrors(const QuietErrors&) = delete;
    QuietErrors& operator=(const QuietErrors&) = delete;

  private:
    const int before_;
};

class MidiPort : public Trigger {
  public:
    MidiPort(const MidiOptions& options, Clock& clock) : reader_(options), clock_(clock) {}

    // Throws RtMidiError.
    Status open(const std::string& part);
    std::string name() const override { return name_; }
    int descriptor() const override { return inbox_.descriptor(); }
    void read(Listener& listener) override { inbox_.read(reader_, name_, listener); }

  private:
    std::string name_;
    MidiReader reader_;
    Clock& clock_;
    MidiInbox inbox_;
    std::unique_ptr<RtMidiIn> in_;  // the last: its thread, which it ends, writes into the inbox
};

Status MidiPort::open(const std::string& part) {
    in_ = std::make_unique<RtMidiIn>(RtMidi::LINUX_ALSA, "Tallow");
    std::string names;
    unsigned port = 0;
    const unsigned count = in_->getPortCount();
    for (; port < count; ++port) {
        name_ = in_->getPortName(port);
        if (name_.find(part) != std::string::npos) break;
        names += fmt::format("{}`{}`", names.empty() ? "" : ", ", name_);
    }
    if (port == count)
        return Status::failure(
            fmt::format("there is no MIDI port with `{}` in its name; {}", part,
                        names.empty() ? "there are none: connect one" : "there is " + names));
    name_ = "MIDI " + name_;
    if (auto s = inbox_.open(); !s.ok()) return s;
    // The first argument is the time since the message before; the clock's own is better.
    const auto hear = [](auto, std::vector<unsigned char>* message, void* self) {
        const auto& to = *static_cast<MidiPort*>(self);
        to.inbox_.put(to.clock_.now(), *message);
    };
    in_->setCallback(hear, this);
    in_->ignoreTypes(false, false, true);  // sysex and timecode are wanted, active sensing is not
    in_->openPort(port, "in");
    return {};
}

}  // namespace

Result<std::unique_ptr<Trigger>> open_midi(const MidiOptions& options, Clock& clock) {
    auto port = std::make_unique<MidiPort>(options, clock);
    try {
        const QuietErrors quiet;
        if (auto s = port->open(options.port); !s.ok()) return s;
    } catch (const RtMidiError& error) {
        std::string said = error.getMessage();
        while (said.ends_with('.')) said.pop_back();
        return Status::failure(fmt::format(
            "cannot open a MIDI port: {}; check that the system has a sequencer (`/dev/snd/seq`) and "
            "that you may use it (group `audio`)",
            said));
    }
    return std::unique_ptr<Trigger>(std::move(port));
}

}  // namespace tallow::runtime
