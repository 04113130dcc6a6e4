// How the checks of a roll refuse.
#pragma once

#include <fmt/format.h>
#include <string>
#include <utility>

#include "runtime/limits.hpp"
#include "runtime/status.hpp"

namespace tallow::runtime {

template <class... Args>
Status refuse(fmt::format_string<Args...> why, Args&&... args) {
    return Status::failure(fmt::format(why, std::forward<Args>(args)...));
}

inline bool too_long(const std::string& text) {
    return text.size() > limits::text_bytes;
}

}  // namespace tallow::runtime
