#include "compiler/show/names.hpp"

#include "compiler/text/utf8.hpp"

namespace tallow::show {

std::string_view kind_text(Symbol::Kind kind) {
    switch (kind) {
        case Symbol::Kind::fixtures:
            return "fixture";
        case Symbol::Kind::group:
            return "group";
        case Symbol::Kind::palette:
            return "palette";
        case Symbol::Kind::look:
            return "look";
        case Symbol::Kind::wave:
            return "wave";
        case Symbol::Kind::type:
            return "type";
        case Symbol::Kind::desk:
            return "desk";
        case Symbol::Kind::data_run:
            return "data run";
        case Symbol::Kind::broken:
            break;
    }
    return "name";
}

const Symbol* NameTable::nearest(std::string_view name,
                                 const std::function<bool(const Symbol&)>& fits) const {
    constexpr std::size_t longest = 64;  // bytes of a name that is compared
    const Symbol* nearest = nullptr;
    if (name.size() > longest) return nullptr;
    const std::string small = text::small_letters(name);
    std::size_t least = name.size() < 4 ? 2 : name.size() < 8 ? 3 : 4;
    for (const Symbol& s : symbols_) {
        if (s.kind == Symbol::Kind::broken || !fits(s)) continue;
        if (s.name.size() == name.size() && text::small_letters(s.name) == small) return &s;
        const std::size_t distance = text::edit_distance(name, s.name, 3);
        if (distance < least) {
            least = distance;
            nearest = &s;
        }
    }
    return nearest;
}

}  // namespace tallow::show
