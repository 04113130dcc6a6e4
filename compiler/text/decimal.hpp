// Exact decimals. A number of the language is a whole count of millionths; nothing is ever rounded on its way
// in.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace tallow::text {

inline constexpr std::int64_t million = 1'000'000;
inline constexpr std::int64_t decimal_limit =
    1'000'000'000;  // whole units: no number of the language is larger

// Reads `-12.5` as −12 500 000. None when there are more than six places, when it is past the limit, or when
// it is no number.
std::optional<std::int64_t> millionths(std::string_view digits);

// The shortest decimal: 12500000 is `12.5`.
std::string decimal(std::int64_t millionths);

// The quotient rounded to nearest, halves up. b > 0.
constexpr std::int64_t rounded(std::int64_t a, std::int64_t b) {
    const std::int64_t doubled = 2 * a + b;
    return doubled >= 0 ? doubled / (2 * b) : -((-doubled + 2 * b - 1) / (2 * b));
}

}  // namespace tallow::text
