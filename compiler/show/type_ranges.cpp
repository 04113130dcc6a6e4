#include "compiler/show/type_ranges.hpp"

#include <algorithm>
#include <fmt/format.h>

#include "compiler/show/values.hpp"

namespace tallow::show {
namespace {

bool read_scale(Reader& reader, Range& range) {
    const auto low = read_value(reader, "is");
    if (!low) return false;
    if (!reader.take(AtomKind::dots)) {
        reader.expected("`..` and the other end of the scale");
        return false;
    }
    const auto high = read_value(reader, "is");
    if (!high) return false;
    if (low->form != Value::Form::measure || high->form != Value::Form::measure || low->unit != high->unit) {
        reader.fault(Finding::bad_range, reader.last(), "both ends of a scale carry the same unit")
            .with_hint("such as `is 1Hz..20Hz`");
        return false;
    }
    range.unit = low->unit;
    range.low = low->measure;
    range.high = high->measure;
    return true;
}

}  // namespace

std::optional<Range> read_range(Reader& reader) {
    const std::size_t place = reader.place();
    Range range;
    if (reader.next_is(AtomKind::word) && !reader.next_is(Word::is))
        range.name = reader.name_text(reader.take());
    if (reader.next_is_bare()) {
        const auto from = reader.count("a slot value", 0, 255);
        if (!from) return std::nullopt;
        if (!reader.take(AtomKind::dots)) {
            reader.expected("`..` and the last slot value of the range");
            return std::nullopt;
        }
        const auto to = reader.count("a slot value", 0, 255);
        if (!to) return std::nullopt;
        range.from = static_cast<std::uint8_t>(*from);
        range.to = static_cast<std::uint8_t>(*to);
        if (range.from > range.to) {
            reader.fault(Finding::bad_range, reader.since(place),
                         "a range goes from the lower slot value to the higher");
            return std::nullopt;
        }
    } else if (!reader.next_is(Word::is)) {
        reader.expected("slot values such as `0..9`, or a scale such as `is 1Hz..20Hz`");
        return std::nullopt;
    }
    if (reader.take(Word::is) && !read_scale(reader, range)) return std::nullopt;
    return range;
}

bool add_range(Reader& reader, Type& type, Index attribute, const Range& range, std::string_view name) {
    auto at = std::find_if(type.ranges.begin(), type.ranges.end(),
                           [&](const AttributeRanges& a) { return a.attribute == attribute; });
    if (at == type.ranges.end()) at = type.ranges.insert(type.ranges.end(), {attribute, {}});
    for (const Range& other : at->ranges)
        if (range.from <= other.to && other.from <= range.to) {
            reader
                .fault(Finding::bad_range, reader.last(),
                       fmt::format("slot value {} of `{}` lies in two ranges",
                                   std::max(range.from, other.from), name))
                .with_hint("end one range below the first value of the next");
            return false;
        }
    at->ranges.push_back(range);
    return true;
}

void read_ranges(Scope& scope, Reader& reader, Type& type, SaidOf& said) {
    const auto name = reader.name("the name of a parameter");
    if (!name) return;
    const Index attribute = scope.attribute(*name);
    said.emplace_back(attribute, reader.last());
    if (reader.at_end()) reader.expected("a range such as `open 0..9` or `is 0deg..540deg`");
    while (!reader.at_end() && !reader.muted()) {
        const auto range = read_range(reader);
        if (!range || !add_range(reader, type, attribute, *range, *name)) return;
    }
}

}  // namespace tallow::show
