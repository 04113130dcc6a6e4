#include "runtime/control/osc.hpp"

#include "runtime/control/complaints.hpp"
#include "runtime/control/osc_words.hpp"

namespace tallow::runtime {
namespace {

constexpr int packets_at_once = 256;

class Osc : public Trigger {
  public:
    Osc(std::unique_ptr<OscSocket> socket, Clock& clock) : socket_(std::move(socket)), clock_(clock) {}

    std::string name() const override { return "OSC on " + socket_->address(); }
    int descriptor() const override { return socket_->descriptor(); }
    void read(Listener& listener) override;

  private:
    void obey(const OscSocket::Packet& packet, Listener& listener);

    std::unique_ptr<OscSocket> socket_;
    Clock& clock_;
    Complaints complaints_;
};

void Osc::read(Listener& listener) {
    for (int n = 0; n < packets_at_once; ++n) {
        const auto packet = socket_->receive();
        if (!packet) return;
        obey(*packet, listener);
    }
}

// Nothing of a packet is obeyed before all of it is read, and known to be allowed.
void Osc::obey(const OscSocket::Packet& packet, Listener& listener) {
    const std::uint64_t now = clock_.now();
    const std::string from = "OSC " + packet.from;
    if (!packet.messages.ok()) return complaints_.tell(now, listener, from, packet.messages.why());
    for (const OscMessage& message : *packet.messages) {
        const auto words = osc_words(message);
        if (!words.ok())
            complaints_.tell(now, listener, from, words.why());
        else if (!words->empty())
            listener.words(now, from, *words);
    }
}

}  // namespace

Result<std::unique_ptr<Trigger>> open_osc(const OscOptions& options, Clock& clock) {
    auto socket = OscSocket::open(options.address, options.secret);
    if (!socket.ok()) return socket.status();
    return std::unique_ptr<Trigger>(std::make_unique<Osc>(std::move(*socket), clock));
}

}  // namespace tallow::runtime
