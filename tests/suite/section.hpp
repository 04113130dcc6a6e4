// Tests as text: `tests/suite/*.txt` hold small shows with the findings that each must give.
//
//     === a level without its unit          a section: its name, then the show
//     show "…"
//     …
//         front 60
//     #! 11..12 error missing-unit: the level `60` has no unit
//     #!     hint: write `front 60%`
//     #!     see 3:5..9: `front` is patched here
//     --- rig.tallow                        a further file of the section, for `use`
//
// A line that begins with `#!` says what is found in the line above it: the first and last column marked
// (one number alone: nothing is marked, the place is behind the line's end), the severity, the id, the
// message; then its hint and the related places, as line:columns, with the file before them where it is
// another. The language takes these lines for comments, so line numbers are those of the section. A section
// without such lines gives no finding. In a show, ⟦ff⟧ stands for the byte of that value and ⟦x*70000⟧ for
// `x` so many times.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "compiler/command/compilation.hpp"

namespace tallow::test {

struct SuiteFile {
    std::string path;  // "show.tallow" for the first
    std::string text;  // with its `#!` lines
};

struct Section {
    std::string name;
    std::vector<SuiteFile> files;
};

struct Suite {
    std::string path;  // from the source tree
    std::vector<Section> sections;
};

// All of tests/suite/*.txt, by name.
std::vector<Suite> read_suites();
// The text of a suite file that holds these sections.
std::string write_suite(const Suite& suite);

// The bytes that stand for a section's text.
std::string expand(const std::string& text);
// Compiles a section in memory.
std::unique_ptr<command::Compilation> compile_section(const Section& section);
// The section with the `#!` lines that its show gives in place of those it has.
Section annotated(const Section& section);

}  // namespace tallow::test
