// The settled pictures of a roll: every cue of every list by itself, every submaster at full, and the
// panic look.
#pragma once

#include <string>
#include <vector>

#include "compiler/fit/light.hpp"

namespace tallow::fit {

struct Scene {
    std::uint32_t cue = show::none;        // into Roll::cues, or
    std::uint32_t submaster = show::none;  // into Roll::submasters, or
    bool panic = false;
};

// `cue 3`, `cue 2 of side`, `submaster 1`, `the panic look`.
std::string scene_text(const show::Show& show, const Scene& scene);

class Scenes {
  public:
    // The roll must outlive this.
    explicit Scenes(const runtime::Roll& roll) : roll_(roll), at_(roll.parameters.size()) {}

    // Goes to the next one, a list after another, then the submasters, then the panic look; false when there
    // is none left.
    bool next();
    const Scene& scene() const { return scene_; }

    // What an output gives in the present scene, 0..1: a product of levels, or a value. A wave counts with
    // the middle of its range, a chase with its first step.
    double level(const Output& output) const { return of(output, &Reach::middle); }
    // Between which values waves and chases take it.
    double low(const Output& output) const { return of(output, &Reach::low); }
    double high(const Output& output) const { return of(output, &Reach::high); }

  private:
    struct Standing {
        runtime::Level level = 0;
        std::uint32_t source = runtime::none;
    };
    void play(const runtime::Cue& cue);
    void put(const runtime::Run& run);
    void go_home();
    bool next_cue();
    bool next_submaster();
    struct Reach {
        double low, middle, high;
    };
    Reach reach(std::uint32_t parameter) const;
    Reach of_wave(std::uint32_t parameter) const;
    Reach of_chase(std::uint32_t parameter) const;
    double of(const Output& output, double Reach::*end) const;

    const runtime::Roll& roll_;
    std::vector<Standing> at_;
    Scene scene_;
    std::size_t list_ = 0;  // being gone through; behind the last one: submasters
};

}  // namespace tallow::fit
