#include "runtime/roll/roll_place.hpp"

#include <fmt/format.h>

#include "runtime/limits.hpp"

namespace tallow::runtime {
namespace {

Status take_text(std::string& out, std::string& text) {
    if (text.size() > limits::text_bytes)
        return Status::failure(fmt::format("a text is longer than {} bytes", limits::text_bytes));
    out = std::move(text);
    return {};
}

}  // namespace

std::string digits(Wide v) {
    return v < 0 ? fmt::format("-{}", static_cast<std::uint64_t>(-v))
                 : fmt::format("{}", static_cast<std::uint64_t>(v));
}

Status check(Wide value, Range range) {
    if (value >= range.low && value <= range.high) return {};
    return Status::failure(
        fmt::format("{} is not in {} to {}", digits(value), digits(range.low), digits(range.high)));
}

Place text(std::string& out) {
    Place place;
    place.text = [&out](std::string& t, std::size_t) { return take_text(out, t); };
    return place;
}

Place object(std::function<Fields()> fields, std::function<Status()> closed) {
    Place place;
    place.object = [fields = std::move(fields)](std::size_t) { return fields(); };
    place.closed = [closed = std::move(closed)](std::size_t) { return closed(); };
    return place;
}

Place list(Place element, std::size_t most) {
    Place place;
    place.element = std::make_shared<const Place>(std::move(element));
    place.most = most;
    return place;
}

Place texts(std::vector<std::string>& out, std::size_t most) {
    Place element;
    element.text = [&out](std::string& t, std::size_t) { return take_text(out.emplace_back(), t); };
    return list(std::move(element), most);
}

}  // namespace tallow::runtime
