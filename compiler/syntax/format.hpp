// A show file in the one style that `tallow format` writes (LANGUAGE.md, "The plain style"): text in, text
// out.
#pragma once

#include <string>
#include <string_view>

namespace tallow::syntax {

// The same atoms in the same lines, laid out: what the file says does not change. Lines with a fault of their
// signs, and lines that belong to no declaration, stay as they are. A text that was formatted is not changed.
// `text` is valid UTF-8 and shorter than 4 GiB.
std::string format(std::string_view text);

}  // namespace tallow::syntax
