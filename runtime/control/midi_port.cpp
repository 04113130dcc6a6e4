// A MIDI port by RtMidi. Its thread hands each message to ours through a pipe, so that a listener hears of it
// on one thread, and can wait for it beside all other ways in.
#include <RtMidi.h>
#include <algorithm>
#include <array>
#include <cerrno>
#include <cstring>
#include <fcntl.h>
#include <fmt/format.h>
#include <unistd.h>

#include "runtime/control/midi.hpp"

namespace tallow::runtime {
namespace {

// What goes through the pipe: less than PIPE_BUF, so that it is written whole or not at all.
struct Parcel {
    std::uint64_t ns = 0;
    std::size_t size = 0;
    std::array<std::uint8_t, midi_message_bytes> bytes{};
};
static_assert(sizeof(Parcel) <= 512);

class MidiPort : public Trigger {
  public:
    MidiPort(const MidiOptions& options, Clock& clock) : reader_(options), clock_(clock) {}
    ~MidiPort() override;
    MidiPort(const MidiPort&) = delete;
    MidiPort& operator=(const MidiPort&) = delete;

    // Throws RtMidiError.
    Status open(const std::string& part);
    std::string name() const override { return name_; }
    int descriptor() const override { return pipe_[0]; }
    void read(Listener& listener) override;

  private:
    void hear(const std::vector<unsigned char>& message) const;

    std::unique_ptr<RtMidiIn> in_;
    std::array<int, 2> pipe_{-1, -1};  // out, in
    std::string name_;
    MidiReader reader_;
    Clock& clock_;
};

MidiPort::~MidiPort() {
    in_.reset();  // its thread writes into the pipe
    for (const int fd : pipe_)
        if (fd >= 0) ::close(fd);
}

Status MidiPort::open(const std::string& part) {
    in_ = std::make_unique<RtMidiIn>(RtMidi::LINUX_ALSA, "Tallow");
    std::string names;
    unsigned port = 0;
    for (const unsigned count = in_->getPortCount(); port < count; ++port) {
        const std::string one = in_->getPortName(port);
        if (one.find(part) != std::string::npos) break;
        names += fmt::format("{}`{}`", names.empty() ? "" : ", ", one);
    }
    if (port == in_->getPortCount())
        return Status::failure(
            fmt::format("there is no MIDI port with `{}` in its name; {}", part,
                        names.empty() ? "there are none: connect one" : "there is " + names));
    if (::pipe2(pipe_.data(), O_CLOEXEC | O_NONBLOCK) != 0)
        return Status::failure(fmt::format("cannot open a pipe for MIDI: {}; check the limits on open files",
                                           std::strerror(errno)));
    name_ = "MIDI " + in_->getPortName(port);
    // The first argument is the time since the message before; the clock's own is better.
    in_->setCallback([](auto, std::vector<unsigned char>* message,
                        void* self) { static_cast<MidiPort*>(self)->hear(*message); },
                     this);
    in_->ignoreTypes(false, false, true);  // sysex and timecode are wanted, active sensing is not
    in_->openPort(port, "in");
    return {};
}

// On RtMidi's thread. A pipe that is full is a flood that nobody reads: what comes then is lost.
void MidiPort::hear(const std::vector<unsigned char>& message) const {
    Parcel parcel;
    if (message.size() > parcel.bytes.size()) return;
    parcel.ns = clock_.now();
    parcel.size = message.size();
    std::copy(message.begin(), message.end(), parcel.bytes.begin());
    static_cast<void>(!::write(pipe_[1], &parcel, sizeof parcel));
}

void MidiPort::read(Listener& listener) {
    constexpr int parcels_at_once = 256;
    Parcel parcel;
    for (int n = 0; n < parcels_at_once; ++n) {
        const ssize_t got = ::read(pipe_[0], &parcel, sizeof parcel);
        if (got < 0 && errno == EINTR) continue;
        if (got != ssize_t{sizeof parcel}) return;
        reader_.read(parcel.ns, {parcel.bytes.data(), parcel.size}, name_, listener);
    }
}

}  // namespace

Result<std::unique_ptr<Trigger>> open_midi(const MidiOptions& options, Clock& clock) {
    auto port = std::make_unique<MidiPort>(options, clock);
    try {
        if (auto s = port->open(options.port); !s.ok()) return s;
    } catch (const RtMidiError& error) {
        return Status::failure(fmt::format(
            "cannot open a MIDI port: {}; check that the system has a sequencer (`/dev/snd/seq`) and "
            "that you may use it (group `audio`)",
            error.getMessage()));
    }
    return std::unique_ptr<Trigger>(std::move(port));
}

}  // namespace tallow::runtime
