// The bytes of a terminal, taken apart into keys. Sequences are those of ECMA-48 and the usual ones for
// arrows and paging (common practice, no source).
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace tallow::runtime {

struct Key {
    enum class What : std::uint8_t {
        sign,  // a printable ASCII character
        enter,
        escape,
        backspace,
        up,
        down,
        left,
        right,
        page_up,
        page_down,
        control_c,
        control_l,
    };
    What what = What::sign;
    char sign = 0;
    bool operator==(const Key&) const = default;
};

// Any bytes, cut anywhere. What is no key here is left out whole: characters beyond ASCII, other sequences,
// keys with alt, and everything that is pasted (between CSI 200~ and CSI 201~).
class KeyBytes {
  public:
    // The keys in bytes that came at `ns`; without bytes, what has waited so long for the rest of a sequence
    // that it is a key by itself.
    std::vector<Key> take(std::string_view bytes, std::uint64_t ns);

    // After an ESC alone, the key is meant. Its sequence may still come, over a slow line, so that the rest
    // of it does not count as letters until the second time.
    static constexpr std::uint64_t escape_ns = 50'000'000, rest_ns = 1'000'000'000;

  private:
    enum class State : std::uint8_t { keys, escape, sequence, one_more, pasted };
    void wait(std::uint64_t ns);
    void byte(char c);
    void key(char c);
    void after_escape(char c);
    void in_sequence(char c);
    void one_more(char c);
    void in_paste(char c);
    void put(Key::What what) { keys_.push_back({what, 0}); }

    State state_ = State::keys;
    bool escape_told_ = false;
    bool shifted_ = false;  // the one more byte stands behind ESC O
    std::string text_;      // of a sequence, so far; of what is pasted, the end
    std::uint64_t latest_ns_ = 0;
    std::vector<Key> keys_;
};

}  // namespace tallow::runtime
