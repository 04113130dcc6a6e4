#include "tests/support/fit_show.hpp"

#include <catch2/catch.hpp>

#include "compiler/show/builtin_text.hpp"
#include "runtime/engine/engine.hpp"
#include "tests/support/slot_reader.hpp"

namespace tallow::test {
namespace {

std::string all_text(const Files& files) {
    std::string text;
    for (const auto& [path, bytes] : files) text += bytes + "\n";
    return text;
}

// One of two shows as it plays.
class Side {
  public:
    explicit Side(const Files& files)
        : compiled_(compile_files(files)),
          roll_(command::make_roll(*compiled_)),
          engine_(roll_),
          bodies_(read_patch(std::string(show::builtin_text()), all_text(files))) {
        for (std::size_t u = 0; u < roll_.universes.size(); ++u) index_[roll_.universes[u].number] = u;
    }

    runtime::Engine& engine() { return engine_; }
    const runtime::Roll& roll() const { return roll_; }
    const std::map<std::string, PatchedBody>& bodies() const { return bodies_; }

    BodyLight light(const std::string& body) const {
        return light_of(bodies_.at(body), [&](int universe, int slot) {
            return int{engine_.slots(index_.at(universe))[static_cast<std::size_t>(slot - 1)]};
        });
    }

  private:
    std::unique_ptr<command::Compilation> compiled_;
    runtime::Roll roll_;
    runtime::Engine engine_;
    std::map<std::string, PatchedBody> bodies_;
    std::map<int, std::size_t> index_;
};

// One thing that an operator does, the same on both.
void act(Side& a, Side& b, Random& random, runtime::Tick t) {
    const auto& roll = a.roll();
    const auto position = static_cast<runtime::Level>(random.one_in(3) ? 0 : random.below(65536));
    if (!roll.submasters.empty() && random.one_in(4)) {
        const auto which = static_cast<std::uint32_t>(random.below(roll.submasters.size()));
        a.engine().set_submaster(which, position, t);
        b.engine().set_submaster(which, position, t);
    } else if (random.one_in(10)) {
        const runtime::Level master = random.one_in(2) ? runtime::full : position;
        a.engine().set_master(master, t);
        b.engine().set_master(master, t);
    } else if (!roll.panic.empty() && random.one_in(6)) {
        const bool on = random.one_in(2);
        a.engine().set_panic(on, t);
        b.engine().set_panic(on, t);
    } else {
        const auto list = static_cast<std::uint32_t>(random.below(roll.lists.size()));
        CHECK(a.engine().go(list, t) == b.engine().go(list, t));
    }
}

}  // namespace

std::unique_ptr<command::Compilation> compile_files(const Files& files) {
    auto compiled = command::compile("main.tallow", [&](const std::string& path) {
        const auto file = files.find(path);
        return file == files.end() ? runtime::Status::failure("no such file")
                                   : runtime::Result<std::string>(file->second);
    });
    REQUIRE(compiled.ok());
    std::string errors;
    for (const auto& d : (*compiled)->sink.sorted()) errors += source::render(d, (*compiled)->sources);
    INFO(all_text(files) << errors);
    REQUIRE_FALSE((*compiled)->failed());
    return std::move(*compiled);
}

FitShow::FitShow(Files all) : files(std::move(all)), compiled(compile_files(files)) {
    tester = std::make_unique<fit::Tester>(compiled->show, *compiled->book, compiled->sources);
    ways = fit::find_ways(*tester, compiled->show.desks.at(0)).all;
    REQUIRE_FALSE(ways.empty());
}

std::string FitShow::patch(std::size_t way) const {
    return fit::patch_text(compiled->show, compiled->sources, ways.at(way).plan, ways.at(way).at);
}

Files FitShow::with_patch(std::size_t way) const {
    Files out;
    for (const auto& [path, text] : files) out[path] = without_patches(text);
    out["main.tallow"] += patch(way);
    return out;
}

bool FitShow::ganged(const std::string& a, const std::string& b) const {
    show::Index first = show::none, second = show::none;
    for (show::Index f = 0; f < compiled->show.fixtures.size(); ++f) {
        if (show::fixture_text(compiled->show.fixtures[f]) == a) first = f;
        if (show::fixture_text(compiled->show.fixtures[f]) == b) second = f;
    }
    REQUIRE((first != show::none && second != show::none));
    REQUIRE(best().lossless);
    return best().plan.leader[first] == best().plan.leader[second];
}

std::string FitShow::mode(const std::string& fixture) const {
    REQUIRE(best().lossless);
    for (show::Index f = 0; f < compiled->show.fixtures.size(); ++f)
        if (show::fixture_text(compiled->show.fixtures[f]) == fixture)
            return compiled->show.type_of(compiled->show.fixtures[f]).modes[best().plan.mode[f]].name;
    FAIL("no fixture " << fixture);
    return "";
}

std::string play_both(const Files& before, const Files& after, std::uint64_t seed) {
    Side a(before), b(after);
    Random random(seed);
    const runtime::Tick ms = a.roll().refresh;
    std::map<std::string, BodyLight> home;
    REQUIRE(a.bodies().size() == b.bodies().size());
    std::size_t actions = 10;
    for (const runtime::CueList& list : a.roll().lists) actions += list.count + list.count / 2;
    runtime::Tick next = 100 * ms;
    for (runtime::Tick t = 0; actions > 0; t += 215 * ms) {
        for (; next <= t && actions > 0;
             --actions, next += (1 + random.below(random.one_in(2) ? 4000u : 400u)) * ms)
            act(a, b, random, next);
        a.engine().advance(t);
        b.engine().advance(t);
        for (const auto& [name, body] : a.bodies()) {
            const BodyLight was = a.light(name);
            home.try_emplace(name, was);
            const std::string off = difference(body, was, home.at(name), b.bodies().at(name), b.light(name));
            if (!off.empty()) return name + ": " + off + " at " + std::to_string(t / ms) + "ms";
        }
    }
    return "";
}

}  // namespace tallow::test
