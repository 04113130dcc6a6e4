// Integers to and from bytes, in the order that a format states, whatever the machine's own.
#pragma once

#include <bit>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <span>
#include <string_view>
#include <vector>

namespace tallow::runtime {

using Bytes = std::vector<std::uint8_t>;

inline std::string_view as_text(std::span<const std::uint8_t> bytes) {
    return {reinterpret_cast<const char*>(bytes.data()), bytes.size()};
}
inline std::span<const std::uint8_t> as_bytes(std::string_view text) {
    return {reinterpret_cast<const std::uint8_t*>(text.data()), text.size()};
}

// Lowest byte first. `at` must have room for sizeof(T) bytes. On a machine of the same order one plain move,
// which compilers do not find in the loop.
template <class T>
void put_little(std::uint8_t* at, T value) {
    if constexpr (std::endian::native == std::endian::little) {
        std::memcpy(at, &value, sizeof value);
    } else {
        for (std::size_t i = 0; i < sizeof(T); ++i) at[i] = static_cast<std::uint8_t>(value >> (8 * i));
    }
}
template <class T>
T get_little(const std::uint8_t* at) {
    T value{};
    if constexpr (std::endian::native == std::endian::little) {
        std::memcpy(&value, at, sizeof value);
    } else {
        for (std::size_t i = 0; i < sizeof(T); ++i) value = static_cast<T>(value | T{at[i]} << (8 * i));
    }
    return value;
}

// Highest byte first.
template <class T>
constexpr void put_big(std::uint8_t* at, T value) {
    for (std::size_t i = 0; i < sizeof(T); ++i)
        at[i] = static_cast<std::uint8_t>(value >> (8 * (sizeof(T) - 1 - i)));
}
template <class T>
constexpr T get_big(const std::uint8_t* at) {
    std::uint64_t value = 0;
    for (std::size_t i = 0; i < sizeof(T); ++i) value = value << 8 | at[i];
    return static_cast<T>(value);
}

template <class T>
void append_little(Bytes& to, T value) {
    to.resize(to.size() + sizeof(T));
    put_little(to.data() + to.size() - sizeof(T), value);
}

}  // namespace tallow::runtime
