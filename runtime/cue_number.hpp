// Cue numbers as text: 2500 thousandths is "2.5".
#pragma once

#include <algorithm>
#include <charconv>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace tallow::runtime {

inline std::string cue_number(std::uint32_t thousandths) {
    std::string text = std::to_string(thousandths / 1000);
    if (thousandths % 1000 == 0) return text;
    text += '.' + std::to_string(1000 + thousandths % 1000).substr(1);
    text.erase(text.find_last_not_of('0') + 1);
    return text;
}

// Thousandths from "5" or "12.5": at most three decimals, and no more than 32 bits. Nothing for other text.
inline std::optional<std::uint32_t> parse_cue_number(std::string_view text) {
    const std::size_t point = std::min(text.find('.'), text.size());
    std::string digits(text.substr(0, point));
    std::string decimals(text.substr(std::min(point + 1, text.size())));
    if (digits.empty() || decimals.size() > 3 || (point < text.size() && decimals.empty())) return {};
    decimals.append(3 - decimals.size(), '0');
    digits += decimals;
    std::uint32_t thousandths = 0;
    const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), thousandths);
    if (error != std::errc() || end != digits.data() + digits.size()) return {};
    return thousandths;
}

}  // namespace tallow::runtime
