// Replaces what the whole test program allocates with.
#include "tests/support/allocations.hpp"

#include <cstdlib>
#include <new>

namespace {

thread_local std::size_t count = 0;

void* counted(std::size_t size) noexcept {
    ++count;
    return std::malloc(size);
}

}  // namespace

// All forms but the aligned ones, so that none is paired with a sanitizer's own.
void* operator new(std::size_t size) {
    if (void* p = counted(size)) return p;
    throw std::bad_alloc();
}
void* operator new[](std::size_t size) {
    return operator new(size);
}
void* operator new(std::size_t size, const std::nothrow_t&) noexcept {
    return counted(size);
}
void* operator new[](std::size_t size, const std::nothrow_t&) noexcept {
    return counted(size);
}
void operator delete(void* p) noexcept {
    std::free(p);
}
void operator delete[](void* p) noexcept {
    std::free(p);
}
void operator delete(void* p, std::size_t) noexcept {
    std::free(p);
}
void operator delete[](void* p, std::size_t) noexcept {
    std::free(p);
}

std::size_t tallow::test::allocations() {
    return count;
}
