#include "tests/fuzz/serial_fuzz.hpp"

#include <stdexcept>
#include <string>

#include "runtime/bytes.hpp"
#include "runtime/output/serial.hpp"

namespace tallow::test {

bool fuzz_serial(std::span<const std::uint8_t> bytes) {
    const std::string_view text = runtime::as_text(bytes);
    const auto options = runtime::parse_serial(text);
    if (options.ok() == !options.why().empty()) throw std::logic_error("a failure without a reason");
    if (!options.ok()) return false;
    if (options->universe && (*options->universe < 1 || *options->universe > 63999))
        throw std::logic_error("there is no such universe");
    if (!text.starts_with(options->path) || options->path.find('\0') != std::string::npos)
        throw std::logic_error("the path is not what was written");
    return true;
}

}  // namespace tallow::test
