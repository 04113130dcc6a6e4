#include "runtime/session/reload.hpp"

#include <utility>

namespace tallow::runtime {

bool Reload::poll(const Progress& progress, Played& played, const PlayOptions&,
                  const std::function<void(std::string_view)>& say) {
    if (exchange_) return settle(played, say);
    if (auto revision = revisions_.poll(say)) {
        if (revision->roll->refresh != played.roll->refresh) {
            say("the new show has another refresh: start the player again to play it");
            return false;
        }
        next_ = std::move(revision);
        translation_ = std::make_unique<Translation>(*played.roll, *next_->roll);
    }
    if (next_) offer(progress, played);
    return false;
}

// Makes the new show stand as the old one stood at the last frame, and sends it to the clock's thread, which
// refuses it if the old one has moved on.
void Reload::offer(const Progress& progress, const Played&) {
    Handover handover;
    handover.before = progress.show;
    handover.after = (*translation_)(progress.show);
    handover.paused = progress.paused;
    handover.at = progress.frame * ticks_per_frame;
    handover.place = translation_->parameters();
    exchange_ = std::make_unique<Exchange>();
    exchange_->source = roll_source(*next_->roll, source_->universes(), std::move(handover));
    const Source* const made = exchange_->source.get();
    if (intercom_.orders.put({clock_.now(), {}, exchange_.get()}))
        offered_ = made;
    else
        exchange_.reset();
}

bool Reload::settle(Played& played, const std::function<void(std::string_view)>& say) {
    const auto state = exchange_->state.load(std::memory_order_acquire);
    if (state == Exchange::State::waits) return false;
    const bool came = state == Exchange::State::came;
    // What played before goes with the exchange, before its roll.
    exchange_.reset();
    if (!came) return false;  // and again, in the next round
    source_ = offered_;
    played.title = next_->roll->title.empty() ? played.path : next_->roll->title;
    played.roll_hash = next_->roll_hash;
    played.roll = std::move(next_->roll);
    next_.reset();
    say("the changed show plays");
    return true;
}

}  // namespace tallow::runtime
