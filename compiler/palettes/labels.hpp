// Places for names on the diagram, so that none covers another.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "compiler/palettes/svg.hpp"

namespace tallow::palettes {

struct Box {
    double left, top, right, bottom;
};

// How wide a text of this size is at most, about: six tenths of its size for each column.
double text_width(std::string_view text, double size);

// As much of a text as fits, with `...` in place of the rest.
std::string cut_to(double width, const std::string& text, double size);

class Labels {
  public:
    // Names stay inside.
    explicit Labels(Box area) : area_(area) {}

    // Nothing is to be written here. Only the first 4000 count, so that a huge show ends in time.
    void keep_free(Box box);

    // A text beside `at`: the first free place around it, ever further out. None when all are taken, and
    // none after 1000 texts.
    struct Placed {
        svg::Spot near;           // the middle of the side toward `at`
        bool far;                 // a line has to lead to it
        std::string_view anchor;  // the end of the text that stands there: `start`, `middle` or `end`
    };
    std::optional<Placed> place(svg::Spot at, std::string_view text, double size);

  private:
    bool is_free(Box box) const;

    Box area_;
    std::vector<Box> taken_;
    std::size_t placed_ = 0;
};

// The text at the place found for it; more attributes, each ended by a blank.
std::string name_at(const Labels::Placed& placed, std::string_view text, double size,
                    std::string_view more = "");

}  // namespace tallow::palettes
