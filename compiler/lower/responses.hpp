// How slots follow levels on fixtures whose response is known.
#pragma once

#include <map>
#include <optional>
#include <utility>
#include <vector>

#include "compiler/show/show.hpp"
#include "runtime/roll/roll.hpp"

namespace tallow::lower {

class Responses {
  public:
    explicit Responses(const show::Show& show);

    // Each with the parameters that it applies to; within 2 of 65535 of the real-valued law.
    const std::vector<runtime::Response>& all() const { return all_; }
    // What applies to a parameter, or null.
    const runtime::Response* of(show::Index parameter) const;

  private:
    // A slot that dims; a level that scales emitters; an emitter under such a level.
    enum class Part : std::uint8_t { dimmer, scale, emitter };
    std::optional<Part> part_of(show::Index parameter) const;
    void add(show::Index parameter, const show::Response& response, Part part);

    const show::Show& show_;
    std::map<std::pair<show::Response, Part>, std::size_t> places_;  // in all_
    std::map<show::Index, std::size_t> of_;                          // by parameter
    std::vector<runtime::Response> all_;
};

}  // namespace tallow::lower
