#include "runtime/output/e131_output.hpp"

#include <algorithm>
#include <fmt/format.h>

#include "runtime/limits.hpp"

namespace tallow::runtime {
namespace {

class E131Output : public Output {
  public:
    E131Output(std::shared_ptr<E131Stream> stream, std::unique_ptr<Carrier> carrier)
        : stream_(std::move(stream)), carrier_(std::move(carrier)) {
        stream_->restart();
    }
    Status frame(const Frame& frame) override { return send(stream_->frame(frame), frame.number); }
    Status end(std::uint64_t number) override { return send(stream_->end(), number); }
    Status finish() override { return carrier_->finish(); }

  private:
    Status send(std::span<const Datagram> packets, std::uint64_t number) {
        return packets.empty() ? Status() : carrier_->send(packets, number);
    }
    std::shared_ptr<E131Stream> stream_;
    std::unique_ptr<Carrier> carrier_;
};

Status check_source(const E131Source& source) {
    if (source.priority > e131_priority_max)
        return Status::failure(
            fmt::format("an E1.31 priority is 0..{}; {} is none", e131_priority_max, source.priority));
    if (source.synchronization > limits::universe_max)
        return Status::failure(fmt::format("the universe of synchronization is one of 1..{}; {} is none",
                                           limits::universe_max, source.synchronization));
    if (source.force_synchronization && source.synchronization == 0)
        return Status::failure(
            "receivers that may go on without synchronization packets need a universe for these; choose one, "
            "or leave both away");
    return {};
}

std::string listed(std::span<const Universe> universes) {
    constexpr std::size_t most = 20;
    std::string text;
    for (std::size_t i = 0; i < std::min(universes.size(), most); ++i)
        text += fmt::format("{}{}", i == 0 ? "" : ", ", universes[i].number);
    return universes.size() > most ? text + ", …" : text;
}

std::string in_words(const UniverseRange& range) {
    return range.from == range.to ? fmt::format("{}", range.from)
                                  : fmt::format("{}..{}", range.from, range.to);
}

// Whoever chooses a universe counts on its being sent. A range may hold more than the show has.
Status check_selection(const E131Selection& selection, std::span<const Universe> universes) {
    if (universes.empty()) return {};
    for (const UniverseRange& range : selection.universes) {
        if (std::any_of(universes.begin(), universes.end(),
                        [&](const Universe& u) { return range.holds(u.number); }))
            continue;
        return Status::failure(fmt::format("the show has no universe {}: it has {}; choose of these",
                                           in_words(range), listed(universes)));
    }
    return {};
}

Result<std::shared_ptr<E131Stream>> make_stream(const E131Options& options,
                                                std::span<const Universe> universes, std::uint32_t refresh,
                                                bool discovery) {
    if (auto s = check_source(options.source); !s.ok()) return s;
    if (auto s = check_selection(options.selection, universes); !s.ok()) return s;
    E131Selection selection = options.selection;
    selection.discovery = selection.discovery && discovery;
    return std::make_shared<E131Stream>(options.source, universes, refresh, selection);
}

// The output opened over whatever `open_carrier` opens.
template <class OpenCarrier>
OpenOutput opening(std::shared_ptr<E131Stream> stream, OpenCarrier open_carrier) {
    return [stream = std::move(stream), open_carrier]() -> Result<std::unique_ptr<Output>> {
        auto carrier = open_carrier();
        if (!carrier.ok()) return carrier.status();
        return e131_output(stream, std::move(*carrier));
    };
}

std::string multicast_name(const MulticastOptions& to) {
    const std::string through = to.interface.empty() ? "" : fmt::format(" through {}", to.interface);
    return fmt::format("E1.31 multicast{}{}", to.version == IpVersion::v6 ? " over IPv6" : "", through);
}

std::string host_name(const Host& host) {
    return host.port == e131_port ? fmt::format("E1.31 to {}", host.name)
                                  : fmt::format("E1.31 to {}, port {}", host.name, host.port);
}

std::vector<MulticastOptions> multicast_destinations(const E131Options& options) {
    std::vector<MulticastOptions> all;
    if (!options.multicast) return all;
    const std::vector<std::string> interfaces =
        options.interfaces.empty() ? std::vector<std::string>{""} : options.interfaces;
    for (const std::string& interface : interfaces) {
        if (options.versions.v4) all.push_back({IpVersion::v4, interface, options.hops, options.port});
        if (options.versions.v6) all.push_back({IpVersion::v6, interface, options.hops, options.port});
    }
    return all;
}

}  // namespace

Result<std::vector<NamedOutput>> e131_outputs(const E131Options& options, std::span<const Universe> universes,
                                              std::uint32_t refresh) {
    std::vector<NamedOutput> outputs;
    for (const MulticastOptions& to : multicast_destinations(options)) {
        auto stream = make_stream(options, universes, refresh, true);
        if (!stream.ok()) return stream.status();
        outputs.push_back({multicast_name(to), opening(*stream, [to] { return multicast_carrier(to); })});
    }
    for (const Host& host : options.hosts) {
        auto stream = make_stream(options, universes, refresh, false);
        if (!stream.ok()) return stream.status();
        const auto open_carrier = [host, versions = options.versions] {
            return unicast_carrier(host, versions);
        };
        outputs.push_back({host_name(host), opening(*stream, open_carrier)});
    }
    return outputs;
}

Result<NamedOutput> e131_capture(const E131Options& options, const std::string& path,
                                 std::span<const Universe> universes, std::uint32_t refresh) {
    auto stream = make_stream(options, universes, refresh, true);
    if (!stream.ok()) return stream.status();
    const auto open_carrier = [path, refresh, versions = options.versions] {
        return capture_carrier(path, refresh, versions);
    };
    return NamedOutput{fmt::format("capture {}", path), opening(*stream, open_carrier)};
}

std::unique_ptr<Output> e131_output(std::shared_ptr<E131Stream> stream, std::unique_ptr<Carrier> carrier) {
    return std::make_unique<E131Output>(std::move(stream), std::move(carrier));
}

}  // namespace tallow::runtime
