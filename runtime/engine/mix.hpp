// From what lists, submasters and the grand master say to the levels of the rig.
#pragma once

#include <cstdint>
#include <vector>

#include "runtime/engine/claims.hpp"
#include "runtime/engine/overlay.hpp"

namespace tallow::runtime {

// The order in which levels are made: lists by the highest, raised submasters in growing number, the grand
// master, the panic look, floors.
class Mix {
  public:
    explicit Mix(const Roll& roll);

    // Sets everything for tick t. Ticks never go back.
    void evaluate(Tick t);
    // What a GO at tick g says comes after this, and finds everything as it was then.
    void begin_go(Tick g);
    void start(std::uint32_t source, Tick g) { stage_.start(source, g); }
    bool runs(std::uint32_t source) const { return stage_.runs(source); }
    SourceTime time_of(std::uint32_t source) const { return stage_.time_of(source); }
    void set_time(std::uint32_t source, const SourceTime& time) { stage_.set_time(source, time); }
    void state(std::uint32_t list, std::uint32_t p, Level level, std::uint32_t source, Passage& passage) {
        claims_.state(list, p, level, source, passage, moves_at_once(p));
    }
    void release(std::uint32_t list, std::uint32_t p, Passage& passage) {
        claims_.release(list, p, passage, moves_at_once(p));
    }

    std::size_t claims() const { return rows_.claims.size(); }
    void orders(std::vector<std::uint64_t>& out) const { claims_.orders(out); }
    void set_orders(const std::vector<std::uint64_t>& orders, Tick g) { claims_.set_orders(orders, g); }

    void set_submaster(std::uint32_t index, Level position, Tick t);
    Level submaster(std::uint32_t index) const { return position_[index]; }
    void set_master(Level position);
    Level master() const { return master_; }
    // As if the grand master stood at 0.
    void set_blackout(bool on);
    bool blackout() const { return blackout_; }
    void set_panic(bool on);
    bool panic_is_up() const { return overlay_.up(); }

    // From tick t on, as both are evaluated last, for so many ticks, levels go over from those of another
    // mix: `place` says by parameter which one of `from` it is, or none. What is equal in both does not
    // change its way. The panic look and floors go over as well; the grand master, blackout and the panic
    // look take no time all the same where they are moved meanwhile.
    void dissolve(Mix& from, const std::vector<std::uint32_t>& place, Tick t, Tick ticks);

    // The levels of all parameters as evaluated last, and one more that is always full.
    const Level* levels();
    bool touched(std::size_t universe) const { return stage_.touched(universe); }
    bool any_touched() const { return stage_.any_touched(); }
    void clear_touched() { stage_.clear_touched(); }

  private:
    bool moves_at_once(std::uint32_t p) const;
    template <class Each>
    void each_row(std::uint32_t submaster, Each each) const;
    void bring_in(std::uint32_t submaster);
    void put_together();
    void scale(Level position);

    const Roll& roll_;
    Rows rows_;
    Stage stage_;
    Claims claims_;
    Overlay overlay_;
    std::vector<Level> position_;  // of submasters
    std::uint32_t raised_ = 0;     // submasters above 0
    Level master_ = full;
    bool blackout_ = false;
    std::vector<std::uint8_t> jumps_;  // by row: 1 where a submaster's value does not mix
    std::vector<std::uint8_t> dark_;   // by parameter: intensities that gave no light at the last GO
    std::vector<Level> levels_;

    // What another mix had, for a dissolve.
    struct Old {
        std::uint32_t parameter;
        Level level;
    };
    std::vector<Old> old_;
    FadeTime dissolve_;
    Weight dissolved_ = 0;
};

}  // namespace tallow::runtime
