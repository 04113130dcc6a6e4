#include "compiler/show/response.hpp"

#include <fmt/format.h>
#include <utility>

#include "compiler/show/points.hpp"
#include "compiler/text/decimal.hpp"

namespace tallow::show {

std::optional<Law> take_law(Reader& reader) {
    if (reader.take(Word::linear)) return Law::linear;
    if (reader.take(Word::square)) return Law::square;
    if (reader.take(Word::lightness)) return Law::lightness;
    return std::nullopt;
}

bool ResponseReader::read_words(Reader& reader) {
    if (!read_word(reader)) return false;
    while (!reader.muted() && read_word(reader)) {
    }
    return true;
}

bool ResponseReader::read_word(Reader& reader) {
    if (reader.take(Word::response)) {
        reader.once(response_said_, "response");
        read_law(reader);
    } else if (reader.take(Word::preheat)) {
        reader.once(preheat_said_, "preheat");
        preheat_ = reader.last();
        read_low_end(reader, response_.preheat, response_.floor,
                     "`preheat` is for filaments, `floor` for what does not light below it");
    } else if (reader.take(Word::floor)) {
        reader.once(floor_said_, "floor");
        read_low_end(reader, response_.floor, response_.preheat,
                     "`floor` is for what does not light below it, `preheat` for filaments");
    } else {
        return false;
    }
    return true;
}

void ResponseReader::read_law(Reader& reader) {
    response_.points.clear();
    if (!reader.take(Word::points)) {
        const auto law = take_law(reader);
        if (!law) reader.expected("`linear`, `square`, `lightness` or `points 0% 0%, 50% 20%, 100% full`");
        response_.law = law.value_or(Law::unsaid);
        return;
    }
    response_.law = Law::points;
    const std::size_t place = reader.place();
    response_.points = read_points(reader, "a slot");
    if (reader.muted()) return;
    const auto& points = response_.points;
    bool rises = points.front() == Point{0, 0} && points.back() == Point{100 * text::million, runtime::full};
    for (std::size_t i = 1; i < points.size(); ++i)
        rises = rises && points[i].at > points[i - 1].at && points[i].level >= points[i - 1].level;
    if (!rises)
        reader
            .fault(Finding::out_of_range, reader.since(place),
                   "light rises with the slot, from `0% 0%` to `100% full`")
            .with_hint("write slots and how much light they give: `points 0% 0%, 50% 20%, 100% full`");
}

void ResponseReader::read_low_end(Reader& reader, std::int64_t& end, std::int64_t& other,
                                  std::string_view hint) {
    const std::size_t place = reader.place();
    const auto percent = reader.measure(Unit::percent, "the lower end of a slot", "4%", 0, 50);
    if (!percent) return;
    end = *percent;
    if (end != 0 && std::exchange(other, 0) != 0 && preheat_said_ && floor_said_)
        reader
            .fault(Finding::unexpected, reader.since(place),
                   "a dimmer is preheated, or has a floor; both make no sense")
            .with_hint(std::string(hint));
}

Index ResponseReader::add(Show& show, Reader& reader, const Type& type) const {
    if (response_ == Response{}) return none;
    if (preheat_said_ && response_.preheat > 0 && !type.emitters.empty() && !type.filtered())
        reader
            .fault(Finding::unexpected, preheat_,
                   fmt::format("`preheat` keeps filaments warm, and the type `{}` has emitters", type.name))
            .with_hint("for an LED that does not light below a slot, write `floor 6%`");
    show.responses.push_back(response_);
    return static_cast<Index>(show.responses.size() - 1);
}

}  // namespace tallow::show
