// The console's keys: what an operator asks with each, in the words of command.hpp (CONSOLE.md).
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "runtime/control/key_bytes.hpp"
#include "runtime/control/view.hpp"

namespace tallow::runtime {

struct Pressed {
    enum class What : std::uint8_t {
        command,  // `text` is for parse_command()
        notice,   // `text` is for the operator: why nothing came of a key
        anew,     // the screen is to be drawn whole
        quit,     // the show is to end
    };
    What what = What::command;
    std::string text;
    bool operator==(const Pressed&) const = default;
};

// No key ends the show or fades it out without an enter after it, and a key that is held down counts once.
class Keys {
  public:
    // What is asked by bytes that came at `ns`. To be called without bytes too, some times a second, so that
    // an escape, and a question that nobody answers, come to their end. Of the view, the roll and the
    // progress count.
    std::vector<Pressed> take(std::string_view bytes, std::uint64_t ns, const View& view);

    // A question, or what is being typed; "" without.
    std::string typed() const;
    // Puts typed() and what is chosen into a view.
    void show(View& view) const;

    // The same key again counts only after a pause without it: a GO or back, and what switches over. The
    // repetition of a held key begins after 250 to 660 ms (common practice, no source), so a held GO starts
    // two cues at the most, and what switches stays as it is.
    static constexpr std::uint64_t go_pause_ns = 300'000'000, switch_pause_ns = 800'000'000;
    // A question, or a number that is not finished, lapses.
    static constexpr std::uint64_t lapse_ns = 10'000'000'000;
    // Digits that come so close are one submaster's number.
    static constexpr std::uint64_t digits_ns = 1'000'000'000;

  private:
    enum class Asking : std::uint8_t { nothing, cue, stop, quit };
    void press(const Key& key);
    void sign(char c);
    void switch_over(char c);
    bool answer(const Key& key);
    void confirm();
    void choose_list();
    void choose_number(char digit);
    void choose_beside(bool right);
    void move(unsigned step, bool up);
    bool has_submasters();
    void of_frames();
    bool again(char c, std::uint64_t pause);
    void ask(Asking what);
    void command(std::string words) { out_.push_back({Pressed::What::command, std::move(words)}); }
    void notice(std::string why) { out_.push_back({Pressed::What::notice, std::move(why)}); }
    std::string of_list() const;

    KeyBytes bytes_;
    // During take().
    const View* view_ = nullptr;
    std::uint64_t ns_ = 0;
    std::vector<Pressed> out_;

    Asking asking_ = Asking::nothing;
    std::uint64_t asked_ns_ = 0;
    std::string number_;  // of a cue, being typed

    std::uint32_t list_ = 0, submaster_ = none;
    std::string list_name_;  // "" where there is one list only
    bool grand_ = false, help_ = false;
    std::string digits_;  // of a submaster
    std::uint64_t digit_ns_ = 0;

    char latest_ = 0;  // the key that came last, and when
    std::uint64_t latest_ns_ = 0;

    // The level that was asked for last, which may not be in the view yet.
    unsigned asked_percent_ = 0;
    std::uint32_t asked_of_ = none;  // a submaster; the number of them for the grand master
    std::uint64_t asked_level_ns_ = 0;
};

}  // namespace tallow::runtime
