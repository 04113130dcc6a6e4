// Faders in the rows of the desk; a row too long for the paper is broken into even parts.
#pragma once

#include <cstddef>
#include <utility>
#include <vector>

namespace tallow::emit {

// The parts as [from, to), in order. `faders` stand on the desk in `rows` rows, the first ones the fuller; a
// part takes `room` faders at most. `rows` and `room` are 1 or more.
inline std::vector<std::pair<std::size_t, std::size_t>> fader_parts(std::size_t faders, std::size_t rows,
                                                                    std::size_t room) {
    std::vector<std::pair<std::size_t, std::size_t>> all;
    if (faders == 0) return all;
    const std::size_t row = (faders + rows - 1) / rows;
    const std::size_t parts = (row + room - 1) / room, in_part = (row + parts - 1) / parts;
    for (std::size_t start = 0; start < faders; start += row) {
        const std::size_t end = start + row < faders ? start + row : faders;
        for (std::size_t from = start; from < end; from += in_part)
            all.emplace_back(from, from + in_part < end ? from + in_part : end);
    }
    return all;
}

}  // namespace tallow::emit
