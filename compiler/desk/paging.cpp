#include "compiler/desk/paging.hpp"

namespace tallow::desk {
namespace {

constexpr int most_rounds = 20;

class Pages {
  public:
    Pages(const Levels& positions, std::uint32_t submasters, std::uint32_t pages)
        : positions_(positions),
          submasters_(submasters),
          page_of_(positions.columns()),
          filled_(pages),
          used_(positions.rows(), std::vector<std::uint32_t>(pages)) {
        for (std::size_t r = 0; r < page_of_.size(); ++r) put(r, static_cast<std::uint32_t>(r / submasters));
    }

    // Exchanges, and moves to free places, while they save pages.
    void exchange() {
        bool saved = true;
        for (int round = 0; round < most_rounds && saved; ++round) {
            saved = false;
            for (std::size_t r = 0; r < page_of_.size(); ++r) {
                for (std::size_t other = 0; other < r; ++other) saved |= saves_pages(r, other);
                for (std::uint32_t page = 0; page < filled_.size(); ++page)
                    saved |= filled_[page] < submasters_ && saves_pages(r, page);
            }
        }
    }

    std::vector<Place> places() const {
        std::vector<Place> places;
        for (std::size_t r = 0; r < page_of_.size(); ++r)
            places.push_back({page_of_[r] + 1, free_number(places)});
        return places;
    }

  private:
    bool raised(std::size_t cue, std::size_t r) const { return positions_.at(cue, r) > 0; }

    void put(std::size_t r, std::uint32_t page) {
        page_of_[r] = page;
        ++filled_[page];
        for (std::size_t c = 0; c < positions_.rows(); ++c) used_[c][page] += raised(c, r);
    }
    void take(std::size_t r) {
        --filled_[page_of_[r]];
        for (std::size_t c = 0; c < positions_.rows(); ++c) used_[c][page_of_[r]] -= raised(c, r);
    }

    std::size_t pages_used(std::uint32_t a, std::uint32_t b) const {
        std::size_t n = 0;
        for (const auto& cue : used_) n += (cue[a] > 0) + (cue[b] > 0);
        return n;
    }

    bool saves_pages(std::size_t r, std::uint32_t page) {
        const std::uint32_t from = page_of_[r];
        if (from == page) return false;
        const std::size_t before = pages_used(from, page);
        take(r);
        put(r, page);
        if (pages_used(from, page) < before) return true;
        take(r);
        put(r, from);
        return false;
    }

    bool saves_pages(std::size_t r, std::size_t other) {
        const std::uint32_t a = page_of_[r], b = page_of_[other];
        if (a == b) return false;
        const std::size_t before = pages_used(a, b);
        const auto swap_to = [&](std::uint32_t of_r, std::uint32_t of_other) {
            take(r);
            take(other);
            put(r, of_r);
            put(other, of_other);
        };
        swap_to(b, a);
        if (pages_used(a, b) < before) return true;
        swap_to(a, b);
        return false;
    }

    // For the recording after those that have places: a number that is free on its page, and that none has
    // that is raised with it from another page, if there is one.
    std::uint32_t free_number(const std::vector<Place>& places) const {
        const std::size_t r = places.size();
        std::vector<int> cost(submasters_ + 1);
        for (std::size_t other = 0; other < r; ++other) {
            if (page_of_[other] == page_of_[r])
                cost[places[other].submaster] = 2;
            else if (cost[places[other].submaster] == 0)
                cost[places[other].submaster] = raised_together(r, other);
        }
        const auto best = std::min_element(cost.begin() + 1, cost.end());
        return static_cast<std::uint32_t>(best - cost.begin());
    }

    bool raised_together(std::size_t a, std::size_t b) const {
        for (std::size_t c = 0; c < positions_.rows(); ++c)
            if (raised(c, a) && raised(c, b)) return true;
        return false;
    }

    const Levels& positions_;
    std::uint32_t submasters_;
    std::vector<std::uint32_t> page_of_, filled_;   // from 0
    std::vector<std::vector<std::uint32_t>> used_;  // of each cue and page, the recordings that are raised
};

}  // namespace

std::vector<Place> lay_on_pages(const Levels& positions, std::uint32_t submasters, std::uint32_t pages) {
    if (submasters == 0) return {};
    Pages all(positions, submasters, std::max(pages, 1u));
    all.exchange();
    return all.places();
}

}  // namespace tallow::desk
