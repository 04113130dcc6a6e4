// The same show gives the same bytes on every machine. The mathematical library's functions give other last
// bits on another processor, and the standard's random distributions and shuffle are each library's own; so
// the sources do without.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cctype>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

namespace {

using Words = std::vector<std::string>;

// The source without comments, strings and characters.
std::string bare_code(std::string_view text) {
    std::string code;
    const auto past = [&](std::size_t from, std::string_view end) {
        const std::size_t at = text.find(end, from);
        return at == std::string_view::npos ? text.size() : at + end.size();
    };
    const auto is_word = [](char c) { return std::isalnum(static_cast<unsigned char>(c)) || c == '_'; };
    for (std::size_t i = 0; i < text.size();) {
        const char c = text[i];
        if (text.substr(i, 2) == "//") {
            i = std::min(text.find('\n', i), text.size());
        } else if (text.substr(i, 2) == "/*") {
            i = past(i + 2, "*/");
        } else if (text.substr(i, 2) == "R\"") {
            const std::size_t open = text.find('(', i);
            std::string end(text.substr(i + 1, open - i - 1));  // a quote and the delimiter
            end.front() = ')';
            i = past(open, end += '"');
        } else if (c == '"' || (c == '\'' && (code.empty() || !is_word(code.back())))) {
            for (++i; i < text.size() && text[i] != c; ++i) i += text[i] == '\\';
            ++i;
            code += ' ';
        } else {
            code += c;
            ++i;
        }
    }
    return code;
}

// Identifiers and numbers, and every other character but blanks by itself.
Words tokens(std::string_view code) {
    Words words;
    const auto part = [&](std::size_t i) {
        return std::isalnum(static_cast<unsigned char>(code[i])) || code[i] == '_' || code[i] == '\'';
    };
    for (std::size_t i = 0; i < code.size();) {
        if (std::isspace(static_cast<unsigned char>(code[i]))) {
            ++i;
            continue;
        }
        const std::size_t start = i;
        const bool number = std::isdigit(static_cast<unsigned char>(code[i]));
        while (i < code.size() && (part(i) || (number && code[i] == '.'))) ++i;
        if (i == start) ++i;
        words.emplace_back(code.substr(start, i - start));
    }
    return words;
}

bool is_banned_function(const std::string& word) {
    static const Words names = {"exp",    "exp2",    "expm1",         "pow",  "log",   "log2",   "log10",
                                "log1p",  "sin",     "cos",           "tan",  "asin",  "acos",   "atan",
                                "atan2",  "sinh",    "cosh",          "tanh", "asinh", "acosh",  "atanh",
                                "cbrt",   "hypot",   "fma",           "erf",  "erfc",  "tgamma", "lgamma",
                                "sincos", "shuffle", "random_shuffle"};
    const auto is = [&](const std::string& w) {
        return std::find(names.begin(), names.end(), w) != names.end();
    };
    return is(word) || (word.size() > 1 && (word.back() == 'f' || word.back() == 'l') &&
                        is(word.substr(0, word.size() - 1)));
}

// Calls of banned functions and names of random distributions. A member of that name is somebody else's.
Words banned_names(std::string_view text) {
    const Words words = tokens(bare_code(text));
    Words found;
    for (std::size_t i = 0; i < words.size(); ++i) {
        const bool call = i + 1 < words.size() && words[i + 1] == "(";
        const bool member = i > 0 && (words[i - 1] == "." || words[i - 1] == ">");
        const bool random = words[i].ends_with("_distribution") || words[i] == "random_device";
        if (random || (call && !member && is_banned_function(words[i]))) found.push_back(words[i]);
    }
    return found;
}

Words floating_point(std::string_view text) {
    Words found;
    for (const std::string& w : tokens(bare_code(text))) {
        const bool number =
            std::isdigit(static_cast<unsigned char>(w[0])) && w.find('.') != std::string::npos;
        if (w == "double" || w == "float" || number) found.push_back(w);
    }
    return found;
}

template <class Find>
void require_none(const char* folder, Find find) {
    std::size_t files = 0;
    for (const auto& entry :
         std::filesystem::recursive_directory_iterator(std::string(TALLOW_SOURCE_DIR "/") + folder)) {
        const std::string suffix = entry.path().extension().string();
        if (suffix != ".cpp" && suffix != ".hpp" && suffix != ".in") continue;
        std::ostringstream text;
        text << std::ifstream(entry.path()).rdbuf();
        INFO(entry.path());
        CHECK(find(text.str()) == Words{});
        ++files;
    }
    REQUIRE(files > 0);
}

}  // namespace

TEST_CASE("the search for banned names finds them in code only", "[unit][determinism]") {
    CHECK(banned_names("y = std::exp(x) + pow (x, 2) + powf(x, 2);") == Words{"exp", "pow", "powf"});
    CHECK(banned_names("std::uniform_int_distribution<int> d; std::shuffle(a, b, r);") ==
          Words{"uniform_int_distribution", "shuffle"});
    CHECK(banned_names("// exp(x)\n/* sin(x) */ \"cos(x)\" R\"(log(\" tan(x))\" '\"' journal.log(x); "
                       "expect(x); int exp = 1; tanh(x);") == Words{"tanh"});
    CHECK(banned_names("const char c = '\\''; n = 1'000; sin(x)") == Words{"sin"});
    CHECK(floating_point("double a = 0.5; // float\nfloating(1, a.b, 1'000);") == Words{"double", "0.5"});
}

TEST_CASE("no source calls what differs between machines", "[unit][determinism]") {
    require_none("compiler", banned_names);
    require_none("runtime", banned_names);
}

TEST_CASE("the runtime has no floating point", "[unit][determinism]") {
    require_none("runtime", floating_point);
}
