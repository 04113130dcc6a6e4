// A plan put to the test: the whole show compiled again with its patch, and the light of every fixture
// compared with what it was. No rule of selections, waves or spreads is told twice: what the compiler makes
// of the show decides.
#pragma once

#include <memory>

#include "compiler/fit/history.hpp"
#include "compiler/fit/light.hpp"
#include "compiler/fit/patch_text.hpp"
#include "compiler/source/diagnostics.hpp"
#include "compiler/track/book.hpp"

namespace tallow::fit {

// A compiled show, with what it does to every fixture.
struct Played {
    source::Sources sources;
    show::Show show;
    std::unique_ptr<track::Book> book;
    runtime::Roll roll;
    std::vector<History> histories;
};

struct Trial {
    bool compiles = false;  // all else is empty where it does not, but for
    std::string refused;    // the first line that has an error then, and the error
    std::unique_ptr<Played> after;
    std::vector<Index> of_before;  // for each fixture of the present show, that of the new one
    std::vector<Index> differs;    // fixtures of the present show that give another light
    bool clean() const { return compiles && differs.empty(); }
};

class Tester {
  public:
    // Both must outlive this; the show has no errors, and `sources` are its files.
    Tester(const show::Show& show, track::Book& book, const source::Sources& sources);

    Trial test(const Plan& plan, const std::vector<Slot>& at) const;

    const show::Show& show() const { return show_; }
    const source::Sources& sources() const { return sources_; }
    const runtime::Roll& roll() const { return roll_; }
    const std::vector<Output>& outputs(Index fixture) const { return outputs_[fixture]; }

  private:
    const show::Show& show_;
    const source::Sources& sources_;
    std::map<std::string, std::string> files_;  // without their patches
    runtime::Roll roll_;
    std::vector<std::vector<Output>> outputs_;
};

}  // namespace tallow::fit
