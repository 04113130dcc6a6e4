#include "tests/suite/language_page.hpp"

namespace tallow::test {

const std::string& language_page() {
    static const std::string text = read_page("grammar/LANGUAGE.md");
    return text;
}

std::string language_rig() {
    for (const Block& block : blocks_of(language_page()))
        if (block.argument == "rig") return block.text;
    return {};
}

std::string show_of(const Block& block) {
    const bool whole = block.argument == "whole" || block.text.starts_with("show ");
    return whole ? block.text : language_rig() + block.text;
}

}  // namespace tallow::test
