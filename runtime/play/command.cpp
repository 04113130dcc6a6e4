#include "runtime/play/command.hpp"

#include <algorithm>
#include <charconv>
#include <fmt/format.h>
#include <optional>

#include "runtime/ascii.hpp"
#include "runtime/cue_number.hpp"
#include "runtime/duration.hpp"
#include "runtime/timecode.hpp"

namespace tallow::runtime {
namespace {

using What = Command::What;

Status failure(std::string why) {
    return Status::failure(std::move(why));
}

// Takes the first word off a text; empty at its end.
std::string_view take_word(std::string_view& text) {
    const auto begin = std::min(text.find_first_not_of(" \t\r"), text.size());
    text.remove_prefix(begin);
    const std::string_view word = text.substr(0, text.find_first_of(" \t\r"));
    text.remove_prefix(word.size());
    return word;
}

// What is wrong with a word: that it is not there, or that it is none of its kind.
std::string no_such(std::string_view word, std::string_view kind) {
    return word.empty() ? fmt::format("the {} is missing", kind) : fmt::format("`{}` is no {}", word, kind);
}

std::optional<std::uint32_t> read_number(std::string_view digits) {
    std::uint32_t n = 0;
    const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), n);
    if (digits.empty() || error != std::errc() || end != digits.data() + digits.size()) return {};
    return n;
}

// `60%`, `62.5%`, `full`, `out`: to the nearest level.
Result<Level> read_level(std::string_view word) {
    if (is_word(word, "full")) return full;
    if (is_word(word, "out")) return Level{0};
    const auto fault = failure(no_such(word, "level") + "; write one like `60%`, or `full`, or `out`");
    if (word.empty() || word.back() != '%') return fault;
    const std::string_view number = word.substr(0, word.size() - 1);
    const std::size_t point = number.find('.');
    std::string decimals(point == std::string_view::npos ? "0" : number.substr(point + 1));
    if (decimals.empty() || decimals.size() > 3) return fault;
    decimals.append(3 - decimals.size(), '0');
    const auto percent = read_number(number.substr(0, point)), thousandths = read_number(decimals);
    if (!percent || !thousandths || *percent > 100 || *percent * 1000 + *thousandths > 100000) return fault;
    return static_cast<Level>((std::uint64_t{*percent * 1000 + *thousandths} * full + 50000) / 100000);
}

Result<std::uint32_t> read_list(std::string_view name, const Roll& roll) {
    std::string names;
    for (std::uint32_t i = 0; i < roll.lists.size(); ++i) {
        if (roll.lists[i].name == name) return i;
        names += fmt::format("{}`{}`", i == 0 ? "" : ", ", roll.lists[i].name);
    }
    const bool is_number = !name.empty() && is_digit(name[0]);
    return failure(fmt::format("there is no cue list `{}`; there is {}{}", name, names,
                               is_number ? fmt::format("; `cue {}` goes to a cue", name) : ""));
}

Result<std::uint32_t> read_submaster(std::string_view word, const Roll& roll) {
    const auto number = read_number(word);
    std::string numbers;
    for (std::uint32_t i = 0; i < roll.submasters.size(); ++i) {
        if (number && roll.submasters[i].number == *number) return i;
        numbers += fmt::format("{}{}", i == 0 ? "there is " : ", ", roll.submasters[i].number);
    }
    const std::string there_are = numbers.empty() ? "the show has none" : numbers;
    if (word.empty()) return failure("the submaster's number is missing; " + there_are);
    return failure(fmt::format("there is no submaster `{}`; {}", word, there_are));
}

// What stands behind the first word of each command.
class Rest {
  public:
    Rest(std::string_view text, const Roll& roll) : text_(text), roll_(roll) {}

    Status read(Command& command);
    std::string_view left() { return take_word(text_); }

  private:
    Status list(Command& command);
    Status cue(Command& command);
    Status stop(Command& command);
    bool time_is_next() const;
    Status time(Command& command);
    Status submaster(Command& command);
    Status level(Command& command);
    Status on_or_off(Command& command);
    Status timecode(Command& command);

    std::string_view text_;
    const Roll& roll_;
};

Status Rest::read(Command& command) {
    switch (command.what) {
        case What::go:
        case What::back:
        case What::hold:
            return list(command);
        case What::go_to:
            return cue(command);
        case What::stop:
            return stop(command);
        case What::submaster:
            return submaster(command);
        case What::grand:
            return level(command);
        case What::blackout:
        case What::panic:
            return on_or_off(command);
        case What::timecode:
            return timecode(command);
        case What::pause:
        case What::resume:
        case What::timecode_off:
        case What::timecode_on:
        case What::tape:
        case What::tape_lost:
            return {};
    }
    return {};
}

Status Rest::list(Command& command) {
    const std::string_view name = take_word(text_);
    if (name.empty()) return {};
    const auto list = read_list(name, roll_);
    if (!list.ok()) return list.status();
    command.index = *list;
    return {};
}

Status Rest::cue(Command& command) {
    const std::string_view word = take_word(text_);
    const auto number = parse_cue_number(word);
    if (!number) return failure(no_such(word, "cue number") + "; write one like `5` or `12.5`");
    if (auto s = list(command); !s.ok()) return s;
    const auto cue = find_cue(roll_, command.index == none ? 0 : command.index, *number);
    if (!cue.ok()) return cue.status();
    command.cue = *cue;
    return {};
}

// A list, a time, or both, in either order.
Status Rest::stop(Command& command) {
    command.ms = stop_ms;
    const bool time_first = time_is_next();
    if (time_first)
        if (auto s = time(command); !s.ok()) return s;
    if (!time_is_next())
        if (auto s = list(command); !s.ok()) return s;
    return !time_first && time_is_next() ? time(command) : Status();
}

// What begins with a digit is a time, as no list's name does.
bool Rest::time_is_next() const {
    const std::string_view next = trimmed(text_);
    return !next.empty() && is_digit(next[0]);
}

Status Rest::time(Command& command) {
    const auto ms = parse_duration(take_word(text_));
    if (!ms.ok()) return ms.status();
    command.ms = *ms;
    return {};
}

Status Rest::submaster(Command& command) {
    const auto index = read_submaster(take_word(text_), roll_);
    if (!index.ok()) return index.status();
    command.index = *index;
    return level(command);
}

Status Rest::level(Command& command) {
    const auto level = read_level(take_word(text_));
    if (!level.ok()) return level.status();
    command.level = *level;
    return {};
}

Status Rest::on_or_off(Command& command) {
    const std::string_view word = take_word(text_);
    if (is_word(word, "on")) command.to = Command::Switch::on;
    if (is_word(word, "off")) command.to = Command::Switch::off;
    if (!word.empty() && command.to == Command::Switch::over)
        return failure(fmt::format("`{}` is neither `on` nor `off`", word));
    return {};
}

Status Rest::timecode(Command& command) {
    const std::string_view word = take_word(text_);
    if (is_word(word, "off")) {
        command.what = What::timecode_off;
        return {};
    }
    if (is_word(word, "on")) {
        command.what = What::timecode_on;
        return {};
    }
    if (word.empty()) return failure("the label is missing; write one like `01:00:00:00`, or `off` or `on`");
    const auto frame = parse_timecode(word, roll_.timecode_rate);
    if (!frame.ok()) return frame.status();
    command.code = timecode_tick(*frame, roll_.timecode_rate, roll_.refresh);
    return {};
}

}  // namespace

std::string level_words(Level level) {
    const std::uint32_t tenths = (std::uint32_t{level} * 1000 + full / 2) / full;
    return tenths % 10 == 0 ? fmt::format("{}%", tenths / 10)
                            : fmt::format("{}.{}%", tenths / 10, tenths % 10);
}

Result<std::uint32_t> find_cue(const Roll& roll, std::uint32_t list, std::uint32_t number) {
    const CueList& in = roll.lists[list];
    const auto begin = roll.cues.begin() + in.first, end = begin + in.count;
    const auto at =
        std::lower_bound(begin, end, number, [](const Cue& cue, std::uint32_t n) { return cue.number < n; });
    if (at != end && at->number == number) return static_cast<std::uint32_t>(at - roll.cues.begin());
    std::string near;
    if (at != begin) near = cue_number((at - 1)->number);
    if (at != end) near += (near.empty() ? "" : " and ") + cue_number(at->number);
    return failure(fmt::format("there is no cue {} in `{}`; {}", cue_number(number), in.name,
                               near.empty() ? "it has no cues" : "beside it: " + near));
}

Result<Command> parse_command(std::string_view text, const Roll& roll) {
    constexpr std::pair<std::string_view, What> words[] = {
        {"go", What::go},         {"back", What::back},
        {"cue", What::go_to},     {"hold", What::hold},
        {"stop", What::stop},     {"pause", What::pause},
        {"resume", What::resume}, {"submaster", What::submaster},
        {"grand", What::grand},   {"blackout", What::blackout},
        {"panic", What::panic},   {"timecode", What::timecode}};
    std::string_view behind = text;
    const std::string_view word = take_word(behind);
    const auto known = std::find_if(std::begin(words), std::end(words),
                                    [&](const auto& pair) { return is_word(word, pair.first); });
    if (is_word(word, "quit"))
        return failure("`quit` stands alone, at a player's input; a script ends by `--until 2s`");
    if (known == std::end(words))
        return failure(
            fmt::format("{}; there are `go`, `back`, `cue 5`, `hold` and `stop`, each alone "
                        "or with a cue list, `pause`, `resume`, `submaster 1 60%`, `grand 50%`, `blackout`, "
                        "`panic` and `timecode 00:00:00:00`; `quit` alone ends a player",
                        no_such(word, "command")));
    Command command;
    command.what = known->second;
    Rest rest(behind, roll);
    if (auto s = rest.read(command); !s.ok()) return s;
    if (const std::string_view more = rest.left(); !more.empty())
        return failure(fmt::format("`{}` is too much in `{}`; leave it away", more, text));
    return command;
}

namespace {

// Whether a part of a script is of a time and something behind it.
Status check_timed(std::string_view part) {
    std::string_view behind = part;
    const std::string_view time = take_word(behind);
    if (time.empty())
        return failure("a command is missing; write one like `2s go`, with a comma between two");
    if (!is_digit(time[0]))
        return failure(fmt::format("`{}` does not begin with its time; write it like `2s go`", part));
    if (take_word(behind).empty())
        return failure(
            fmt::format("`{0}` is a time without a command; write one behind it, like `{0} go`", time));
    return {};
}

}  // namespace

Result<std::vector<TimedCommand>> parse_commands(std::string_view text, const Roll& roll) {
    std::vector<TimedCommand> commands;
    while (true) {
        const std::size_t comma = std::min(text.find(','), text.size());
        std::string_view part = trimmed(text.substr(0, comma));
        if (auto s = check_timed(part); !s.ok()) return s;
        const auto ms = parse_duration(take_word(part));
        if (!ms.ok()) return ms.status();
        const auto command = parse_command(trimmed(part), roll);
        if (!command.ok()) return command.status();
        commands.push_back({*ms, *command});
        if (comma == text.size()) break;
        text.remove_prefix(comma + 1);
    }
    std::stable_sort(commands.begin(), commands.end(),
                     [](const TimedCommand& a, const TimedCommand& b) { return a.ms < b.ms; });
    return commands;
}

}  // namespace tallow::runtime
