// From levels to the bytes of universes.
#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <vector>

#include "runtime/limits.hpp"
#include "runtime/roll/roll.hpp"

namespace tallow::runtime {

class Slots {
  public:
    explicit Slots(const Roll& roll);

    // Writes universe `index` from the levels of all parameters, after which stands one that is full. True if
    // a slot differs.
    bool write(std::size_t index, const Level* levels);
    std::span<const std::uint8_t> universe(std::size_t index) const;

  private:
    using Bytes = std::array<std::uint8_t, limits::slots>;
    // Neighbouring parameters on neighbouring 8-bit slots, as they are.
    struct Plain {
        std::uint32_t parameter, count;
        std::uint16_t slot;  // from 0
    };
    // A parameter times an intensity that has no slot (or times full).
    struct Product {
        std::uint32_t parameter, factor;
        std::uint16_t coarse, fine;  // from 0; fine counts in `wide` alone
    };
    // The same through tables: of the factor's level, then of the product.
    struct Bent {
        Product product;
        const Level *factor, *sent;
        bool wide;
    };
    struct Universe {
        std::uint16_t slots;
        Bytes bytes{};
        std::vector<Plain> plain;
        std::vector<Product> narrow, wide;
        std::vector<Bent> bent;
    };
    void make_tables(const Roll& roll);
    void place(const Parameters& rig, std::uint32_t p);
    static void put(Bytes& bytes, const Product& part, bool wide, Level level);

    std::vector<Universe> universes_;
    std::vector<std::vector<Level>> tables_;  // of straight lines, then of each response
    std::vector<const Level*> table_of_;      // by parameter: one of them; empty where there are no responses
};

}  // namespace tallow::runtime
