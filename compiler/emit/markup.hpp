// Text inside HTML, SVG and other markup.
#pragma once

#include <string>
#include <string_view>

namespace tallow::emit {

// `<`, `>`, `&` and quotes as entities, control characters as blanks: safe in text and in attributes.
std::string escaped(std::string_view text);

}  // namespace tallow::emit
