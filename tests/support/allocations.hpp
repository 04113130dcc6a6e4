#pragma once

#include <cstddef>

namespace tallow::test {

// How often the calling thread has allocated memory with `new`, so that a case can tell that a stretch of it
// allocates nothing.
std::size_t allocations();

}  // namespace tallow::test
