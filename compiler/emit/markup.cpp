#include "compiler/emit/markup.hpp"

namespace tallow::emit {

std::string escaped(std::string_view text) {
    std::string out;
    for (const char c : text) {
        if (c == '<')
            out += "&lt;";
        else if (c == '>')
            out += "&gt;";
        else if (c == '&')
            out += "&amp;";
        else if (c == '"')
            out += "&quot;";
        else if (c == '\'')
            out += "&#39;";
        else
            out += static_cast<unsigned char>(c) < 32 || c == 127 ? ' ' : c;
    }
    return out;
}

}  // namespace tallow::emit
