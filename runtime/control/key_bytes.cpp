#include "runtime/control/key_bytes.hpp"

#include <algorithm>
#include <utility>

namespace tallow::runtime {
namespace {

using What = Key::What;

constexpr char esc = '\033';
constexpr std::string_view paste_begins = "200~", paste_ends = "\033[201~";
constexpr std::size_t longest_sequence = 16;  // longer ones are none of ours

constexpr std::pair<std::string_view, What> sequences[] = {{"A", What::up},       {"B", What::down},
                                                           {"C", What::right},    {"D", What::left},
                                                           {"5~", What::page_up}, {"6~", What::page_down}};

}  // namespace

std::vector<Key> KeyBytes::take(std::string_view bytes, std::uint64_t ns) {
    keys_.clear();
    wait(ns);
    if (!bytes.empty()) latest_ns_ = ns;
    for (const char c : bytes) byte(c);
    return std::exchange(keys_, {});
}

void KeyBytes::wait(std::uint64_t ns) {
    const std::uint64_t waited = ns > latest_ns_ ? ns - latest_ns_ : 0;
    if (state_ == State::escape && waited >= escape_ns && !std::exchange(escape_told_, true))
        put(What::escape);
    if (waited >= rest_ns) state_ = State::keys;
}

void KeyBytes::byte(char c) {
    switch (state_) {
        case State::keys:
            return key(c);
        case State::escape:
            return after_escape(c);
        case State::sequence:
            return in_sequence(c);
        case State::one_more:
            return one_more(c);
        case State::pasted:
            return in_paste(c);
    }
}

void KeyBytes::key(char c) {
    if (c == esc) {
        state_ = State::escape;
        escape_told_ = false;
    } else if (c == '\r' || c == '\n') {
        put(What::enter);
    } else if (c == '\177' || c == '\b') {
        put(What::backspace);
    } else if (c == '\003') {
        put(What::control_c);
    } else if (c == '\014') {
        put(What::control_l);
    } else if (c >= ' ' && c <= '~') {
        keys_.push_back({What::sign, c});
    }
}

void KeyBytes::after_escape(char c) {
    if (c == '[') {
        text_.clear();
        state_ = State::sequence;
    } else if (c == 'O') {
        shifted_ = true;
        state_ = State::one_more;
    } else if (c == esc) {
        if (!escape_told_) put(What::escape);
        escape_told_ = false;
    } else {
        state_ = State::keys;
        if (escape_told_) key(c);  // else the key was pressed with alt
    }
}

void KeyBytes::in_sequence(char c) {
    if (c == esc) return key(c);  // begins anew
    const bool parameter = c >= ' ' && c <= '?', last = c >= '@' && c <= '~';
    if (parameter || last) text_.resize(std::min(text_.size(), longest_sequence));
    text_ += c;
    if (parameter) return;
    if (text_ == "[") {  // a function key of some terminals: one letter more
        shifted_ = false;
        state_ = State::one_more;
        return;
    }
    state_ = text_ == paste_begins ? State::pasted : State::keys;
    for (const auto& [text, what] : sequences)
        if (text == text_) put(what);
    text_.clear();
}

void KeyBytes::one_more(char c) {
    if (c == esc) return key(c);
    state_ = State::keys;
    if (!shifted_) return;
    if (c == 'M') put(What::enter);
    for (const auto& [text, what] : sequences)
        if (text == std::string_view(&c, 1)) put(what);
}

void KeyBytes::in_paste(char c) {
    text_ += c;
    if (text_.size() > paste_ends.size()) text_.erase(0, 1);
    if (text_ == paste_ends) state_ = State::keys;
}

}  // namespace tallow::runtime
