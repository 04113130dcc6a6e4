#include "runtime/session/command_line.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <charconv>
#include <cstdio>
#include <fmt/format.h>

#include "runtime/ascii.hpp"
#include "runtime/nearest.hpp"
#include "runtime/session/help.hpp"

namespace tallow::runtime {
namespace {

using Words = std::vector<std::string>;

bool has_commands(const CLI::App& app) {
    return !app.get_subcommands({}).empty();
}

// Written like an option; `-` is a file, and `-5` a number.
bool is_option(const std::string& word) {
    return word.size() > 1 && word[0] == '-' && word != "--" && !is_digit(word[1]);
}

// What is typed to call it: `tallow play`.
std::string call(const CLI::App& app) {
    return app.get_parent() == nullptr ? app.get_name() : call(*app.get_parent()) + " " + app.get_name();
}

// How an option or an argument is given, and what it is: "`--until TIME`: end at this time in the show".
std::string way_to_give(const CLI::App& app, const CLI::Option& option) {
    const std::string before = option.get_positional() ? call(app) + " " : "";
    return fmt::format("`{}{}{}`: {}", before, option.get_name(), value_name(option),
                       option.get_description());
}

// The command that is meant, or the program itself where none is.
const CLI::App& find_command(const CLI::App& app, const Words& words) {
    for (const std::string& word : words)
        for (const CLI::App* const command : app.get_subcommands({}))
            if (command->get_name() == word) return *command;
    return app;
}

std::string lacks_value(const CLI::App& app, const CLI::Option& option, const std::string& behind) {
    const std::string name = option.get_name();
    if (behind.empty()) return fmt::format("`{}` has no value; write {}", name, way_to_give(app, option));
    if (app.get_option_no_throw(behind) == nullptr)
        return fmt::format(
            "`{0}` has no value, and `{1}` behind it looks like an option; write `{0}={1}` if it is "
            "the value",
            name, behind);
    return fmt::format("`{}` has no value, and `{}` behind it is an option; write {}", name, behind,
                       way_to_give(app, option));
}

// What is wrong with an option by itself, `--name` or `--name=value`; empty where its value is the next word.
std::string find_odd(const CLI::App& app, const CLI::Option& option, const std::string& name,
                     const std::optional<std::string>& joined) {
    const bool flag = option.get_items_expected_max() == 0;
    if (flag && joined) return fmt::format("`{0}` takes no value; write `{0}` alone", name);
    if (joined && joined->empty()) return lacks_value(app, option, "");
    if (joined && name[1] != '-')
        return fmt::format("`{0}={1}` has a `=` too much; write `{0} {1}`", name, *joined);
    return {};
}

// What the library would take in silence: options without a value, which would have the next option for it,
// flags with one, and empty words.
std::string find_misread(const CLI::App& app, const Words& words) {
    for (std::size_t i = 0; i < words.size() && words[i] != "--"; ++i) {
        if (words[i].empty())
            return "a word is empty, perhaps a variable of the shell that is not set; write something there";
        const std::size_t equals = words[i].find('=');
        const std::string name = words[i].substr(0, equals);
        const CLI::Option* const option = is_option(name) ? app.get_option_no_throw(name) : nullptr;
        if (option == nullptr) continue;
        std::optional<std::string> joined;
        if (equals != std::string::npos) joined = words[i].substr(equals + 1);
        if (std::string why = find_odd(app, *option, name, joined); !why.empty()) return why;
        if (joined || option->get_items_expected_max() == 0) continue;
        const std::string behind = ++i < words.size() && words[i] != "--" ? words[i] : "";
        if (behind.empty() || is_option(behind)) return lacks_value(app, *option, behind);
    }
    return {};
}

std::string unknown_option(const CLI::App& app, const CLI::App& command, const std::string& name) {
    if (&app != &command && command.get_option_no_throw(name) != nullptr)
        return fmt::format("`{0}` stands before `{1}`; write it behind, like `{2} {0}`", name,
                           command.get_name(), call(command));
    Words names;
    for (const CLI::Option* const option : command.get_options())
        for (const std::string& known : option->get_lnames()) names.push_back("--" + known);
    Nearest nearest(CLI::detail::to_lower(name));
    for (const std::string& known : names) nearest.offer(known);
    const std::string question = nearest.question();
    return fmt::format("there is no option `{}`; {}", name, question.empty() ? "leave it away" : question);
}

std::string unknown_command(const CLI::App& app, const std::string& word) {
    Nearest nearest(CLI::detail::to_lower(word));
    for (const CLI::App* const command : app.get_subcommands({})) nearest.offer(command->get_name());
    const std::string question = nearest.question();
    if (!question.empty()) return fmt::format("there is no command `{}`; {}", word, question);
    return fmt::format(
        "there is no command `{0}`; if it is a file, write a command before it, like `{1} {0}`", word,
        call(*app.get_subcommands({}).front()));
}

std::string find_unknown(const CLI::App& app, const CLI::App& command) {
    const Words rest = app.remaining(true);
    if (rest.empty()) return {};
    const auto option = std::find_if(rest.begin(), rest.end(), is_option);
    if (option != rest.end()) return unknown_option(app, command, option->substr(0, option->find('=')));
    const std::string& word = rest.front();
    if (has_commands(command)) return unknown_command(command, word);
    if (command.get_option_no_throw("--" + word) != nullptr)
        return fmt::format(
            "`{0}` is too much; write `--{0}` if that is meant, or quotes around a value that has blanks in "
            "it",
            word);
    return fmt::format("`{}` is too much; leave it away, or put quotes around a value that has blanks in it",
                       word);
}

std::string find_missing(const CLI::App& command) {
    if (has_commands(command))
        return fmt::format("there is no command; write one, like `{}`",
                           call(*command.get_subcommands({}).front()));
    for (const CLI::Option* const option : command.get_options())
        if (option->get_required() && option->count() == 0)
            return fmt::format("`{}` is missing; write {}", option->get_name(),
                               way_to_give(command, *option));
    return {};
}

std::string find_repeated(const CLI::App& command) {
    for (const CLI::Option* const option : command.get_options()) {
        const auto most = static_cast<std::size_t>(option->get_items_expected_max());
        if (most > 0 && option->count() > most)
            return fmt::format("`{}` is given more than once; leave all but one away", option->get_name());
    }
    return {};
}

// What has been read tells more than the first thing that the library stumbled over.
std::string find_mistake(const CLI::App& app, const CLI::App& command, const CLI::ParseError& error) {
    for (std::string why : {find_unknown(app, command), find_missing(command), find_repeated(command)})
        if (!why.empty()) return why;
    return error.what();
}

}  // namespace

std::optional<int> read_command_line(CLI::App& app, int argc, char** argv) {
    const Words words(argv + std::min(argc, 1), argv + argc);
    const CLI::App& command = find_command(app, words);
    std::string why = find_misread(command, words);
    try {
        if (why.empty()) {
            app.parse(argc, argv);
            return {};
        }
    } catch (const CLI::ParseError& error) {
        if (error.get_exit_code() == 0) return app.exit(error);
        why = find_mistake(app, command, error);
    }
    fmt::print(stderr, "{}: {}\n`{} --help` tells the {}\n", app.get_name(), why, call(command),
               has_commands(command) ? "commands" : "options");
    return 2;
}

std::function<std::string(const std::string&)> whole_number(unsigned low, unsigned high) {
    return [low, high](const std::string& text) {
        unsigned n = 0;
        std::from_chars(text.data(), text.data() + text.size(), n);
        const bool fits = text == std::to_string(n) && n >= low && n <= high;
        return fits ? "" : fmt::format("`{}` is no number from {} to {}; give one of these", text, low, high);
    };
}

}  // namespace tallow::runtime
