#include "compiler/text/decimal.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace tallow::text {
namespace {

constexpr std::int64_t powers_of_ten[] = {1, 10, 100, 1'000, 10'000, 100'000, million};

}  // namespace

std::optional<std::int64_t> millionths(std::string_view digits) {
    const bool negative = !digits.empty() && digits.front() == '-';
    if (negative) digits.remove_prefix(1);
    std::int64_t value = 0;
    int places = -1;  // behind the point; −1 before it
    for (const char c : digits) {
        if (c == '.' && places < 0) {
            places = 0;
            continue;
        }
        if (c < '0' || c > '9') return std::nullopt;
        if (places >= 0 && ++places > 6) return std::nullopt;
        value = value * 10 + (c - '0');
        if (value > decimal_limit * million) return std::nullopt;
    }
    if (digits.empty() || places == 0) return std::nullopt;
    const std::int64_t scale = powers_of_ten[6 - std::max(places, 0)];
    if (value > decimal_limit * million / scale) return std::nullopt;
    value *= scale;
    return negative ? -value : value;
}

std::string decimal(std::int64_t value) {
    const std::uint64_t size =
        value < 0 ? static_cast<std::uint64_t>(-value) : static_cast<std::uint64_t>(value);
    std::string digits = fmt::format("{}{}.{:06}", value < 0 ? "-" : "", size / million, size % million);
    digits.erase(digits.find_last_not_of('0') + 1);
    if (digits.back() == '.') digits.pop_back();
    return digits;
}

}  // namespace tallow::text
