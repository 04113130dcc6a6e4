// From what lists, submasters and the grand master say to the levels of the rig.
#pragma once

#include <cstdint>
#include <vector>

#include "runtime/engine/claims.hpp"

namespace tallow::runtime {

// The order in which levels are made: lists by the highest, raised submasters in growing number, the grand
// master, the panic look, floors.
class Mix {
  public:
    explicit Mix(const Roll& roll);

    // Sets everything for tick t. Ticks never go back.
    void evaluate(Tick t) { stage_.evaluate(t); }
    // What a GO at tick g says comes after this, and finds everything as it was then.
    void begin_go(Tick g);
    void start(std::uint32_t source, Tick g) { stage_.start(source, g); }
    void state(std::uint32_t list, std::uint32_t p, Level level, std::uint32_t source, Passage& passage) {
        claims_.state(list, p, level, source, passage, moves_at_once(p));
    }
    void release(std::uint32_t list, std::uint32_t p, Passage& passage) {
        claims_.release(list, p, passage, moves_at_once(p));
    }

    void set_submaster(std::uint32_t index, Level position, Tick t);
    void set_master(Level position);
    void set_panic(bool on);

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
    void scale();
    void panic();

    const Roll& roll_;
    Rows rows_;
    Stage stage_;
    Claims claims_;
    std::vector<Level> position_;  // of submasters
    std::uint32_t raised_ = 0;     // submasters above 0
    Level master_ = full;
    bool panic_ = false;
    std::vector<std::uint8_t> jumps_;  // by row: 1 where a submaster's value does not mix
    std::vector<std::uint8_t> dark_;   // by parameter: intensities that gave no light at the last GO
    std::vector<Level> levels_;
};

}  // namespace tallow::runtime
