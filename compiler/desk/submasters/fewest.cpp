#include "compiler/desk/submasters/fewest.hpp"

#include <algorithm>
#include <map>
#include <tuple>
#include <utility>

#include "compiler/desk/submasters/draft.hpp"
#include "compiler/desk/submasters/draws.hpp"

namespace tallow::desk::submasters {
namespace {

constexpr std::size_t looked_at = 24;                     // unserved cells that the next one is chosen from
constexpr std::size_t patience = 120;                     // moves without gain before a try is given up
constexpr std::size_t tries = 6;                          // drafts dropped in vain before the search is
constexpr std::size_t shortest_ban = 5, ban_spread = 10;  // moves for which a move is not taken back

// A draft, and the cells that it serves with each position as high as it can be.
struct Served {
    Draft draft;
    std::vector<char> cells;
};

class Search {
  public:
    Search(const Bounds& bounds, Percent notch, Limits limits)
        : bounds_(bounds), notch_(notch), limits_(limits), columns_(bounds.low.columns()) {
        for (std::size_t i = 0; i < bounds.low.rows(); ++i)
            for (std::size_t j = 0; j < columns_; ++j) asks_.push_back(bounds.low.at(i, j) > 0);
        servers_.resize(asks_.size());
    }

    Fewest run(const std::vector<Cell>& apart) {
        for (std::size_t n = 0; n < std::min(limits_.most, apart.size()); ++n) begin(apart[n]);
        build();
        const std::size_t enough = std::max(limits_.enough, apart.size());
        for (std::size_t failed = 0; unserved() == 0 && drafts_.size() > enough && failed < tries;) {
            const auto kept = std::pair(drafts_, servers_);
            drop(failed);
            if (unserved() == 0 || repair()) {
                failed = 0;
            } else {
                std::tie(drafts_, servers_) = kept;
                ++failed;
                if (worn_out()) break;
            }
        }
        if (unserved() > 0) repair();
        return result();
    }

  private:
    Cell cell(std::size_t at) const { return {at / columns_, at % columns_}; }
    std::size_t unserved() const {
        std::size_t n = 0;
        for (std::size_t c = 0; c < asks_.size(); ++c) n += asks_[c] && servers_[c] == 0;
        return n;
    }
    std::vector<std::size_t> unserved_cells() const {
        std::vector<std::size_t> all;
        for (std::size_t c = 0; c < asks_.size(); ++c)
            if (asks_[c] && servers_[c] == 0) all.push_back(c);
        return all;
    }
    bool worn_out() const { return work_ >= limits_.work; }
    Draft empty() { return {bounds_, notch_, work_}; }

    Served served(Draft draft) {
        Served s{std::move(draft), std::vector<char>(asks_.size())};
        for (std::size_t i = 0; i < bounds_.low.rows(); ++i) {
            const Percent top = s.draft.top(i);
            for (std::size_t j = 0; j < columns_; ++j)
                s.cells[i * columns_ + j] =
                    asks_[i * columns_ + j] && reaches(top, s.draft.level(j), bounds_.low.at(i, j));
        }
        work_ += 4 * asks_.size();
        return s;
    }

    // How many cells would be unserved with `other` in the place of a draft.
    std::size_t unserved_with(std::size_t r, const Served& other) const {
        std::size_t n = 0;
        for (std::size_t c = 0; c < asks_.size(); ++c)
            n += asks_[c] && servers_[c] - drafts_[r].cells[c] + other.cells[c] == 0;
        return n;
    }

    void put(std::size_t r, Served s) {
        for (std::size_t c = 0; c < asks_.size(); ++c) servers_[c] += s.cells[c] - drafts_[r].cells[c];
        drafts_[r] = std::move(s);
    }

    void begin(Cell first) {
        Draft draft = empty();
        if (!draft.add(first)) return;
        drafts_.push_back({empty(), std::vector<char>(asks_.size())});
        put(drafts_.size() - 1, served(std::move(draft)));
    }

    // Gives every cell that can be served to a draft, with no more than there may be.
    void build() {
        std::vector<char> given_up(asks_.size());
        while (true) {
            std::vector<std::size_t> open = unserved_cells();
            open.erase(std::remove_if(open.begin(), open.end(), [&](std::size_t c) { return given_up[c]; }),
                       open.end());
            if (open.empty() || worn_out()) return;
            const auto [at, takers] = tightest(open);
            if (!takers.empty()) {
                give(cell(at), takers);
            } else if (drafts_.size() < limits_.most) {
                const std::size_t before = drafts_.size();
                begin(cell(at));
                given_up[at] = drafts_.size() == before;
            } else {
                given_up[at] = true;
            }
        }
    }

    // Of some unserved cells the one that fewest drafts can take on, and those.
    std::pair<std::size_t, std::vector<std::size_t>> tightest(const std::vector<std::size_t>& open) {
        std::pair<std::size_t, std::vector<std::size_t>> best{nowhere, {}};
        for (std::size_t n = 0; n < std::min(looked_at, open.size()); ++n) {
            const std::size_t at = open.size() <= looked_at ? open[n] : open[draws_.below(open.size())];
            std::vector<std::size_t> takers;
            for (std::size_t r = 0; r < drafts_.size(); ++r)
                if (drafts_[r].draft.can_add(cell(at))) takers.push_back(r);
            if (best.first == nowhere || takers.size() < best.second.size()) best = {at, takers};
        }
        return best;
    }

    void give(Cell c, const std::vector<std::size_t>& takers) {
        std::size_t best = nowhere, fewest = nowhere;
        Served kept{empty(), {}};
        for (const std::size_t r : takers) {
            Draft draft = drafts_[r].draft;
            draft.add(c);
            Served s = served(std::move(draft));
            if (const std::size_t n = unserved_with(r, s); n < fewest) {
                fewest = n;
                best = r;
                kept = std::move(s);
            }
        }
        put(best, std::move(kept));
    }

    // The draft that serves fewest cells alone; after so many failures the one next to it.
    void drop(std::size_t skip) {
        std::vector<std::pair<std::size_t, std::size_t>> alone;
        for (std::size_t r = 0; r < drafts_.size(); ++r) {
            std::size_t n = 0;
            for (std::size_t c = 0; c < asks_.size(); ++c) n += servers_[c] == 1 && drafts_[r].cells[c];
            alone.emplace_back(n, r);
        }
        std::sort(alone.begin(), alone.end());
        const std::size_t r = alone[skip % alone.size()].second;
        for (std::size_t c = 0; c < asks_.size(); ++c) servers_[c] -= drafts_[r].cells[c];
        drafts_.erase(drafts_.begin() + static_cast<std::ptrdiff_t>(r));
    }

    // A draft that takes on `first`, and then as many as it can of the cells that it serves alone, and of
    // those that nobody serves.
    Served with(std::size_t r, std::size_t first) {
        Draft draft = empty();
        if (!draft.add(cell(first))) return drafts_[r];
        for (const Cell& c : drafts_[r].draft.cells())
            if (servers_[c.cue * columns_ + c.channel] == 1) draft.add(c);
        for (std::size_t c = 0; c < asks_.size(); ++c)
            if (servers_[c] == 1 && drafts_[r].cells[c]) draft.add(cell(c));
        for (const std::size_t c : unserved_cells()) draft.add(cell(c));
        work_ += 10 * asks_.size();
        return served(std::move(draft));
    }

    // Moves unserved cells to drafts until all are served.
    bool repair() {
        std::map<std::pair<std::size_t, std::size_t>, std::size_t> banned;  // cell, draft: until which move
        std::size_t least = unserved(), since = 0;
        std::pair kept(drafts_, servers_);
        for (std::size_t move = 1; least > 0 && since < patience && !worn_out(); ++move, ++since) {
            const std::vector<std::size_t> open = unserved_cells();
            const std::size_t at = open[draws_.below(open.size())];
            std::size_t best = nowhere, fewest = nowhere;
            Served chosen{empty(), {}};
            for (std::size_t r = 0; r < drafts_.size(); ++r) {
                Served s = with(r, at);
                const std::size_t n = unserved_with(r, s);
                if (const auto ban = banned.find({at, r});
                    ban != banned.end() && ban->second > move && n >= least)
                    continue;
                if (n > fewest || (n == fewest && draws_.below(2) == 0)) continue;
                fewest = n;
                best = r;
                chosen = std::move(s);
            }
            if (best == nowhere) continue;
            for (std::size_t c = 0; c < asks_.size(); ++c)
                if (drafts_[best].cells[c] && !chosen.cells[c])
                    banned[{c, best}] = move + shortest_ban + draws_.below(ban_spread);
            put(best, std::move(chosen));
            if (fewest < least) {
                least = fewest;
                since = 0;
                kept = {drafts_, servers_};
            }
        }
        std::tie(drafts_, servers_) = kept;
        return least == 0;
    }

    Fewest result() const {
        Fewest f{Levels(drafts_.size(), columns_), unserved()};
        for (std::size_t r = 0; r < drafts_.size(); ++r)
            for (std::size_t j = 0; j < columns_; ++j) f.recordings.at(r, j) = drafts_[r].draft.level(j);
        return f;
    }

    const Bounds& bounds_;
    Percent notch_;
    Limits limits_;
    std::uint64_t work_ = 0;
    std::size_t columns_;
    std::vector<char> asks_;  // of each cell, whether its low is above 0
    std::vector<Served> drafts_;
    std::vector<int> servers_;  // of each cell, how many drafts serve it
    Draws draws_;
};

}  // namespace

Fewest find_fewest(const Bounds& bounds, Percent notch, const std::vector<Cell>& apart, Limits limits) {
    return Search(bounds, notch, limits).run(apart);
}

}  // namespace tallow::desk::submasters
