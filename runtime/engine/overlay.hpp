// What lies over all that lists and submasters say: the panic look, while it is up, and the floors.
#pragma once

#include <cstdint>
#include <vector>

#include "runtime/engine/integers.hpp"
#include "runtime/roll/roll.hpp"

namespace tallow::runtime {

class Overlay {
  public:
    // The roll must outlive this.
    explicit Overlay(const Roll& roll);

    // The panic look, at once.
    void set_up(bool on);
    bool up() const { return up_; }
    bool empty() const { return !up_ && !floors_ && floors_going_.empty() && look_going_.empty(); }
    // Over the levels of all parameters.
    void lay(Level* levels) const;

    // Goes over from another one, as go() says how far: `place` says by parameter which one of `from` it is,
    // or none. Allocates nothing.
    void dissolve(const Overlay& from, const std::vector<std::uint32_t>& place);
    bool goes() const { return !floors_going_.empty() || !look_going_.empty(); }
    void go(Weight far);

  private:
    // A level, and how far it takes the place of what lies beneath.
    struct Over {
        Level level = 0;
        Weight part = 0;
        bool operator==(const Over&) const = default;
    };
    struct Going {
        std::uint32_t parameter;
        Over from, to;
    };
    Over look_to_go_to(std::uint32_t p, Over from) const;

    const Roll& roll_;
    bool up_ = false, floors_ = false;
    std::vector<Level> floor_;  // by parameter; 0 for none
    std::vector<Over> look_;    // by parameter; of an intensity the highest counts, and no part
    std::vector<Going> floors_going_, look_going_;
};

}  // namespace tallow::runtime
