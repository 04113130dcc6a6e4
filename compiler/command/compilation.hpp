// One run of the compiler over a show: what every command starts with.
#pragma once

#include <memory>
#include <string>

#include "compiler/check/check.hpp"
#include "compiler/show/load.hpp"
#include "compiler/show/show.hpp"
#include "compiler/source/diagnostics.hpp"
#include "runtime/roll/roll.hpp"
#include "runtime/status.hpp"

namespace tallow::command {

struct Compilation {
    source::Sources sources;
    source::Sink sink;
    show::Show show;
    check::Summary summary;               // empty when the show has errors
    std::unique_ptr<track::Book> book;    // rests on `show`
    std::vector<show::Element> selected;  // by `--fixture`
    std::size_t files = 0;                // read, the built-in types aside

    bool failed() const { return sink.failed(); }
    // Whether all errors lie in the file of this name.
    bool failed_in(const std::string& file) const;
};

// Reads, resolves and checks. Fails only when the first file cannot be read; all else is in the sink.
runtime::Result<std::unique_ptr<Compilation>> compile(const std::string& path,
                                                      const show::ReadFile& read = show::read_from_disk);

// The same, with a selection as `--fixture` gives it, in Compilation::selected.
runtime::Result<std::unique_ptr<Compilation>> compile(const std::string& path, const show::ReadFile& read,
                                                      const std::string& selection);

// The roll of a show without errors.
runtime::Roll make_roll(Compilation& compilation);

}  // namespace tallow::command
