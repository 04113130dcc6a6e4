// The settled pictures of a roll: every cue of every list by itself, and every submaster at full.
#pragma once

#include <string>
#include <vector>

#include "compiler/desk/light.hpp"

namespace tallow::desk {

struct Scene {
    std::uint32_t cue = show::none;        // into Roll::cues, or
    std::uint32_t submaster = show::none;  // into Roll::submasters
};

// `cue 3`, `cue 2 of side`, `submaster 1`.
std::string scene_text(const show::Show& show, const Scene& scene);

class Scenes {
  public:
    // The roll must outlive this.
    explicit Scenes(const runtime::Roll& roll) : roll_(roll), at_(roll.parameters.size()) {}

    // Goes to the next one, a list after another, then the submasters; false when there is none left.
    bool next();
    const Scene& scene() const { return scene_; }

    // What an output gives in the present scene, 0..1: a product of levels, or a value. A wave counts with
    // the middle of its range, a chase with its first step.
    double level(const Output& output) const;

  private:
    struct Standing {
        runtime::Level level = 0;
        std::uint32_t source = runtime::none;
    };
    void play(const runtime::Cue& cue);
    void put(const runtime::Run& run);
    void go_home();
    bool next_cue();
    double value(std::uint32_t parameter) const;

    const runtime::Roll& roll_;
    std::vector<Standing> at_;
    Scene scene_;
    std::size_t list_ = 0;  // being gone through; behind the last one: submasters
};

}  // namespace tallow::desk
