#include "runtime/session/ways_out.hpp"

#include <algorithm>
#include <fmt/format.h>

#include "runtime/output/e131_output.hpp"
#include "runtime/output/e131_text.hpp"

namespace tallow::runtime {
namespace {

// Hands what it is given to a thread.
class ThreadedOutput : public Output {
  public:
    explicit ThreadedOutput(std::unique_ptr<SupervisedOutput> thread) : thread_(std::move(thread)) {}
    Status frame(const Frame& frame) override {
        thread_->offer(frame);
        return {};
    }
    Status end(std::uint64_t number) override {
        thread_->end(number);
        return {};
    }
    Status finish() override { return thread_->finish(); }

  private:
    std::unique_ptr<SupervisedOutput> thread_;
};

constexpr unsigned sending_priority = 100, standing_by_priority = 90;

Result<E131Source> e131_source(const PlaySettings& settings) {
    E131Source source;
    source.priority = static_cast<std::uint8_t>(
        settings.priority.value_or(settings.stand_by.empty() ? sending_priority : standing_by_priority));
    if (!settings.source_name.empty()) source.name = settings.source_name;
    source.preview = settings.preview;
    source.synchronization = static_cast<std::uint16_t>(settings.synchronization);
    source.force_synchronization = settings.force_synchronization;
    const auto cid = parse_cid(settings.cid);
    if (!cid)
        return Status::failure(fmt::format(
            "--cid: `{}` is no UUID; write it like 00000000-0000-4000-8000-000000000000", settings.cid));
    source.cid = *cid;
    return source;
}

Result<E131Options> e131_options(const PlaySettings& settings) {
    auto source = e131_source(settings);
    if (!source.ok()) return source.status();
    E131Options options;
    options.source = *source;
    options.interfaces = settings.interfaces;
    options.hops = static_cast<std::uint8_t>(settings.hops);
    options.selection.discovery = !settings.no_discovery;
    const auto versions = parse_ip_versions(settings.ip);
    if (!versions.ok()) return Status::failure("--ip: " + versions.why());
    options.versions = *versions;
    if (!settings.universes.empty()) {
        auto universes = parse_universes(settings.universes);
        if (!universes.ok()) return Status::failure("--universes: " + universes.why());
        options.selection.universes = std::move(*universes);
    }
    for (const std::string& destination : settings.sacn) {
        if (destination == "multicast") {
            options.multicast = true;
            continue;
        }
        auto host = parse_host(destination);
        if (!host.ok()) return Status::failure("--sacn: " + host.why());
        options.hosts.push_back(std::move(*host));
    }
    return options;
}

Status check(const PlaySettings& settings) {
    const bool multicast = std::count(settings.sacn.begin(), settings.sacn.end(), "multicast") > 0;
    if (settings.sacn.empty() && settings.serial.empty() && settings.capture.empty() && !settings.null)
        return Status::failure(
            "nothing says where to play to; give `--sacn multicast`, `--sacn HOST`, `--serial PORT`, "
            "`--capture FILE` or `--null`");
    if (settings.fast && !(settings.sacn.empty() && settings.serial.empty()))
        return Status::failure("`--fast` floods a network; use it with `--capture` or `--null` alone");
    if (!settings.interfaces.empty() && !multicast)
        return Status::failure("`--interface` is for multicast; add `--sacn multicast` or leave it away");
    if (settings.force_synchronization && settings.synchronization == 0)
        return Status::failure("`--force-sync` is about the packets of `--sync`; add that or leave it away");
    return {};
}

Status add_serial(const PlaySettings& settings, std::span<const Universe> universes,
                  std::vector<WayOut>& ways) {
    for (const std::string& text : settings.serial) {
        auto options = parse_serial(text);
        if (!options.ok()) return Status::failure("--serial: " + options.why());
        options->break_us = settings.serial_break;
        const auto place = serial_universe(*options, universes);
        if (!place.ok()) return Status::failure("--serial: " + place.why());
        std::string name =
            fmt::format("DMX512-A on {}, universe {}", options->path, universes[*place].number);
        ways.push_back({{std::move(name), serial_opener(*options, *place)}, serial_supervision()});
    }
    return {};
}

}  // namespace

Result<std::vector<WayOut>> ways_out(const PlaySettings& settings, std::span<const Universe> universes,
                                     std::uint32_t refresh) {
    if (auto s = check(settings); !s.ok()) return s;
    std::vector<WayOut> ways;
    const auto options = e131_options(settings);
    if (!options.ok()) return options.status();
    auto network = e131_outputs(*options, universes, refresh);
    if (!network.ok()) return network.status();
    for (NamedOutput& output : *network) ways.push_back({std::move(output), {}});
    if (auto s = add_serial(settings, universes, ways); !s.ok()) return s;
    if (!settings.capture.empty()) {
        auto capture = e131_capture(*options, settings.capture, universes, refresh);
        if (!capture.ok()) return capture.status();
        Supervision once;
        once.retry = false;
        ways.push_back({std::move(*capture), once});
    }
    if (settings.null)
        ways.push_back(
            {{"`--null`, which sends nothing", [] { return Result<std::unique_ptr<Output>>(null_output()); }},
             {}});
    return ways;
}

Result<std::vector<std::unique_ptr<Output>>> open_all(const std::vector<WayOut>& ways) {
    std::vector<std::unique_ptr<Output>> outputs;
    for (const WayOut& way : ways) {
        auto opened = way.output.open();
        if (!opened.ok()) return opened.status();
        outputs.push_back(std::move(*opened));
    }
    return outputs;
}

Result<OwnThread> on_own_thread(const WayOut& way, std::span<const Universe> universes) {
    auto thread = SupervisedOutput::start(way.output.name, way.output.open, universes, way.how);
    if (!thread.ok()) return thread.status();
    SupervisedOutput* const looked_after = thread->get();
    return OwnThread{std::make_unique<ThreadedOutput>(std::move(*thread)), looked_after};
}

}  // namespace tallow::runtime
