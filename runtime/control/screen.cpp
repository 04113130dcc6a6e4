#include "runtime/control/screen.hpp"

#include <algorithm>
#include <fmt/format.h>

#include "runtime/control/cue_words.hpp"
#include "runtime/control/plain_text.hpp"
#include "runtime/control/screen_parts.hpp"
#include "runtime/duration.hpp"

namespace tallow::runtime {
namespace screen {
namespace {

constexpr unsigned master_columns = 26;  // of one submaster
constexpr unsigned named_columns = 18;   // of these, of its number and label
constexpr std::size_t most_notices = 20, notice_lines = 3, surrounding_lines = 3;

// Since the beginning, pauses counted, as in the lines for what happens.
std::uint64_t since_beginning_ms(const View& view) {
    return to_ms(view.progress.frame * ticks_per_frame, std::max(view.refresh, 1u));
}

void add_title(Rows& rows, const View& view) {
    const std::string time = clock_time(since_beginning_ms(view));
    const unsigned room = rows.columns() - std::min(rows.columns(), width(time) + 2);
    Row row(rows.columns());
    row.put(cut(plain(view.title), room), true).to(rows.columns() - std::min(rows.columns(), width(time)));
    rows.add(rank::always, row.put(time));
}

std::string spaced(std::string_view word) {
    std::string wide;
    for (const char c : word) wide.append(wide.empty() ? 0 : 1, ' ') += c;
    return wide;
}

// How the show stands otherwise than as usual, in big words where there is room; then what is being typed, or
// the chosen list.
void add_state(Rows& rows, const View& view) {
    const std::string begins =
        view.begins_in_ms ? fmt::format("BEGINS IN {}", rough_duration(*view.begins_in_ms)) : "";
    const std::pair<bool, std::string_view> states[] = {{!begins.empty(), begins},
                                                        {view.progress.paused, "PAUSED"},
                                                        {view.progress.show.blackout, "BLACKOUT"},
                                                        {view.progress.show.panic, "PANIC"}};
    std::string aside = plain(view.typed);
    if (aside.empty() && view.roll != nullptr && view.roll->lists.size() > 1)
        aside = fmt::format("list {}", plain(view.roll->lists[view.list].name));
    std::string big, small;
    for (const auto& [is, word] : states) {
        if (!is) continue;
        big += (big.empty() ? "" : "     ") + spaced(word);
        small += fmt::format("{}{}", small.empty() ? "" : " ", word);
    }
    const bool roomy = width(big) + width(aside) + 3 <= rows.columns();
    Row row(rows.columns());
    row.put(roomy ? big : small, true);
    if (!aside.empty()) {
        if (row.used() > 0) row.to(row.used() + 2);
        row.to(rows.columns() - std::min(rows.columns(), width(aside)));
    }
    rows.add(rank::always, row.put(aside, !view.typed.empty() || view.list != 0));
}

void add_body(Rows& rows, const View& view, std::size_t room) {
    if (view.help) {
        if (view.roll != nullptr) add_now_and_next(rows, view);
        add_help(rows, view);
        rows.gap(rank::gap);
        add_surroundings(rows, view);
        return;
    }
    if (view.roll != nullptr) {
        add_cues(rows, view);
        add_masters(rows, view, room);
        rows.gap(rank::gap);
    } else {
        rows.add(rank::always, "a frames file plays, by its own times");
    }
    add_surroundings(rows, view);
    rows.gap(rank::gap);
    add_notices(rows, view);
}

}  // namespace

void add_masters(Rows& rows, const View& view, std::size_t room) {
    const Roll& roll = *view.roll;
    const Standing& show = view.progress.show;
    const std::size_t in_row = std::max(rows.columns() / master_columns, 1u), count = roll.submasters.size();
    const std::size_t shown = std::min(count, in_row * std::max<std::size_t>(room / 8, 1));
    // The chosen one is among those that are shown, which begin at the beginning of a row.
    const std::size_t chosen = view.submaster < count ? view.submaster : 0;
    const std::size_t first = chosen < shown ? 0 : (chosen - shown + in_row) / in_row * in_row;
    const std::size_t end = std::min(first + shown, count);

    Row head(rows.columns());
    head.put(fmt::format("{}grand master {}", view.grand ? "> " : "", level_words(show.master)),
             view.grand || show.master != full);
    std::size_t unseen = 0;
    for (std::size_t i = 0; i < count; ++i) unseen += (i < first || i >= end) && show.submasters[i] > 0;
    const std::string which = fmt::format("   submasters {} to {} of {}", first + 1, end, count);
    if (shown < count && head.left() >= width(which)) head.put(which);
    if (unseen > 0) head.put(fmt::format(", {} more up", unseen), true);
    rows.add(view.grand || show.master != full ? rank::moving : rank::around, head);

    const std::size_t digits = count == 0 ? 0 : std::to_string(roll.submasters.back().number).size();
    for (std::size_t at = first; at < end; at += in_row) {
        Row row(rows.columns());
        bool has_chosen = false;
        for (std::size_t i = at; i < std::min(at + in_row, end); ++i) {
            const bool is = i == view.submaster && !view.grand;
            row.to(static_cast<unsigned>(i - at) * master_columns).put(is ? "> " : "  ", is);
            row.put(padded(fmt::format("{:>{}} {}", roll.submasters[i].number, digits,
                                       plain(roll.submasters[i].label)),
                           named_columns) +
                        fmt::format("{:>5}", level_words(show.submasters[i])),
                    is || show.submasters[i] > 0);
            has_chosen = has_chosen || is;
        }
        rows.add(has_chosen ? rank::moving : rank::more, row);
    }
}

void add_surroundings(Rows& rows, const View& view) {
    std::string works;
    for (const OutputView& output : view.outputs) {
        const std::string name = plain(output.name);
        const std::string left_out =
            output.dropped > 0 ? fmt::format(" ({} frames left out)", output.dropped) : "";
        if (output.works) {
            works.append(works.empty() ? "works: " : "; ").append(name).append(left_out);
            continue;
        }
        const std::string again =
            output.next_try_ms > 0 ? fmt::format(", next try in {}", rough_duration(output.next_try_ms)) : "";
        rows.add_text({rank::cue, rank::around, rank::rest}, 0,
                      fmt::format("FAILS: {}{}: {}{}", name, again, plain(output.why), left_out),
                      surrounding_lines, true);
    }
    if (view.outputs.empty()) works = "no outputs";
    rows.add_text({rank::around, rank::rest, rank::rest}, 0, works, surrounding_lines);

    std::string stand_by;
    for (const BackupView& backup : view.backups)
        if (backup.well)
            stand_by.append(stand_by.empty() ? "" : "; ").append(plain(backup.line));
        else
            rows.add_text({rank::cue, rank::around, rank::rest}, 0, plain(backup.line), surrounding_lines,
                          true);
    rows.add_text({rank::around, rank::rest, rank::rest}, 0, stand_by, surrounding_lines);

    std::string listens;
    for (const std::string& way : view.ways_in)
        listens += (listens.empty() ? "listens to: " : "; ") + plain(way);
    rows.add_text({rank::around, rank::rest, rank::rest}, 0, listens, surrounding_lines);

    const PlayCounts& counts = view.progress.counts;
    Row row(rows.columns());
    row.put(fmt::format("{} frames sent", counts.frames));
    row.put(fmt::format(", {} late", counts.late), counts.late > 0);
    row.put(fmt::format(", {} left out", counts.dropped), counts.dropped > 0);
    rows.add(rank::more, row);
}

void add_notices(Rows& rows, const View& view) {
    const std::size_t count = std::min(view.notices.size(), most_notices);
    for (std::size_t i = count; i > 0; --i) {  // the i-th from the latest
        const unsigned far = rank::rest + static_cast<unsigned>(i);
        const unsigned first = i == 1 ? rank::first_note : i <= 3 ? rank::notices : far;
        rows.add_text({first, far, far}, 0, "- " + plain(view.notices[view.notices.size() - i]),
                      notice_lines);
    }
}

}  // namespace screen

std::vector<std::string> draw(const View& view, unsigned columns, unsigned rows) {
    Rows all(columns);
    screen::add_title(all, view);
    screen::add_state(all, view);
    screen::add_body(all, view, rows);
    all.foot();
    screen::add_keys(all, view);
    return all.fitted(rows);
}

}  // namespace tallow::runtime
