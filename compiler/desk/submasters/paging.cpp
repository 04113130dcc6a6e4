#include "compiler/desk/submasters/paging.hpp"

#include <utility>

namespace tallow::desk::submasters {
namespace {

constexpr int most_rounds = 20;

// How ill two recordings stand on submasters of one number on two pages.
class Conflicts {
  public:
    explicit Conflicts(const Levels& positions)
        : n_(positions.columns()), weight_(n_ * n_), together_(2 * n_ * positions.rows() + 1) {
        for (std::size_t a = 0; a < n_; ++a)
            for (std::size_t b = 0; b < a; ++b)
                weight_[a * n_ + b] = weight_[b * n_ + a] = between(positions, a, b);
    }

    std::uint64_t operator()(std::size_t a, std::size_t b) const { return weight_[a * n_ + b]; }

  private:
    // A cue that raises both weighs more than all the cues that take the submaster over from one to the
    // other.
    std::uint64_t between(const Levels& positions, std::size_t a, std::size_t b) const {
        std::uint64_t weight = 0;
        bool a_was = false, b_was = false;
        for (std::size_t c = 0; c < positions.rows(); ++c) {
            const bool a_is = positions.at(c, a) > 0, b_is = positions.at(c, b) > 0;
            if (a_is && b_is) weight += together_;
            weight += a_was != b_was && a_is == b_was && b_is == a_was;
            a_was = a_is;
            b_was = b_is;
        }
        return weight;
    }

    std::size_t n_;
    std::vector<std::uint64_t> weight_;
    std::uint64_t together_;
};

class Pages {
  public:
    Pages(const Levels& positions, std::uint32_t submasters, std::uint32_t pages)
        : positions_(positions),
          submasters_(submasters),
          conflicts_(positions),
          used_(positions.rows(), std::vector<std::uint32_t>(pages + 1)),
          pages_(pages) {
        for (std::size_t r = 0; r < positions.columns(); ++r) {
            const auto page = static_cast<std::uint32_t>(r / submasters + 1);
            places_.push_back({page, 0});
            put(r, {page, best_number(r, page)});
        }
    }

    // Exchanges, and moves to free places, while they gain something.
    void exchange() {
        bool gained = true;
        for (int round = 0; round < most_rounds && gained; ++round) {
            gained = false;
            for (std::size_t r = 0; r < places_.size(); ++r) {
                for (std::size_t other = 0; other < r; ++other) gained |= gains_by_exchange(r, other);
                for (std::uint32_t page = 1; page <= pages_; ++page) gained |= gains_by_move(r, page);
            }
        }
    }

    std::vector<Place> places() { return std::move(places_); }

  private:
    // The less, the better: pages that cues use, then conflicts.
    using Cost = std::pair<std::size_t, std::uint64_t>;

    bool raised(std::size_t cue, std::size_t r) const { return positions_.at(cue, r) > 0; }

    void put(std::size_t r, Place place) {
        places_[r] = place;
        for (std::size_t c = 0; c < positions_.rows(); ++c) used_[c][place.page] += raised(c, r);
    }
    void take(std::size_t r) {
        for (std::size_t c = 0; c < positions_.rows(); ++c) used_[c][places_[r].page] -= raised(c, r);
    }
    void move(std::size_t r, Place to) {
        take(r);
        put(r, to);
    }
    void swap(std::size_t r, std::size_t other) {
        const Place was = places_[r];
        move(r, places_[other]);
        move(other, was);
    }

    std::size_t pages_used(std::uint32_t a, std::uint32_t b) const {
        std::size_t n = 0;
        for (const auto& cue : used_) n += (cue[a] > 0) + (cue[b] > 0);
        return n;
    }

    std::uint64_t conflict(std::size_t r) const {
        std::uint64_t sum = 0;
        for (std::size_t other = 0; other < places_.size(); ++other)
            if (places_[other].submaster == places_[r].submaster && places_[other].page != places_[r].page)
                sum += conflicts_(r, other);
        return sum;
    }

    // A free submaster of the page with the least conflicts; 0: there is none.
    std::uint32_t best_number(std::size_t r, std::uint32_t page) const {
        std::vector<std::uint64_t> cost(submasters_ + 1);
        std::vector<bool> taken(submasters_ + 1);
        for (std::size_t other = 0; other < places_.size(); ++other) {
            const Place& place = places_[other];
            cost[place.submaster] += conflicts_(r, other);
            if (place.page == page) taken[place.submaster] = true;
        }
        std::uint32_t best = 0;
        for (std::uint32_t n = 1; n <= submasters_; ++n)
            if (!taken[n] && (best == 0 || cost[n] < cost[best])) best = n;
        return best;
    }

    bool gains_by_move(std::size_t r, std::uint32_t page) {
        const Place from = places_[r], to{page, best_number(r, page)};
        if (to.submaster == 0) return false;
        const Cost before{pages_used(from.page, page), conflict(r)};
        move(r, to);
        if (Cost{pages_used(from.page, page), conflict(r)} < before) return true;
        move(r, from);
        return false;
    }

    bool gains_by_exchange(std::size_t r, std::size_t other) {
        const std::uint32_t a = places_[r].page, b = places_[other].page;
        const auto cost = [&] { return Cost{pages_used(a, b), conflict(r) + conflict(other)}; };
        const Cost before = cost();
        if (a == b && before.second == 0) return false;
        swap(r, other);
        if (cost() < before) return true;
        swap(r, other);
        return false;
    }

    const Levels& positions_;
    std::uint32_t submasters_;
    Conflicts conflicts_;
    std::vector<std::vector<std::uint32_t>> used_;  // of each cue and page, the recordings that are raised
    std::uint32_t pages_;
    std::vector<Place> places_;
};

}  // namespace

std::vector<Place> lay_on_pages(const Levels& positions, std::uint32_t submasters, std::uint32_t pages) {
    if (submasters == 0) return {};
    Pages all(positions, submasters, std::max(pages, 1u));
    all.exchange();
    return all.places();
}

}  // namespace tallow::desk::submasters
