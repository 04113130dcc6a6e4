// Tables of declared names, with the nearest one for a name that is not there.
#pragma once

#include <cstdint>
#include <functional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "compiler/source/sources.hpp"

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
        const auto it = by_name_.find(name);
        return it == by_name_.end() ? nullptr : &symbols_[it->second];
    }
    void add(Symbol symbol) {
        by_name_.emplace(symbol.name, symbols_.size());
        symbols_.push_back(std::move(symbol));
    }
    void kill(std::string_view name) {
        if (const auto it = by_name_.find(name); it != by_name_.end())
            symbols_[it->second].kind = Symbol::Kind::broken;
    }
    // The nearest name of a kind that `fits`; null when none is near, and after comparisons_at_most: a show
    // with so many unknown names is not helped by more hints. Of several, the one declared first.
    const Symbol* nearest(std::string_view name, const std::function<bool(const Symbol&)>& fits) const;
    const std::vector<Symbol>& all() const { return symbols_; }

  private:
    struct Hash {
        using is_transparent = void;
        std::size_t operator()(std::string_view s) const { return std::hash<std::string_view>{}(s); }
    };
    static constexpr std::size_t comparisons_at_most = 2'000'000;  // of all calls
    mutable std::size_t comparisons_ = 0;
    std::vector<Symbol> symbols_;
    std::unordered_map<std::string, std::size_t, Hash, std::equal_to<>> by_name_;
};

}  // namespace tallow::show
