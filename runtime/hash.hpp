// FNV-1a, 64 bits (public domain; draft-eastlake-fnv): finds damage, proves nothing against a forger.
#pragma once

#include <cstdint>
#include <string_view>

namespace tallow::runtime {

constexpr std::uint64_t hash(std::string_view bytes, std::uint64_t h = 0xcbf29ce484222325u) {
    for (const char c : bytes) h = (h ^ static_cast<unsigned char>(c)) * 0x100000001b3u;
    return h;
}

}  // namespace tallow::runtime
