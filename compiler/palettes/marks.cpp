#include "compiler/palettes/marks.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <set>

#include "compiler/palettes/chart.hpp"
#include "compiler/palettes/gamuts.hpp"

namespace tallow::palettes {
namespace {

using svg::Spot;

constexpr double name_size = 11, target_radius = 6.5, result_radius = 3.2;
constexpr double most_of_a_name = 160;  // its width: a longer one would cross half of the page

class Marks {
  public:
    Marks(const Report& report, const std::vector<Index>& types, Labels& labels)
        : report_(report), types_(types), labels_(labels) {}

    std::string draw(std::size_t& unnamed) {
        for (const Entry& entry : report_.entries) draw_entry(entry);
        for (const Name& name : names_) write(name, unnamed);
        return lines_ + targets_ + results_ + texts_;
    }

  private:
    struct Name {
        Spot at;
        std::string text;
    };

    void draw_entry(const Entry& entry) {
        const std::string name = cut_to(most_of_a_name, entry.name, name_size);
        if (entry.target) {
            const Spot at = on_page(*entry.target);
            const std::string mark = target_mark(at, svg::fill_of(*entry.target));
            if (drawn_.insert(mark).second) targets_ += mark;
            add_name(at, name);
        }
        std::vector<Name> apart;  // with the letters of all types that come to the same place
        for (const Shown& shown : entry.on) {
            if (!shown.xy) continue;
            const Spot at = on_page(*shown.xy);
            const std::string mark = result_mark(at, svg::fill_of(*shown.xy));
            if (drawn_.insert(mark).second) results_ += mark;
            if (shown.off && *shown.off <= agreed) continue;
            const auto same = std::find_if(apart.begin(), apart.end(), [&](const Name& n) {
                return result_mark(n.at, "") == result_mark(at, "");
            });
            if (same == apart.end())
                apart.push_back(
                    {at, entry.target ? letter_on(shown) : fmt::format("{} {}", name, letter_on(shown))});
            else
                add_letter(same->text, letter_on(shown));
        }
        for (const Name& n : apart) {
            add_name(n.at, n.text);
            if (entry.target)
                lines_ += svg::line(on_page(*entry.target), n.at, "stroke=\"#000\" stroke-width=\"0.8\"");
        }
    }

    // Kinds of one type share its letter.
    static void add_letter(std::string& text, const std::string& letter) {
        if (!text.ends_with(letter)) text.append(" ").append(letter);
    }

    std::string letter_on(const Shown& shown) const {
        const auto at = std::find(types_.begin(), types_.end(), report_.kinds[shown.kind].alike.type);
        return letter_of(static_cast<std::size_t>(at - types_.begin()));
    }

    // The same words at the same place once.
    void add_name(Spot at, const std::string& text) {
        if (named_.insert(fmt::format("{:.2f} {:.2f} {}", at.x, at.y, text)).second)
            names_.push_back({at, text});
    }

    void write(const Name& name, std::size_t& unnamed) {
        const auto placed = labels_.place(name.at, name.text, name_size);
        if (!placed) {
            ++unnamed;
            return;
        }
        if (placed->far) lines_ += svg::line(name.at, placed->near, "stroke=\"#999\" stroke-width=\"0.5\"");
        texts_ += name_at(*placed, name.text, name_size);
    }

    const Report& report_;
    const std::vector<Index>& types_;
    Labels& labels_;
    std::set<std::string> drawn_, named_;
    std::vector<Name> names_;
    std::string lines_, targets_, results_, texts_;
};

}  // namespace

std::string target_mark(Spot at, const std::string& fill) {
    return svg::diamond(at, target_radius,
                        fmt::format("fill=\"{}\" stroke=\"#000\" stroke-width=\"1.2\"", fill));
}

std::string result_mark(Spot at, const std::string& fill) {
    return svg::circle(at, result_radius,
                       fmt::format("fill=\"{}\" stroke=\"#000\" stroke-width=\"1\"", fill));
}

void keep_marks_free(const Report& report, Labels& labels) {
    const auto keep = [&](Spot at, double radius) {
        labels.keep_free({at.x - radius, at.y - radius, at.x + radius, at.y + radius});
    };
    for (const Entry& entry : report.entries) {
        if (entry.target) keep(on_page(*entry.target), target_radius);
        for (const Shown& shown : entry.on)
            if (shown.xy && (!shown.off || *shown.off > agreed)) keep(on_page(*shown.xy), result_radius);
    }
}

std::string marks(const Report& report, const std::vector<Index>& types, Labels& labels,
                  std::size_t& unnamed) {
    return Marks(report, types, labels).draw(unnamed);
}

}  // namespace tallow::palettes
