#include "compiler/show/names.hpp"

#include "compiler/text/utf8.hpp"
#include "runtime/nearest.hpp"

namespace tallow::show {
namespace {

// Most names differ in their first letter already.
bool same_in_small_letters(std::string_view name, std::string_view small) {
    const auto ascii = [](char c) { return static_cast<unsigned char>(c) < 0x80; };
    if (name.size() != small.size()) return false;
    if (ascii(name[0]) && ascii(small[0]) && (name[0] | 0x20) != (small[0] | 0x20)) return false;
    return text::small_letters(name) == small;
}

}  // namespace

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
        case Symbol::Kind::chase:
            return "chase";
        case Symbol::Kind::list:
            return "list";
        case Symbol::Kind::hang:
            return "hanging place";
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
        if (comparisons_ == comparisons_at_most) break;
        if (s.kind == Symbol::Kind::broken || !fits(s)) continue;
        ++comparisons_;
        const std::size_t distance =
            same_in_small_letters(s.name, small) ? 0 : runtime::edit_distance(name, s.name, 3);
        if (distance < least) {
            least = distance;
            nearest = &s;
        }
    }
    return nearest;
}

}  // namespace tallow::show
