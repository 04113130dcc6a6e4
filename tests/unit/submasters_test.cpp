// The planner of submasters: odd tasks, moves, too few submasters, pages.
#include <algorithm>
#include <catch2/catch.hpp>
#include <functional>
#include <map>
#include <set>
#include <tuple>

#include "compiler/desk/submasters/paging.hpp"
#include "tests/support/planted.hpp"

using namespace tallow;
using desk::all_of_it;
using desk::Levels;
using desk::Percent;
namespace submasters = desk::submasters;

namespace {

constexpr Percent percent = 1'000'000;

Levels same(std::size_t cues, std::size_t channels, Percent level) {
    return {cues, channels, level};
}

// Checks what holds of every plan, and gives its worst distance in percent.
double check_plan(const submasters::Task& task, const submasters::Plan& plan) {
    CHECK(plan.recordings.rows() == plan.positions.columns());
    CHECK(plan.recordings.columns() == task.wanted.columns());
    CHECK(plan.positions.rows() == task.wanted.rows());
    CHECK(plan.recordings.rows() <= task.most);
    CHECK(plan.error.size() == task.wanted.rows());
    const auto worst = test::worst_distance(task.wanted, plan, std::max(task.notch, Percent{1}));
    CHECK(worst >= 0);
    Percent stated = 0;
    for (const Percent e : plan.error) stated = std::max(stated, e);
    CHECK(std::abs(worst - stated * all_of_it) <= all_of_it / 2);
    return static_cast<double>(worst) / 1e14;
}

// The fewest moves that there are, from all ways to stand at each cue.
std::size_t fewest_moves(const submasters::Bounds& bounds, const Levels& recordings, Percent notch) {
    std::vector<std::vector<Percent>> ways(1);
    for (std::size_t r = 0; r < recordings.rows(); ++r) {
        std::vector<std::vector<Percent>> longer;
        for (const auto& way : ways) {
            for (Percent p = 0; p <= all_of_it; p += notch) {
                longer.push_back(way);
                longer.back().push_back(p);
            }
        }
        ways = longer;
    }
    const auto keeps = [&](std::size_t cue, const std::vector<Percent>& way) {
        for (std::size_t j = 0; j < recordings.columns(); ++j) {
            std::int64_t most = 0;
            for (std::size_t r = 0; r < way.size(); ++r) most = std::max(most, way[r] * recordings.at(r, j));
            if (most < bounds.low.at(cue, j) * all_of_it || most > bounds.high.at(cue, j) * all_of_it)
                return false;
        }
        return true;
    };
    std::map<std::vector<Percent>, std::size_t> reached{
        {std::vector<Percent>(recordings.rows(), 0), std::size_t{0}}};
    for (std::size_t cue = 0; cue < bounds.low.rows(); ++cue) {
        std::map<std::vector<Percent>, std::size_t> next;
        for (const auto& way : ways) {
            if (!keeps(cue, way)) continue;
            std::size_t least = SIZE_MAX;
            for (const auto& [from, moves] : reached) {
                std::size_t more = 0;
                for (std::size_t r = 0; r < way.size(); ++r) more += way[r] != from[r];
                least = std::min(least, moves + more);
            }
            next[way] = least;
        }
        reached = std::move(next);
    }
    std::size_t least = SIZE_MAX;
    for (const auto& [way, moves] : reached) least = std::min(least, moves);
    return least;
}

// By the words of the sheet: submasters that fall to zero on a page and rise from it on another.
std::size_t take_overs(const Levels& positions, const std::vector<submasters::Place>& places) {
    std::size_t n = 0;
    for (std::size_t c = 1; c < positions.rows(); ++c)
        for (std::size_t a = 0; a < places.size(); ++a)
            for (std::size_t b = 0; b < places.size(); ++b)
                n += places[a].page != places[b].page && places[a].submaster == places[b].submaster &&
                     positions.at(c - 1, a) > 0 && positions.at(c, a) == 0 && positions.at(c - 1, b) == 0 &&
                     positions.at(c, b) > 0;
    return n;
}

// Pages beyond the first of a cue, submasters that are up on two at once, take-overs.
std::tuple<std::size_t, std::size_t, std::size_t> cost_of(const Levels& positions,
                                                          const std::vector<submasters::Place>& places) {
    std::size_t beyond = 0, twice = 0;
    for (std::size_t c = 0; c < positions.rows(); ++c) {
        std::set<std::uint32_t> pages;
        for (std::size_t r = 0; r < places.size(); ++r) {
            if (positions.at(c, r) == 0) continue;
            pages.insert(places[r].page);
            for (std::size_t other = 0; other < r; ++other)
                twice += positions.at(c, other) > 0 && places[other].submaster == places[r].submaster;
        }
        beyond += pages.size();
    }
    return {beyond, twice, take_overs(positions, places)};
}

}  // namespace

TEST_CASE("tasks with nothing in them take no submaster", "[unit][recordings]") {
    for (const Levels& wanted : {same(0, 0, 0), same(0, 5, 0), same(5, 0, 0), same(5, 5, 0)}) {
        const auto task = test::task_for(wanted, 5 * percent);
        const auto plan = submasters::make_plan(task);
        check_plan(task, plan);
        CHECK(plan.recordings.rows() == 0);
        CHECK(plan.apart.empty());
        CHECK(plan.kept());
    }
}

TEST_CASE("any notch and any tolerance give a plan", "[unit][recordings]") {
    test::Random random(5);
    const Levels wanted = test::planted(random, 6, 7, 3, percent);
    for (const Percent notch : {Percent{-5}, Percent{0}, Percent{1}, percent / 3, 7 * percent, 50 * percent,
                                all_of_it, 3 * all_of_it}) {
        for (const Percent tolerance : {Percent{0}, notch / 2, all_of_it}) {
            submasters::Task task{wanted, submasters::bounds_around(wanted, std::max(tolerance, Percent{0})),
                                  notch, 20};
            const auto plan = submasters::make_plan(task);
            INFO("notch " << notch << ", tolerance " << tolerance);
            const double worst = check_plan(task, plan);
            if (plan.kept()) CHECK(worst <= static_cast<double>(std::max(tolerance, Percent{0})) / percent);
            if (tolerance == all_of_it) CHECK(plan.recordings.rows() == 0);
            if (notch == all_of_it && tolerance == 0) CHECK_FALSE(plan.can_be_kept);
        }
    }
}

TEST_CASE("levels without any order take no more submasters than there are channels or cues",
          "[unit][recordings]") {
    test::Random random(11);
    for (const bool upright : {true, false}) {
        // Every cue sets a few neighbours anew.
        Levels wanted(upright ? 300 : 48, upright ? 48 : 300);
        std::vector<Percent> now(48, 0);
        for (std::size_t i = 0; i < 300; ++i) {
            for (std::uint64_t runs = 1 + random.below(5); runs > 0; --runs) {
                const auto level = static_cast<Percent>(random.below(21)) * 5 * percent;
                const std::size_t first = random.below(40), last = first + random.below(9);
                std::fill(now.begin() + static_cast<std::ptrdiff_t>(first),
                          now.begin() + static_cast<std::ptrdiff_t>(std::min<std::size_t>(last + 1, 48)),
                          level);
            }
            for (std::size_t j = 0; j < 48; ++j) (upright ? wanted.at(i, j) : wanted.at(j, i)) = now[j];
        }
        auto task = test::task_for(wanted, 5 * percent);
        task.most = 200;
        const auto plan = submasters::make_plan(task);
        check_plan(task, plan);
        CHECK(plan.kept());
        CHECK(plan.needed <= 48);
        CHECK(plan.recordings.rows() <= 48);
    }
}

TEST_CASE("with a tolerance of 0 what hands can set is met exactly", "[unit][recordings]") {
    test::Random random(6);
    const Levels wanted = test::planted(random, 8, 9, 4, 20 * percent);
    submasters::Task task{wanted, submasters::bounds_around(wanted, 0), percent, 20};
    const auto plan = submasters::make_plan(task);
    CHECK(plan.kept());
    CHECK(plan.recordings.rows() <= 4);
    CHECK(check_plan(task, plan) == 0);
}

TEST_CASE("submasters move hardly more often than they have to", "[unit][recordings]") {
    test::Random random(11);
    std::size_t found = 0, least = 0;
    for (int n = 0; n < 40; ++n) {
        const Percent notch = 25 * percent;
        const Levels wanted = test::planted(random, 7, 6, 3, notch, 30);
        const auto task = test::task_for(wanted, notch);
        const auto plan = submasters::make_plan(task);
        REQUIRE(plan.recordings.rows() <= 3);
        const std::size_t fewest = fewest_moves(task.bounds, plan.recordings, notch);
        CHECK(submasters::count_moves(plan.positions) >= fewest);
        found += submasters::count_moves(plan.positions);
        least += fewest;
    }
    CHECK(found * 100 <= least * 104);
}

TEST_CASE("a submaster that may stay, stays", "[unit][recordings]") {
    // Two cues that one recording gives at 50% and, within half a notch, again at 50%.
    Levels wanted(3, 2, 50 * percent);
    wanted.at(1, 0) = 51 * percent;
    wanted.at(2, 1) = 48 * percent;
    const auto plan = submasters::make_plan(test::task_for(wanted, 5 * percent));
    CHECK(plan.recordings.rows() == 1);
    CHECK(submasters::count_moves(plan.positions) == 1);
}

TEST_CASE("levels come as near as a hand can set them", "[unit][recordings]") {
    Levels wanted(1, 4);
    for (std::size_t j = 0; j < 4; ++j) wanted.at(0, j) = std::vector<Percent>{50, 20, 0, 75}[j] * percent;
    const auto exact = submasters::make_plan(test::task_for(wanted, 5 * percent));
    CHECK(exact.error == std::vector<Percent>{0});
    // Also where far more would be allowed.
    submasters::Task wide{wanted, submasters::bounds_around(wanted, 15 * percent), 5 * percent, 9};
    CHECK(submasters::make_plan(wide).error == std::vector<Percent>{0});
    // What another submaster brings anyway, or no cue asks for, is not recorded.
    for (std::size_t r = 0; r < exact.recordings.rows(); ++r) CHECK(exact.recordings.at(r, 2) == 0);
}

TEST_CASE("too few submasters give the least error, and state it", "[unit][recordings]") {
    // One recording for levels a and b of one cue, c and d of the next: found by trying all.
    test::Random random(3);
    const Percent notch = 10 * percent;
    for (int n = 0; n < 10; ++n) {
        Levels wanted(2, 2);
        for (std::size_t i = 0; i < 4; ++i) wanted.at(i / 2, i % 2) = random.below(101) * percent;
        const auto task = test::task_for(wanted, notch, 1);
        const auto plan = submasters::make_plan(task);
        const double worst = check_plan(task, plan);
        double least = 100;
        for (int a = 0; a <= 10; ++a)
            for (int b = 0; b <= 10; ++b)
                for (int p = 0; p <= 10; ++p)
                    for (int q = 0; q <= 10; ++q) {
                        const auto off = [&](std::size_t i, std::size_t j, int product) {
                            return std::abs(product - static_cast<double>(wanted.at(i, j)) / percent);
                        };
                        least = std::min(least, std::max({off(0, 0, a * p), off(0, 1, b * p),
                                                          off(1, 0, a * q), off(1, 1, b * q)}));
                    }
        INFO("case " << n);
        CHECK(worst <= std::max(least, 5.0) + 10.0 / 16);
        if (!plan.kept()) CHECK(plan.needed == 2);
    }
}

TEST_CASE("fewer submasters are off by more, never by less", "[unit][recordings]") {
    test::Random random(9);
    const Levels wanted = test::planted(random, 20, 20, 8, 5 * percent);
    double before = 0;
    for (std::size_t most = 9; most-- > 0;) {
        const auto task = test::task_for(wanted, 5 * percent, most);
        const auto plan = submasters::make_plan(task);
        const double worst = check_plan(task, plan);
        INFO(most << " submasters");
        CHECK(plan.kept() == (most >= plan.needed));
        CHECK(worst >= before - 2.5);
        before = worst;
    }
    CHECK(before > 50);  // without any
}

TEST_CASE("what cues use together stands on one page", "[unit][recordings]") {
    // Six recordings: the even ones are used together, and the odd ones.
    Levels positions(6, 6);
    for (std::size_t c = 0; c < 6; ++c)
        for (std::size_t r = c % 2; r < 6; r += 2) positions.at(c, r) = all_of_it;
    const auto places = submasters::lay_on_pages(positions, 3, 2);
    REQUIRE(places.size() == 6);
    std::set<std::pair<std::uint32_t, std::uint32_t>> taken;
    for (std::size_t r = 0; r < 6; ++r) {
        CHECK(places[r].page == places[r % 2].page);
        CHECK(places[r].submaster >= 1);
        CHECK(places[r].submaster <= 3);
        CHECK(taken.insert({places[r].page, places[r].submaster}).second);
    }
    CHECK(places[0].page != places[1].page);
}

TEST_CASE("what is raised from two pages at once takes different submasters", "[unit][recordings]") {
    // Two on each page, with a cue that needs one of each.
    Levels positions(3, 4);
    positions.at(0, 0) = positions.at(0, 1) = all_of_it;
    positions.at(1, 2) = positions.at(1, 3) = all_of_it;
    positions.at(2, 0) = positions.at(2, 2) = all_of_it;
    const auto places = submasters::lay_on_pages(positions, 2, 2);
    CHECK(places[0].page == places[1].page);
    CHECK(places[2].page == places[3].page);
    CHECK(places[0].page != places[2].page);
    CHECK(places[0].submaster != places[2].submaster);
}

// By hand: three on the first page, the fourth alone on the second, where it may stand anywhere; but the cue
// before its own has the first one up.
TEST_CASE("a submaster is not taken over from another page where another is free", "[unit][recordings]") {
    Levels positions(5, 4);
    const std::size_t up[] = {0, 1, 2, 0, 3};
    for (std::size_t c = 0; c < 5; ++c) positions.at(c, up[c]) = all_of_it;
    const auto places = submasters::lay_on_pages(positions, 3, 2);
    CHECK(places[0].submaster != places[3].submaster);
    CHECK(take_overs(positions, places) == 0);
}

TEST_CASE("no exchange of two places and no free place saves a take-over", "[unit][recordings]") {
    test::Random random(11);
    for (int round = 0; round < 30; ++round) {
        const std::uint32_t submasters = 2 + random.below(3), pages = 2 + random.below(2);
        Levels positions(12, submasters * pages - random.below(3));
        for (std::size_t c = 0; c < positions.rows(); ++c) {
            positions.at(c, random.below(positions.columns())) = all_of_it;
            if (c % 3 == 0) positions.at(c, random.below(positions.columns())) = all_of_it;
        }
        const auto places = submasters::lay_on_pages(positions, submasters, pages);
        const auto found = cost_of(positions, places);
        for (std::size_t r = 0; r < places.size(); ++r) {
            for (std::size_t other = 0; other < r; ++other) {
                auto swapped = places;
                std::swap(swapped[r], swapped[other]);
                CHECK(cost_of(positions, swapped) >= found);
            }
            for (std::uint32_t place = 0; place < submasters * pages; ++place) {
                auto moved = places;
                moved[r] = {place / submasters + 1, place % submasters + 1};
                const bool free = std::none_of(places.begin(), places.end(), [&](const submasters::Place& p) {
                    return p.page == moved[r].page && p.submaster == moved[r].submaster;
                });
                if (free) CHECK(cost_of(positions, moved) >= found);
            }
        }
    }
}

TEST_CASE("many recordings are laid on pages at once", "[unit][recordings]") {
    test::Random random(12);
    Levels positions(300, 300);
    for (std::size_t c = 0; c < 300; ++c)
        for (int n = 0; n < 4; ++n) positions.at(c, random.below(300)) = all_of_it;
    CHECK(submasters::lay_on_pages(positions, 20, 16).size() == 300);
}

TEST_CASE("very large tasks get a plan without a search", "[unit][recordings]") {
    test::Random random(2);
    Levels wanted(600, 500);
    for (std::size_t i = 0; i < 600; ++i)
        for (std::size_t j = 0; j < 500; ++j) wanted.at(i, j) = random.below(101) * percent;
    const auto task = test::task_for(wanted, 5 * percent, 600);
    const auto plan = submasters::make_plan(task);
    CHECK(plan.kept());
    CHECK(plan.recordings.rows() == 500);
    CHECK(check_plan(task, plan) <= 2.5);
}
