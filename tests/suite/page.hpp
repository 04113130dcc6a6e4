// The project's pages, and the examples in them.
#pragma once

#include <string>
#include <vector>

#include "compiler/command/compilation.hpp"

namespace tallow::test {

// A block between fences: its first line is "```kind argument".
struct Block {
    std::string kind, argument, text;
    std::size_t line;  // of the page, where it begins
};

// The page as text; fails the running test when it cannot be read. The path counts from the source tree.
std::string read_page(const std::string& path);
std::vector<Block> blocks_of(const std::string& page);
// The cells of a table row, a line that begins with `|`, without their backticks.
std::vector<std::string> cells_of(const std::string& row);
// The cells of every table row between the heading and the next one, without their backticks; the head and
// the rule under it are left out.
std::vector<std::vector<std::string>> rows_under(const std::string& page, const std::string& heading);
// The text between the heading and the next one.
std::string section_of(const std::string& page, const std::string& heading);

// A show that is a text in memory, with the blocks whose argument is a file's name for what it uses. Any
// other file is missing.
std::unique_ptr<command::Compilation> compile_text(const std::string& text,
                                                   const std::vector<Block>& files = {});

}  // namespace tallow::test
