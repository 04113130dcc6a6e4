// A show that is compiled anew each time a file of it is saved, for a player that plays it meanwhile.
#pragma once

#include <atomic>
#include <mutex>
#include <optional>
#include <set>
#include <string>
#include <thread>
#include <vector>

#include "compiler/command/compilation.hpp"
#include "compiler/show/load.hpp"
#include "runtime/session/session.hpp"

namespace tallow::command {

// The findings of one version of a show after the other, for somebody who has heard of those of the version
// before.
class FindingsNews {
  public:
    // Lines for those that are new: the first few, errors before warnings; then how many more there are, and
    // how many stand as before. What is found in a line counts as the same wherever that line has moved to in
    // its file.
    std::vector<std::string> take(const source::Sink& sink, const source::Sources& sources);
    // Whether the last version had new ones.
    bool found_new() const { return found_new_; }

  private:
    std::multiset<std::string> known_;  // of the version before
    bool found_new_ = false;
};

class ShowRevisions : public runtime::Revisions {
  public:
    // Follows the files with a thread of its own. `playing` is the hash of the roll that plays already, and
    // `told` has taken the findings in it.
    ShowRevisions(std::string show, std::uint64_t playing, FindingsNews told);
    ~ShowRevisions() override;
    ShowRevisions(const ShowRevisions&) = delete;
    ShowRevisions& operator=(const ShowRevisions&) = delete;

    // A show with errors is none: its findings are said, and that the old one goes on.
    std::optional<Revision> poll(const std::function<void(std::string_view)>& say) override;

  private:
    void follow();
    void compile_once(const show::ReadFile& read, bool first);
    void tell(std::string line);

    const std::string show_;
    std::uint64_t latest_;  // the hash of the last one
    FindingsNews findings_;
    std::atomic<bool> ends_{false};
    std::mutex mutex_;                  // over both below
    std::vector<std::string> lines_;    // to be said
    std::optional<Revision> revision_;  // to be played
    std::thread thread_;
};

}  // namespace tallow::command
