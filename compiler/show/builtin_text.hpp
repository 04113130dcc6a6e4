// The text of grammar/builtin.tallow: the types that are always there.
#pragma once

#include <string_view>

namespace tallow::show {

std::string_view builtin_text();

}  // namespace tallow::show
