#include "compiler/desk/staging.hpp"

namespace tallow::desk {

Stagings::Stagings(const show::Show& show, track::Book& book, const show::Desk& desk)
    : pictures_(take_pictures(show, book, desk)) {
    for (const show::Layout& layout : desk.layouts) {
        const std::size_t width = width_of(pictures_, layout);
        const auto [at, fresh] = by_width_.try_emplace(width);
        if (!fresh) continue;
        at->second.pictures = pictures_;
        at->second.chases = take_chases(show, book, desk, width, at->second.pictures);
    }
}

}  // namespace tallow::desk
