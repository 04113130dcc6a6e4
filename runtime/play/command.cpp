#include "runtime/play/command.hpp"

#include <algorithm>
#include <charconv>
#include <fmt/format.h>
#include <optional>

#include "runtime/duration.hpp"

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

std::optional<std::uint32_t> read_number(std::string_view digits) {
    std::uint32_t n = 0;
    const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), n);
    if (digits.empty() || error != std::errc() || end != digits.data() + digits.size()) return {};
    return n;
}

// `60%`, `62.5%`, `full`, `out`: to the nearest level.
Result<Level> read_level(std::string_view word) {
    if (word == "full") return full;
    if (word == "out") return Level{0};
    const auto fault =
        failure(fmt::format("`{}` is no level; write one like `60%`, or `full`, or `out`", word));
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
    return failure(fmt::format("there is no cue list `{}`; there is {}", name, names));
}

Result<std::uint32_t> read_submaster(std::string_view word, const Roll& roll) {
    const auto number = read_number(word);
    std::string numbers;
    for (std::uint32_t i = 0; i < roll.submasters.size(); ++i) {
        if (number && roll.submasters[i].number == *number) return i;
        numbers += fmt::format("{}{}", i == 0 ? "there is " : ", ", roll.submasters[i].number);
    }
    return failure(
        fmt::format("there is no submaster `{}`; {}", word, numbers.empty() ? "the show has none" : numbers));
}

// What stands behind the first word.
Status read_rest(std::string_view& rest, const Roll& roll, Command& command) {
    if (command.what == What::submaster) {
        const auto index = read_submaster(take_word(rest), roll);
        if (!index.ok()) return index.status();
        command.index = *index;
    }
    if (command.what == What::submaster || command.what == What::master) {
        const auto level = read_level(take_word(rest));
        if (!level.ok()) return level.status();
        command.level = *level;
    } else if (const std::string_view name = take_word(rest); !name.empty()) {
        const auto list = read_list(name, roll);
        if (!list.ok()) return list.status();
        command.index = *list;
    }
    return {};
}

// The name of a command's list for a message, where there are several.
std::string of_list(std::uint32_t list, const Roll& roll) {
    return roll.lists.size() > 1 ? fmt::format(" of {}", roll.lists[list].name) : "";
}

std::string stop(std::uint32_t list, Engine& engine, const Roll& roll) {
    if (list != none) {
        engine.hold(list);
        return fmt::format("stopped: nothing{} starts by itself but by timecode; `go` goes on",
                           of_list(list, roll));
    }
    for (std::uint32_t i = 0; i < roll.lists.size(); ++i) engine.hold(i);
    engine.timecode_stop();
    return "stopped: nothing starts by itself; `go` goes on";
}

}  // namespace

Result<Command> parse_command(std::string_view text, const Roll& roll) {
    constexpr std::pair<std::string_view, What> words[] = {{"go", What::go},
                                                           {"back", What::back},
                                                           {"stop", What::stop},
                                                           {"submaster", What::submaster},
                                                           {"master", What::master}};
    std::string_view rest = text;
    const std::string_view word = take_word(rest);
    const auto known = std::find_if(std::begin(words), std::end(words),
                                    [&](const auto& pair) { return pair.first == word; });
    if (known == std::end(words))
        return failure(
            fmt::format("`{}` is no command; there are `go`, `back` and `stop`, alone or with a "
                        "cue list, `submaster 1 60%` and `master 50%`",
                        word));
    Command command{known->second};
    if (auto s = read_rest(rest, roll, command); !s.ok()) return s;
    if (const std::string_view more = take_word(rest); !more.empty())
        return failure(fmt::format("`{}` is too much in `{}`; leave it away", more, text));
    return command;
}

Result<std::vector<TimedCommand>> parse_commands(std::string_view text, const Roll& roll) {
    std::vector<TimedCommand> commands;
    while (true) {
        const std::size_t comma = std::min(text.find(','), text.size());
        std::string_view part = text.substr(0, comma);
        const auto ms = parse_duration(take_word(part));
        if (!ms.ok()) return ms.status();
        const auto command = parse_command(part, roll);
        if (!command.ok()) return command.status();
        commands.push_back({*ms, *command});
        if (comma == text.size()) break;
        text.remove_prefix(comma + 1);
    }
    std::stable_sort(commands.begin(), commands.end(),
                     [](const TimedCommand& a, const TimedCommand& b) { return a.ms < b.ms; });
    return commands;
}

std::string obey(const Command& command, Engine& engine, const Roll& roll, Tick t) {
    const std::uint32_t list = command.index == none ? 0 : command.index;
    switch (command.what) {
        case What::go:
            return engine.go(list, t) ? "" : fmt::format("that was the last cue{}", of_list(list, roll));
        case What::back:
            return engine.back(list, t) ? "" : fmt::format("this is the first cue{}", of_list(list, roll));
        case What::stop:
            return stop(command.index, engine, roll);
        case What::submaster:
            engine.set_submaster(command.index, command.level, t);
            return "";
        case What::master:
            engine.set_master(command.level, t);
            return "";
    }
    return "";
}

}  // namespace tallow::runtime
