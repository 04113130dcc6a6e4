#include "compiler/show/load.hpp"

#include <algorithm>
#include <filesystem>
#include <fmt/format.h>
#include <map>

#include "compiler/show/builtin_text.hpp"
#include "compiler/show/scope.hpp"
#include "compiler/syntax/reader.hpp"
#include "compiler/text/utf8.hpp"
#include "runtime/files.hpp"
#include "runtime/session/file_kind.hpp"

namespace tallow::show {
namespace {

class Loader {
  public:
    Loader(const ReadFile& read, source::Sources& sources, source::Sink& sink)
        : read_(read), sources_(sources), sink_(sink) {}

    std::vector<syntax::Document> documents;

    // Files are followed in the order of their `use` lines; `chain` holds the files that led here.
    void add(const std::string& path, std::string bytes) {
        const source::FileId file = sources_.add(path, replace_invalid(std::move(bytes)));
        if (bad_ != std::string::npos) {
            const auto at = static_cast<std::uint32_t>(bad_);
            sink_
                .report(Finding::invalid_utf8, {file, at, at + 1},
                        fmt::format("byte {} of the file is not valid UTF-8", bad_))
                .with_hint("save the file as UTF-8 in your editor");
        }
        documents.push_back(syntax::cut(file, sources_, sink_));
        syntax::arrange(documents.back(), sources_, sink_);
        open_.push_back(key(path));
        const std::size_t mine = documents.size() - 1;
        for (std::size_t d = 0; d < documents[mine].declarations.size(); ++d) {
            const syntax::Declaration declaration = documents[mine].declarations[d];
            if (declaration.keyword == Word::use && !declaration.skipped) use(mine, declaration);
        }
        open_.pop_back();
    }

  private:
    static std::string key(const std::string& path) {
        return std::filesystem::path(path).lexically_normal().string();
    }

    // Invalid bytes become a sign that is no part of any name, so that offsets stay what they are.
    std::string replace_invalid(std::string bytes) {
        bad_ = text::first_invalid(bytes);
        for (std::size_t at = bad_; at != std::string::npos;) {
            bytes[at] = '_';
            const std::size_t next = text::first_invalid(std::string_view(bytes).substr(at));
            at = next == std::string::npos ? next : at + next;
        }
        return bytes;
    }

    void use(std::size_t document, const syntax::Declaration& declaration) {
        const syntax::Document& from = documents[document];
        const std::string own_path = sources_.path(from.file);
        syntax::Reader reader(from, from.lines[declaration.header], sources_, sink_);
        reader.take();
        const Span where = reader.here();
        const std::string name = read_text(reader, "a file name between quotes, such as `\"rig.tallow\"`,");
        reader.expect_end();
        if (reader.muted()) return;
        const std::string path =
            (std::filesystem::path(own_path).parent_path() / name).lexically_normal().string();
        if (std::find(open_.begin(), open_.end(), key(path)) != open_.end()) {
            sink_
                .report(
                    Finding::cycle, where,
                    fmt::format("`{}` is being read already: it uses this file, directly or through others",
                                name))
                .with_hint("take one of the `use` lines out");
            return;
        }
        if (const auto before = read_by_.find(key(path)); before != read_by_.end()) {
            sink_
                .report(Finding::used_twice, where,
                        fmt::format("`{}` is used twice; one `use` serves the whole show", name))
                .see(before->second, "it is used here already");
            return;
        }
        if (documents.size() >= files_at_most || open_.size() >= deepest_use) {
            sink_.report(
                Finding::too_many, where,
                fmt::format("a show may have {} files, {} deep in one another", files_at_most, deepest_use));
            return;
        }
        read_by_[key(path)] = where;
        auto bytes = read_(path);
        if (!bytes.ok()) {
            sink_.report(Finding::no_file, where, bytes.why())
                .with_hint("the name counts from the folder of the file that uses it");
            return;
        }
        if (const auto s = check_kind(path, *bytes); !s.ok()) {
            sink_.report(Finding::no_file, where, s.why());
            return;
        }
        bytes_ += bytes->size();
        if (bytes_ > file_bytes) {
            sink_.report(Finding::too_many, where,
                         fmt::format("the files of a show may have {} MB in all", file_bytes >> 20));
            return;
        }
        add(path, std::move(*bytes));
    }

    const ReadFile& read_;
    source::Sources& sources_;
    source::Sink& sink_;
    std::vector<std::string> open_;
    std::map<std::string, Span> read_by_;
    std::size_t bad_ = std::string::npos;
    std::size_t bytes_ = 0;
};

}  // namespace

runtime::Result<std::string> read_from_disk(const std::string& path) {
    return runtime::read_file(path, file_bytes);
}

runtime::Status check_kind(const std::string& path, std::string_view bytes) {
    using runtime::FileKind;
    const FileKind kind = runtime::file_kind(path, bytes);
    if (kind == FileKind::empty || kind == FileKind::show || kind == FileKind::other) return {};
    const bool plays = kind == FileKind::roll || kind == FileKind::frames;
    const std::string other = plays ? fmt::format(", or play this one with `tallow-play {}`", path) : "";
    return runtime::Status::failure(fmt::format("`{}` is {}, and no show's text; give a `.tallow` file{}",
                                                path, runtime::name(kind), other));
}

runtime::Result<std::vector<syntax::Document>> load(const std::string& path, const ReadFile& read,
                                                    source::Sources& sources, source::Sink& sink) {
    auto bytes = read(path);
    if (!bytes.ok()) return bytes.status();
    if (auto s = check_kind(path, *bytes); !s.ok()) return s;
    Loader loader(read, sources, sink);
    loader.add("built-in types", std::string(builtin_text()));
    loader.add(path, std::move(*bytes));
    return std::move(loader.documents);
}

}  // namespace tallow::show
