#include "tests/fuzz/triggers_fuzz.hpp"

#include <algorithm>
#include <stdexcept>

#include "runtime/control/foreign_text.hpp"
#include "runtime/control/midi.hpp"
#include "runtime/control/osc_packet.hpp"
#include "runtime/control/osc_words.hpp"
#include "runtime/control/timecode_chase.hpp"
#include "runtime/timecode.hpp"

namespace tallow::test {
namespace {

using namespace runtime;

// At most three words, of those that lists and numbers are made of.
void must_be_words(std::string_view words) {
    unsigned count = 0;
    for (bool more = true; more; ++count) {
        const std::size_t end = words.find(' ');
        more = end != std::string_view::npos;
        if (!is_plain_word(words.substr(0, end))) throw std::logic_error("words that are none");
        if (more) words.remove_prefix(end + 1);
    }
    if (count > 3) throw std::logic_error("more words than a command has");
}

void must_come_back(const OscMessage& message) {
    const auto written = osc_bytes(message);
    if (!written.ok()) return;  // it has fractions, say
    const auto read = read_osc(*written);
    if (!read.ok() || read->size() != 1 || read->front() != message)
        throw std::logic_error("an OSC message that was written is read otherwise");
}

struct Judge : Listener {
    void words(std::uint64_t, std::string_view, std::string_view said) override { must_be_words(said); }
    void timecode(std::uint64_t ns, const TimecodeFrame& frame) override {
        if (frame.frame >= frames_per_day(frame.rate) || frame.ns > ns)
            throw std::logic_error("timecode of no day, or from the time to come");
        judge(ns, chase.take(ns, frame));
    }
    void complaint(std::string_view, std::string_view why) override {
        if (why.empty()) throw std::logic_error("a complaint of nothing");
    }
    void judge(std::uint64_t ns, const TimecodeChase::Found& found) {
        for (const Order& order : found.orders)
            if (order.ns != ns || order.command.code > Tick{2} * 86400 * 40000)
                throw std::logic_error("an order for no time");
    }

    Roll roll;
    TimecodeChase chase{roll, false};
};

}  // namespace

void fuzz_osc(std::span<const std::uint8_t> bytes) {
    const auto messages = read_osc(bytes);
    if (!messages.ok()) return;
    if (messages->size() > osc_messages) throw std::logic_error("more messages than the limit");
    for (const OscMessage& message : *messages) {
        if (message.arguments.size() > osc_arguments) throw std::logic_error("more arguments than the limit");
        must_come_back(message);
        const auto words = osc_words(message);
        if (words.ok() && !words->empty()) must_be_words(*words);
    }
}

void fuzz_midi(std::span<const std::uint8_t> bytes) {
    MidiOptions options;
    options.notes = {{60, ""}, {61, "side"}};
    options.lists = {"main", "side"};
    MidiReader reader(options);
    Judge judge;
    std::uint64_t ns = 1000000000;
    for (const std::uint8_t& byte : bytes) {
        ns += 5000000;
        reader.read(ns, {&byte, 1}, "MIDI", judge);
        judge.judge(ns, judge.chase.pass(ns));
    }
}

}  // namespace tallow::test
