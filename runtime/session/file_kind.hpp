// What a file is, so that one given in the wrong place is called by its name.
#pragma once

#include <cstdint>
#include <string_view>

namespace tallow::runtime {

enum class FileKind : std::uint8_t { empty, show, roll, frames, state, capture, other };

// By its bytes, and a show's text by its name too, `.tallow`. Whether it is sound is not said.
FileKind file_kind(std::string_view path, std::string_view bytes);

// For people: "a show's text".
std::string_view name(FileKind kind);

}  // namespace tallow::runtime
