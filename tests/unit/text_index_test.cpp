// The index of texts against a map, while it grows.
#include "compiler/text/text_index.hpp"

#include <catch2/catch.hpp>
#include <fmt/format.h>
#include <vector>

namespace tallow::text {

TEST_CASE("an index of texts finds each entry by its text, and nothing by any other", "[unit]") {
    std::vector<std::string> texts;
    const auto text_of = [&](std::uint32_t entry) -> std::string_view { return texts[entry]; };
    TextIndex index;
    CHECK(index.find("bar-0", text_of) == TextIndex::none);
    for (std::uint32_t i = 0; i < 1000; ++i) {
        texts.push_back(fmt::format("bar-{}", i));
        index.add(texts.back(), i);
        REQUIRE(index.find(texts[i / 2], text_of) == i / 2);
        REQUIRE(index.find(fmt::format("bar-{}", i + 1), text_of) == TextIndex::none);
    }
    for (std::uint32_t i = 0; i < 1000; ++i) CHECK(index.find(texts[i], text_of) == i);
    CHECK(index.find("", text_of) == TextIndex::none);
}

}  // namespace tallow::text
