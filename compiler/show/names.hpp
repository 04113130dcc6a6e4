// Tables of declared names, with the nearest one for a name that is not there.
#pragma once

#include <cstdint>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "compiler/source/sources.hpp"
#include "compiler/text/text_index.hpp"

namespace tallow::show {

struct Symbol {
    enum class Kind : std::uint8_t {
        fixtures,
        group,
        palette,
        look,
        wave,
        type,
        desk,
        chase,
        list,
        hang,
        data_run,
        broken
    };
    Kind kind;
    std::uint32_t index;  // into what the kind says
    source::Span span;    // where it was declared
    std::string name;
};

std::string_view kind_text(Symbol::Kind kind);  // "palette"

class NameTable {
  public:
    // The symbol of this name, or null.
    const Symbol* find(std::string_view name) const {
        const std::uint32_t at = place(name);
        return at == text::TextIndex::none ? nullptr : &symbols_[at];
    }
    // Its name is not in the table yet.
    void add(Symbol symbol) {
        by_name_.add(symbol.name, static_cast<std::uint32_t>(symbols_.size()));
        symbols_.push_back(std::move(symbol));
    }
    void kill(std::string_view name) {
        if (const std::uint32_t at = place(name); at != text::TextIndex::none)
            symbols_[at].kind = Symbol::Kind::broken;
    }
    // The nearest name of a kind that `fits`; null when none is near, and after comparisons_at_most: a show
    // with so many unknown names is not helped by more hints. Of several, the one declared first.
    const Symbol* nearest(std::string_view name, const std::function<bool(const Symbol&)>& fits) const;
    const std::vector<Symbol>& all() const { return symbols_; }

  private:
    std::uint32_t place(std::string_view name) const {
        return by_name_.find(name, [this](std::uint32_t i) -> std::string_view { return symbols_[i].name; });
    }

    static constexpr std::size_t comparisons_at_most = 2'000'000;  // of all calls
    mutable std::size_t comparisons_ = 0;
    std::vector<Symbol> symbols_;
    text::TextIndex by_name_;
};

}  // namespace tallow::show
