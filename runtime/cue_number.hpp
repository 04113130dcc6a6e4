// Cue numbers as text: 2500 thousandths is "2.5".
#pragma once

#include <cstdint>
#include <string>

namespace tallow::runtime {

inline std::string cue_number(std::uint32_t thousandths) {
    std::string text = std::to_string(thousandths / 1000);
    if (thousandths % 1000 == 0) return text;
    text += '.' + std::to_string(1000 + thousandths % 1000).substr(1);
    text.erase(text.find_last_not_of('0') + 1);
    return text;
}

}  // namespace tallow::runtime
