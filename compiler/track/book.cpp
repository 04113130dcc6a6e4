#include "compiler/track/book.hpp"

namespace tallow::track {

const ChasePicture& Book::chase(Index index) {
    const auto known = chases_.find(index);
    if (known != chases_.end()) return known->second;
    return chases_.emplace(index, chase_picture(show_, *this, show_.chases[index])).first->second;
}

}  // namespace tallow::track
