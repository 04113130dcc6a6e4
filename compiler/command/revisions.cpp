#include "compiler/command/revisions.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <utility>

#include "compiler/command/watch.hpp"
#include "compiler/text/counted.hpp"
#include "runtime/hash.hpp"
#include "runtime/roll/roll_io.hpp"

namespace tallow::command {
namespace {

// An operator has a show to run, and the console has little room.
constexpr std::size_t findings_told = 5;
// Half of a show must not be played: editors that save in steps, and slow shares, take their time.
constexpr int settled_ms = 400;

// Changes that another thread can end.
class EndedByFlag : public Changes {
  public:
    EndedByFlag(Changes& inner, const std::atomic<bool>& ends) : inner_(inner), ends_(ends) {}
    void begin() override { inner_.begin(); }
    runtime::Status follow(const std::string& path) override { return inner_.follow(path); }
    void end() override { inner_.end(); }
    runtime::Result<Happened> wait(std::optional<int> milliseconds) override {
        constexpr int look_every_ms = 100;
        if (milliseconds) return inner_.wait(milliseconds);
        while (!ends_) {
            auto happened = inner_.wait(look_every_ms);
            if (!happened.ok() || !happened->paths.empty()) return happened;
        }
        return Happened{true, {}};
    }

  private:
    Changes& inner_;
    const std::atomic<bool>& ends_;
};

// A finding, and the line that it is in, wherever that stands in its file.
std::string without_place(const source::Diagnostic& d, const source::Sources& sources) {
    return fmt::format("{}\n{}\n{}\n{}", sources.path(d.where.file), source::info(d.finding).id, d.message,
                       sources.line(d.where.file, d.where.begin));
}

// By the name of its file alone: on a console there is no room for folders.
std::string short_line(const source::Diagnostic& d, const source::Sources& sources) {
    const std::string& path = sources.path(d.where.file);
    const std::string line = source::render_line(d, sources);
    return line.substr(path.rfind('/') + 1);
}

}  // namespace

std::vector<std::string> FindingsNews::take(const source::Sink& sink, const source::Sources& sources) {
    std::multiset<std::string> before = std::exchange(known_, {});
    std::vector<source::Diagnostic> fresh;
    std::size_t as_before = 0;
    for (source::Diagnostic& d : sink.sorted()) {
        const std::string& key = *known_.insert(without_place(d, sources));
        if (const auto known = before.find(key); known != before.end()) {
            before.erase(known);
            ++as_before;
        } else {
            fresh.push_back(std::move(d));
        }
    }
    found_new_ = !fresh.empty();
    std::stable_partition(fresh.begin(), fresh.end(), [](const source::Diagnostic& d) {
        return source::info(d.finding).severity == source::Severity::error;
    });
    std::vector<std::string> lines;
    for (std::size_t i = 0; i < std::min(fresh.size(), findings_told); ++i)
        lines.push_back(short_line(fresh[i], sources));
    if (fresh.size() > findings_told)
        lines.push_back(fmt::format("{} more; `tallow check` tells all",
                                    text::counted(fresh.size() - findings_told, "finding")));
    if (as_before > 0) lines.push_back(fmt::format("{} as before", text::counted(as_before, "finding")));
    return lines;
}

ShowRevisions::ShowRevisions(std::string show, std::uint64_t playing, FindingsNews told)
    : show_(std::move(show)), latest_(playing), findings_(std::move(told)), thread_([this] { follow(); }) {}

ShowRevisions::~ShowRevisions() {
    ends_ = true;
    thread_.join();
}

void ShowRevisions::follow() {
    auto changes = system_changes(false);
    auto status = changes.status();
    if (changes.ok()) {
        EndedByFlag until_end(**changes, ends_);
        bool first = true;
        status = watch(
            until_end, *runtime::system_clock(), show::read_from_disk,
            [&](const std::vector<std::string>&, const show::ReadFile& read) {
                compile_once(read, std::exchange(first, false));
            },
            settled_ms);
    }
    if (!status.ok()) tell(status.why() + "; the show plays on, but what is saved is not heard of");
}

// The first time it is the show that plays already, unless it was saved meanwhile.
void ShowRevisions::compile_once(const show::ReadFile& read, bool first) {
    const auto compiled = compile(show_, read);
    if (!compiled.ok()) return tell(compiled.why() + "; the show plays on as it was");
    Compilation& c = **compiled;
    std::vector<std::string> news = findings_.take(c.sink, c.sources);
    if (!first || findings_.found_new())
        for (std::string& line : news) tell(std::move(line));
    if (c.failed())
        return tell(fmt::format("{} in what was saved: the show plays on as it was",
                                text::counted(c.sink.count(source::Severity::error), "error")));
    auto roll = std::make_unique<runtime::Roll>(make_roll(c));
    if (const auto s = runtime::validate(*roll); !s.ok())
        return tell(s.why() + "; the show plays on as it was");
    const std::uint64_t hash = runtime::hash(runtime::write_roll(*roll));
    if (std::exchange(latest_, hash) == hash) {
        if (!first) tell("what was saved plays as before");
        return;
    }
    const std::lock_guard lock(mutex_);
    revision_ = Revision{std::move(roll), hash};
}

void ShowRevisions::tell(std::string line) {
    const std::lock_guard lock(mutex_);
    lines_.push_back(std::move(line));
}

std::optional<runtime::Revisions::Revision> ShowRevisions::poll(
    const std::function<void(std::string_view)>& say) {
    std::vector<std::string> lines;
    std::optional<Revision> revision;
    {
        const std::lock_guard lock(mutex_);
        lines = std::exchange(lines_, {});
        revision = std::exchange(revision_, std::nullopt);
    }
    for (const std::string& line : lines) say(line);
    return revision;
}

}  // namespace tallow::command
