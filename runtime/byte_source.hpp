// Bytes that are read here and there: an open file, or memory. Nothing is read that was not asked for.
#pragma once

#include <cstdint>
#include <memory>
#include <span>
#include <string>

#include "runtime/bytes.hpp"
#include "runtime/status.hpp"

namespace tallow::runtime {

class ByteSource {
  public:
    virtual ~ByteSource() = default;
    virtual std::uint64_t size() const = 0;
    // Fills `out` from `offset` on; false when the file ends before or the system refuses.
    virtual bool read_at(std::uint64_t offset, std::span<std::uint8_t> out) = 0;
};

Result<std::unique_ptr<ByteSource>> open_bytes(const std::string& path);
std::unique_ptr<ByteSource> bytes_in_memory(Bytes bytes);

}  // namespace tallow::runtime
