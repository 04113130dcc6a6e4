// `response`, `preheat` and `floor`: how light follows a slot, on a type or a patch line.
#pragma once

#include "compiler/show/scope.hpp"

namespace tallow::show {

// `linear`, `square` or `lightness`; none, and nothing taken, where the next atom is none of them.
std::optional<Law> take_law(Reader& reader);

class ResponseReader {
  public:
    // What is said goes over `from`.
    explicit ResponseReader(Response from = {}) : response_(std::move(from)) {}

    // Reads `response square`, `preheat 4%` and `floor 6%`; false, and nothing taken, when the next atom is
    // none of these words.
    bool read_words(Reader& reader);
    // Its place in Show::responses; none where nothing was said. Emitters that are preheated are reported.
    Index add(Show& show, Reader& reader, const Type& type) const;

  private:
    bool read_word(Reader& reader);
    void read_law(Reader& reader);
    void read_low_end(Reader& reader, std::int64_t& end, std::int64_t& other, std::string_view hint);

    Response response_;
    Span preheat_{};
    bool response_said_ = false, preheat_said_ = false, floor_said_ = false;
};

}  // namespace tallow::show
