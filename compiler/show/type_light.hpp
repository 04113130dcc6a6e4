// What gives a type its colours: emitters, filters before one lamp, or a wheel of fixed colours.
#pragma once

#include "compiler/show/scope.hpp"
#include "compiler/show/type_ranges.hpp"

namespace tallow::show {

class LightReader {
  public:
    LightReader(Scope& scope, Type& type, SaidOf& said) : scope_(scope), type_(type), said_(said) {}

    // Each behind its word: `emitter red  xy 0.69 0.308  95 lm`, `filters  cyan magenta yellow`,
    // `wheel disc  open 0..9 6500K  amber 10..19 #ffb000  spin 128..255`.
    void read_emitter(Reader& reader);
    void read_filters(Reader& reader);
    void read_wheel(Reader& reader);
    // When all lines are read: filters stand alone.
    void settle(Reader& header);

    // Where the emitter or filter of an attribute stands in Type::emitters, or no_place; an emitter without
    // data of its own is taken for a typical one.
    std::uint16_t emitter_of(Index attribute);

  private:
    bool is_new(Reader& reader, const std::string& name, Span span);

    Scope& scope_;
    Type& type_;
    SaidOf& said_;
    Span filters_{}, wheel_{};
};

}  // namespace tallow::show
