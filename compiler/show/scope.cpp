#include "compiler/show/scope.hpp"

#include <fmt/format.h>

#include "compiler/show/values.hpp"
#include "compiler/text/utf8.hpp"

namespace tallow::show {

std::vector<Place> Scope::declarations(Word keyword) const {
    std::vector<Place> places;
    for (const syntax::Document& document : documents)
        for (const syntax::Declaration& d : document.declarations)
            if (d.keyword == keyword && !d.skipped) places.push_back({&document, &d});
    return places;
}

Reader Scope::header(const Place& place) const {
    Reader r = reader(*place.document, place.header());
    r.take();
    return r;
}

Index Scope::attribute(std::string_view name) {
    const auto [it, fresh] =
        attribute_index_.try_emplace(std::string(name), static_cast<Index>(show.attributes.size()));
    if (fresh) show.attributes.emplace_back(name);
    return it->second;
}

Index Scope::find_attribute(std::string_view name) const {
    const auto it = attribute_index_.find(std::string(name));
    return it == attribute_index_.end() ? none : it->second;
}

bool Scope::is_emitter(Index attribute) const {
    for (const Type& type : show.types)
        for (const Emitter& e : type.emitters)
            if (e.name == show.attributes[attribute]) return true;
    return false;
}

std::optional<std::string> Scope::new_name(Reader& reader, std::string_view what) {
    if (!reader.next_is(AtomKind::number)) return reader.name(what);
    const syntax::Atom& atom = reader.take();
    dropped.insert(std::string(reader.text(atom)));
    reader.fault(Finding::bad_name, reader.span(atom), fmt::format("`{}` is no name", reader.text(atom)))
        .with_hint("a name begins with a letter; digits may follow");
    return std::nullopt;
}

bool Scope::declare(NameTable& table, Reader& reader, Symbol symbol) {
    const std::string name = symbol.name;
    dropped.insert(name);  // until it is known to be good
    std::size_t pos = 0;
    while (pos < name.size()) {
        const std::size_t start = pos;
        const char32_t c = text::decode(name, pos);
        if (start == 0 ? text::is_letter(c) : text::is_name_part(c)) continue;
        reader
            .fault(Finding::bad_name, symbol.span,
                   fmt::format("`{}` cannot be part of a name", name.substr(start, pos - start)))
            .with_hint("a name is a letter of any script, then letters, digits, `-` and `_`");
        return false;
    }
    if (&table == &rig) {
        for (const grammar::WordInfo& w : grammar::words)
            if (w.reserved && w.text == name) {
                reader
                    .fault(
                        Finding::reserved_name, symbol.span,
                        fmt::format("`{}` is a word of the language and would be ambiguous as a name", name))
                    .with_hint(fmt::format("take another, such as `{}-1`", name));
                return false;
            }
        if (grammar::unit_of(name) != Unit::unknown) {
            reader.fault(Finding::reserved_name, symbol.span,
                         fmt::format("`{}` is a unit and would be ambiguous as a name", name));
            return false;
        }
    }
    if (const Symbol* before = table.find(name)) {
        if (before->kind != Symbol::Kind::broken)
            reader.fault(Finding::name_taken, symbol.span, fmt::format("the name `{}` is taken", name))
                .see(before->span, fmt::format("the {} `{}`", kind_text(before->kind), name));
        dropped.erase(name);
        return false;
    }
    dropped.erase(name);
    table.add(std::move(symbol));
    return true;
}

std::string Scope::where(source::Span span, source::FileId from) const {
    const std::uint32_t line = sources.position(span.file, span.begin).line;
    return span.file == from ? fmt::format("line {}", line)
                             : fmt::format("line {} of {}", line, sources.path(span.file));
}

void Scope::report_unknown(const NameTable& table, Reader& reader, const syntax::Atom& atom,
                           std::string_view wanted, const std::function<bool(const Symbol&)>& fits,
                           std::string otherwise) {
    const std::string name = reader.name_text(atom);
    if (excused(name) || !missed.insert(name).second) {
        reader.mute();  // said already, or brought about by another fault
        return;
    }
    auto& fault = reader.fault(Finding::unknown_name, reader.span(atom),
                               fmt::format("there is no {} `{}`", wanted, name));
    if (const Word word = reader.in_small_letters(atom); word != Word::none) {
        fault.with_hint(syntax::small_letters_hint(word));
        return;
    }
    const std::string set = name.substr(0, name.find_last_not_of("0123456789") + 1);
    if (const Symbol* joined = set == name ? nullptr : table.find(set); joined != nullptr && fits(*joined)) {
        fault.with_hint(
            fmt::format("did you mean `{} {}`, with a blank between?", set, name.substr(set.size())));
        return;
    }
    if (const Symbol* near = sink.full() ? nullptr : table.nearest(name, fits)) {
        const bool built_in = near->span.file == 0;
        fault.with_hint(fmt::format(
            "did you mean the {} `{}`{}?", kind_text(near->kind), near->name,
            built_in ? ", which is built in" : " from " + where(near->span, reader.span(atom).file)));
        return;
    }
    fault.with_hint(std::move(otherwise));
}

const Symbol* Scope::look_up(const NameTable& table, Reader& reader, std::string_view wanted,
                             const std::function<bool(const Symbol&)>& fits) {
    if (!reader.next_is(AtomKind::word)) {
        if (!reader.at_end() && excused(reader.text(*reader.peek()))) reader.mute();
        reader.expected(fmt::format("the name of a {}", wanted));
        return nullptr;
    }
    const syntax::Atom& atom = reader.take();
    const Symbol* symbol = table.find(reader.name_text(atom));
    if (symbol == nullptr) {
        report_unknown(table, reader, atom, wanted, fits);
        return nullptr;
    }
    if (symbol->kind == Symbol::Kind::broken) return nullptr;
    if (fits(*symbol)) return symbol;
    reader
        .fault(Finding::unknown_name, reader.span(atom),
               fmt::format("`{}` is a {}, and a {} is meant here", symbol->name, kind_text(symbol->kind),
                           wanted))
        .see(symbol->span, "declared here");
    return nullptr;
}

std::string read_label(Reader& reader, std::span<const Word> words) {
    if (const auto label = reader.string()) return *label;
    if (!reader.next_is(AtomKind::word) || reader.peek()->word() != Word::none) return {};
    const std::size_t place = reader.place();
    const syntax::Atom& first = reader.take();
    const Word small = reader.in_small_letters(first);
    const std::string near = reader.near_hint(first, words);
    auto& fault = reader.fault(Finding::unexpected, reader.last(),
                               fmt::format("`{}` means nothing here", reader.text(first)));
    while (reader.next_is(AtomKind::word) && reader.peek()->word() == Word::none) reader.take();
    const std::string_view written = reader.text_since(place);
    if (small != Word::none)
        fault.with_hint(syntax::small_letters_hint(small));
    else if (!near.empty())
        fault.with_hint(fmt::format("{} Or, for a label, write `\"{}\"`", near, written));
    else if (!words.empty() && !reader.at_end() && is_time(reader.peek()->unit()))
        fault.with_hint(
            "times of a cue stand behind `fade`, `up`, `down`, `colour`, `move`, `beam`, `delay`, `follow` "
            "or "
            "`next-at`");
    else
        fault = {Finding::label_quotes, reader.since(place), "a label stands between quotes",
                 fmt::format("write `\"{}\"`; a name is one word, joined with `-`", written)};
    return {};
}

std::string read_text(Reader& reader, std::string_view what) {
    if (const auto text = reader.string()) return *text;
    if (!reader.next_is(AtomKind::word) && !reader.next_is(AtomKind::dotted)) {
        reader.expected(what);
        return {};
    }
    const std::size_t place = reader.place();
    while (reader.next_is(AtomKind::word) || reader.next_is(AtomKind::dotted)) reader.take();
    reader.fault(Finding::label_quotes, reader.since(place), "a text stands between quotes")
        .with_hint(fmt::format("write `\"{}\"`", reader.text_since(place)));
    return {};
}

}  // namespace tallow::show
