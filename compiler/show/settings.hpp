// Reads what a line says to do: levels, colours, palettes, emitters, parameters, and spreads of them.
#pragma once

#include <string>

#include "compiler/show/scope.hpp"

namespace tallow::show {

class SettingReader {
  public:
    // `selection`: the words of the line's selection, for messages.
    SettingReader(Scope& scope, Reader& reader, const std::string& selection)
        : scope_(scope), reader_(reader), selection_(selection) {}

    // Reads the next setting into Show::settings; reports where the next atom begins none.
    void read();

  private:
    std::optional<Setting> read_end();
    std::optional<Setting> read_level();
    std::optional<Setting> read_emitter();
    std::optional<Setting> read_colour_end();
    std::optional<Setting> read_word();
    std::optional<Setting> read_parameter(const std::string& name, Index attribute);
    std::optional<Setting> read_other_end(const Setting& first);
    void check_ends(const Setting& first, const Setting& last, Span span);
    bool holds_colour(const Setting& setting) const;
    void note(const Setting& setting);
    void report_word(const syntax::Atom& atom, const std::string& name);
    std::string near_setting(std::string_view written) const;
    void report_bare();
    void report_none();

    Scope& scope_;
    Reader& reader_;
    const std::string& selection_;
    bool levelled_ = false, coloured_ = false;  // the line gave a level, a colour already
};

}  // namespace tallow::show
