// A source that takes its time, read by a thread of its own: about a second of frames lies ready.
#include <thread>
#include <vector>

#include "runtime/limits.hpp"
#include "runtime/output/bell.hpp"
#include "runtime/output/frame_copy.hpp"
#include "runtime/play/source.hpp"

namespace tallow::runtime {
namespace {

class ReadAhead : public Source {
  public:
    ReadAhead(std::unique_ptr<Source> source, std::uint64_t from);
    ~ReadAhead() override;
    ReadAhead(const ReadAhead&) = delete;
    ReadAhead& operator=(const ReadAhead&) = delete;

    std::uint32_t refresh() const override { return source_->refresh(); }
    std::span<const Universe> universes() const override { return source_->universes(); }
    void prepare(std::uint64_t) override {}
    bool frame(std::uint64_t n) override;
    std::span<const std::span<const std::uint8_t>> slots() const override {
        return place(begin_).copy.slots();
    }
    void obey(const Command&, Tick) override {}
    std::span<const Event> events() const override { return events_; }
    bool at_rest() const override { return false; }
    std::string damage() const override { return ended_ ? damage_at_end_ : damage_before_; }
    Result<Command> read_command(std::string_view words) const override {
        return source_->read_command(words);
    }
    std::string describe(const Event& event) const override { return source_->describe(event); }

  private:
    struct Place {
        std::uint64_t number = 0;
        FrameCopy copy;
        std::vector<Event> events;
    };
    const Place& place(std::size_t at) const { return places_[at % places_.size()]; }
    void read(std::uint64_t from);
    void put(std::uint64_t n);

    const std::unique_ptr<Source> source_;  // the reading thread's
    const std::string damage_before_;
    std::string damage_at_end_;  // written before ended_, read after it
    std::vector<Place> places_;
    std::atomic<std::size_t> begin_{0}, end_{0};  // of what lies ready; the first is what slots() shows
    std::atomic<bool> ended_{false};              // no more is put in
    std::atomic<bool> stops_{false};
    Bell room_, ready_;
    bool begun_ = false;
    std::vector<Event> events_;
    std::thread thread_;
};

ReadAhead::ReadAhead(std::unique_ptr<Source> source, std::uint64_t from)
    : source_(std::move(source)), damage_before_(source_->damage()), places_(source_->refresh() + 1) {
    for (Place& place : places_) place.copy.make_room(universes());
    events_.reserve(limits::cues_at_once);
    thread_ = std::thread([this, from] { read(from); });
    ready_.wait(0);
}

ReadAhead::~ReadAhead() {
    stops_ = true;
    room_.ring();
    thread_.join();
}

// The reading thread.
void ReadAhead::read(std::uint64_t from) {
    for (std::uint64_t n = from; !stops_; ++n) {
        std::uint32_t seen = room_.rings();
        for (; end_ - begin_ == places_.size() && !stops_; seen = room_.rings()) room_.wait(seen);
        if (stops_ || !source_->frame(n)) break;
        put(n);
    }
    damage_at_end_ = source_->damage();
    ended_ = true;
    ready_.ring();
}

void ReadAhead::put(std::uint64_t n) {
    Place& place = places_[end_ % places_.size()];
    place.number = n;
    place.copy.fill(source_->slots());
    const std::span<const Event> events = source_->events();
    place.events.assign(events.begin(), events.end());
    if (end_++ == 0) ready_.ring();  // the first is waited for
}

// Where the reading is behind, the latest frame stands, and what was to be told is told with a later one.
bool ReadAhead::frame(std::uint64_t n) {
    events_.clear();
    const bool ended = ended_;  // looked at first: then all that it put in is seen
    for (std::size_t next; (next = begin_ + begun_) != end_ && place(next).number <= n;) {
        begin_ = next;
        begun_ = true;
        for (const Event& event : place(next).events)
            if (events_.size() < events_.capacity()) events_.push_back(event);
    }
    room_.ring();
    return begun_ && (place(begin_).number == n || !ended || begin_ + 1 != end_);
}

}  // namespace

std::unique_ptr<Source> read_ahead(std::unique_ptr<Source> source, std::uint64_t from) {
    return std::make_unique<ReadAhead>(std::move(source), from);
}

}  // namespace tallow::runtime
