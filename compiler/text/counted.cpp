#include "compiler/text/counted.hpp"

#include <fmt/format.h>

namespace tallow::text {

std::string counted(std::size_t n, std::string_view one) {
    return fmt::format("{} {}{}", n, one, n == 1 ? "" : "s");
}

}  // namespace tallow::text
