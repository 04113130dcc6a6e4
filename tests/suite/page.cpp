#include "tests/suite/page.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <sstream>

#include "runtime/files.hpp"

namespace tallow::test {

std::vector<std::string> cells_of(const std::string& row) {
    std::vector<std::string> cells;
    std::istringstream in(row.substr(1));
    for (std::string cell; std::getline(in, cell, '|');) {
        std::erase(cell, '`');
        const std::size_t from = std::min(cell.find_first_not_of(' '), cell.size());
        cells.push_back(cell.substr(from, cell.find_last_not_of(' ') + 1 - from));
    }
    return cells;
}

std::string read_page(const std::string& path) {
    auto text = runtime::read_file(std::string(TALLOW_SOURCE_DIR "/") + path, std::size_t{1} << 24);
    REQUIRE(text.ok());
    return *text;
}

std::vector<Block> blocks_of(const std::string& page) {
    std::vector<Block> blocks;
    std::istringstream in(page);
    bool open = false;
    std::size_t number = 0;
    for (std::string line; std::getline(in, line);) {
        ++number;
        const bool fence = line.starts_with("```");
        if (fence && !open) {
            std::istringstream mark(line.substr(3));
            Block block{{}, {}, {}, number};
            mark >> block.kind >> block.argument;
            blocks.push_back(block);
        } else if (open && !fence) {
            blocks.back().text += line + "\n";
        }
        if (fence) open = !open;
    }
    return blocks;
}

std::string section_of(const std::string& page, const std::string& heading) {
    const std::size_t at = page.find("\n" + heading + "\n");
    INFO("the page has no heading `" << heading << "`");
    REQUIRE(at != std::string::npos);
    return page.substr(at + 1, page.find("\n#", at + 1) - at);
}

std::vector<std::vector<std::string>> rows_under(const std::string& page, const std::string& heading) {
    std::vector<std::vector<std::string>> rows;
    std::istringstream in(section_of(page, heading));
    for (std::string line; std::getline(in, line);)
        if (line.starts_with("|")) rows.push_back(cells_of(line));
    REQUIRE(rows.size() > 2);
    rows.erase(rows.begin(), rows.begin() + 2);
    return rows;
}

std::unique_ptr<command::Compilation> compile_text(const std::string& text, const std::vector<Block>& files) {
    auto compiled = command::compile("show.tallow", [&](const std::string& path) {
        if (path == "show.tallow") return runtime::Result<std::string>(text);
        for (const Block& file : files)
            if (file.argument == path) return runtime::Result<std::string>(file.text);
        return runtime::Result<std::string>(runtime::Status::failure("there is no `" + path + "`"));
    });
    REQUIRE(compiled.ok());
    return std::move(*compiled);
}

}  // namespace tallow::test
