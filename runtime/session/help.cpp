#include "runtime/session/help.hpp"

#include <CLI/CLI.hpp>

#include "runtime/control/plain_text.hpp"

namespace tallow::runtime {
namespace {

constexpr unsigned columns = 80, names = 26;
constexpr std::size_t all_lines = ~std::size_t{0};

// A name on the left and what it is on the right, on lines of its own where the name is long.
std::string entry(const std::string& name, const std::string& what) {
    std::string text = "  " + name;
    bool beside = text.size() + 2 <= names;
    for (const std::string& line : wrap(what, columns - names - 1, all_lines)) {
        if (!beside) text += '\n';
        text += std::string(names - (beside ? text.size() : 0), ' ') + line;
        beside = false;
    }
    return text + '\n';
}

class NarrowHelp : public CLI::Formatter {
  public:
    std::string make_option(const CLI::Option* option, bool positional) const override {
        return entry(make_option_name(option, positional) + value_name(*option),
                     option->get_description() + preset(option));
    }
    std::string make_description(const CLI::App* app) const override {
        std::string text;
        for (const std::string& line : wrap(app->get_description(), columns - 1, all_lines))
            text += line + '\n';
        return text;
    }
    // Its lines are paragraphs, and empty ones stay.
    std::string make_footer(const CLI::App* app) const override {
        std::string text;
        for (const std::string& paragraph : CLI::detail::split(app->get_footer(), '\n')) {
            if (paragraph.empty()) text += '\n';
            for (const std::string& line : wrap(paragraph, columns - 1, all_lines)) text += line + '\n';
        }
        return text;
    }
    std::string make_subcommand(const CLI::App* app) const override {
        return entry(app->get_name(), app->get_description());
    }

  private:
    static std::string preset(const CLI::Option* option) {
        const std::string text = option->get_default_str();
        return text.empty() ? "" : " (default: " + text + ")";
    }
};

}  // namespace

std::shared_ptr<CLI::FormatterBase> narrow_help() {
    return std::make_shared<NarrowHelp>();
}

std::string value_name(const CLI::Option& option) {
    if (option.get_positional() || option.get_expected_max() == 0) return "";
    const std::string type = option.get_type_name();
    const std::string name = type.substr(0, type.find_first_of(":("));
    return name == "TEXT" || name == "UINT" ? " VALUE" : " " + name;
}

}  // namespace tallow::runtime
