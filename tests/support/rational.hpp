// Exact fractions, for edges that real numbers miss.
#pragma once

#include <cstdint>

namespace tallow::test {

class Rational {
  public:
    __extension__ typedef __int128 Wide;

    constexpr Rational(std::int64_t whole = 0) : over_(whole) {}
    constexpr Rational(Wide over, Wide under) : over_(over), under_(under) {
        const Wide g = common(over < 0 ? -over : over, under);
        over_ /= g;
        under_ /= g;
    }

    friend constexpr Rational operator+(Rational a, Rational b) {
        return {a.over_ * b.under_ + b.over_ * a.under_, a.under_ * b.under_};
    }
    friend constexpr Rational operator-(Rational a, Rational b) { return a + Rational(-b.over_, b.under_); }
    friend constexpr bool operator<(Rational a, Rational b) {
        return a.over_ * b.under_ < b.over_ * a.under_;
    }
    friend constexpr bool operator==(Rational a, Rational b) {
        return a.over_ == b.over_ && a.under_ == b.under_;
    }

    constexpr std::int64_t floor() const {
        const Wide q = over_ / under_;
        return static_cast<std::int64_t>(over_ % under_ < 0 ? q - 1 : q);
    }
    constexpr Rational fraction() const { return *this - Rational(floor()); }
    long double real() const { return static_cast<long double>(over_) / static_cast<long double>(under_); }
    // The fraction in turns of 2⁻⁶⁴, rounded to nearest.
    std::uint64_t phase() const {
        __extension__ typedef unsigned __int128 Unsigned;
        const Rational f = fraction();
        const auto under = static_cast<Unsigned>(f.under_);
        return static_cast<std::uint64_t>(((static_cast<Unsigned>(f.over_) << 64) + under / 2) / under);
    }

  private:
    static constexpr Wide common(Wide a, Wide b) {
        while (b != 0) {
            const Wide rest = a % b;
            a = b;
            b = rest;
        }
        return a == 0 ? 1 : a;
    }
    Wide over_ = 0, under_ = 1;
};

}  // namespace tallow::test
