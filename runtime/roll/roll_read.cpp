// Reading a roll. The JSON parser calls back for each value (SAX); no tree is built. A Place says what may
// stand where the reader is: an integer in a range, a text, a list, or an object whose keys come in their
// fixed order. Places put what they take straight into the roll, and each part is checked as soon as it
// closes, so that a fault is found where it stands.
#include <algorithm>
#include <fmt/format.h>
#include <iterator>
#include <nlohmann/json.hpp>

#include "runtime/limits.hpp"
#include "runtime/roll/roll_io.hpp"
#include "runtime/roll/roll_parts.hpp"

namespace tallow::runtime {
namespace {

// Walks over the text and tells how far the parser has come.
class Cursor {
  public:
    using iterator_category = std::input_iterator_tag;
    using value_type = char;
    using difference_type = std::ptrdiff_t;
    using pointer = const char*;
    using reference = const char&;

    Cursor(const char* at, const char** seen) : at_(at), seen_(seen) {}
    const char& operator*() const { return *at_; }
    Cursor& operator++() {
        *seen_ = ++at_;
        return *this;
    }
    Cursor operator++(int) {
        Cursor before = *this;
        ++*this;
        return before;
    }
    bool operator==(const Cursor& other) const { return at_ == other.at_; }
    bool operator!=(const Cursor& other) const { return at_ != other.at_; }

  private:
    const char* at_;
    const char** seen_;
};

class Reader : public nlohmann::json_sax<nlohmann::json> {
  public:
    explicit Reader(std::string_view text)
        : text_(text), seen_(text.data()), check_(roll_), top_(roll_place(roll_, check_)) {}

    Result<Roll> read() {
        const char* const end = text_.data() + text_.size();
        const bool whole = nlohmann::json::sax_parse(Cursor(text_.data(), &seen_), Cursor(end, &seen_), this);
        if (whole) return std::move(roll_);
        return failure_;
    }

    bool null() override { return fail("null does not belong here"); }
    bool boolean(bool) override { return fail("true and false do not belong here"); }
    bool number_integer(std::int64_t v) override { return take_integer(v); }
    bool number_unsigned(std::uint64_t v) override { return take_integer(v); }
    bool number_float(nlohmann::json::number_float_t, const std::string&) override {
        return fail("a number that is not whole, or has over 64 bits, does not belong here");
    }
    bool binary(nlohmann::json::binary_t&) override { return fail("bytes do not belong here"); }
    bool string(std::string& text) override {
        return take(&Place::text, "a text",
                    [&](const Place& place, std::size_t index) { return accept(place.text(text, index)); });
    }
    bool start_object(std::size_t) override {
        return take(&Place::object, "an object", [&](const Place& place, std::size_t index) {
            open_.push_back({&place, place.object(index), 0});
            return true;
        });
    }
    bool key(std::string& name) override;
    bool end_object() override {
        const Open& top = open_.back();
        const std::size_t due = next_due(top);
        if (due < top.fields.size()) return fail(fmt::format("the key `{}` is missing", top.fields[due].key));
        return close();
    }
    bool start_array(std::size_t) override {
        return take(&Place::element, "a list", [&](const Place& place, std::size_t) {
            open_.push_back({&place, {}, 0});
            return true;
        });
    }
    bool end_array() override { return close(); }
    bool parse_error(std::size_t, const std::string&, const nlohmann::json::exception&) override {
        return fail("this is not JSON, or it ends too soon");
    }

  private:
    // An object or a list that is being read. `count`: keys or elements that have been begun.
    struct Open {
        const Place* place;
        Fields fields;  // of an object
        std::size_t count;
    };

    // The first field from `count` on that may not be left out.
    static std::size_t next_due(const Open& open) {
        std::size_t due = open.count;
        while (due < open.fields.size() && open.fields[due].optional) ++due;
        return due;
    }

    // A value begins: goes on with the place that it stands in, if that takes its kind.
    template <class Taker, class Use>
    bool take(Taker Place::*taker, std::string_view kind, Use use) {
        const Place* place = &top_;
        std::size_t index = 0;
        if (!open_.empty()) {
            Open& top = open_.back();
            if (top.place->element && top.count == top.place->most)
                return fail(fmt::format("there are over {} elements", top.place->most));
            if (top.place->element) index = top.count++;
            place = top.place->element ? top.place->element.get() : &top.fields[top.count - 1].place;
        }
        if (!(place->*taker)) return fail(fmt::format("{} does not belong here", kind));
        return use(*place, index);
    }

    bool take_integer(Wide v) {
        return take(&Place::integer, "a number",
                    [&](const Place& place, std::size_t index) { return accept(place.integer(v, index)); });
    }

    bool close() {
        const Open& top = open_.back();
        if (top.place->closed && !accept(top.place->closed(top.count))) return false;
        open_.pop_back();
        return true;
    }

    bool accept(const Status& status) { return status.ok() || fail(status.why()); }
    bool fail(std::string_view why);
    std::string path() const;

    std::string_view text_;
    const char* seen_;
    Roll roll_;
    RollCheck check_;
    Place top_;
    std::vector<Open> open_;
    Status failure_;
};

// Keys stand in one order, so each is the next one, or one after some that may be left out, or a fault.
bool Reader::key(std::string& name) {
    Open& top = open_.back();
    const auto begin = top.fields.begin(), end = top.fields.end();
    const auto known = std::find_if(begin, end, [&](const Field& f) { return f.key == name; });
    if (known == end) return fail(fmt::format("the key `{}` is unknown", name));
    const auto at = static_cast<std::size_t>(known - begin);
    if (at < top.count) return fail(fmt::format("the key `{}` is there twice, or too late", name));
    const std::size_t due = next_due(top);
    if (at > due)
        return fail(fmt::format("the key `{}` stands where `{}` is missing", name, top.fields[due].key));
    top.count = at + 1;
    return true;
}

// Where the reader is: `cues[3].sets[0].runs[7]`.
std::string Reader::path() const {
    std::string path;
    for (const Open& open : open_) {
        if (open.count == 0) continue;
        if (open.place->element)
            path += fmt::format("[{}]", open.count - 1);
        else
            path += fmt::format("{}{}", path.empty() ? "" : ".", open.fields[open.count - 1].key);
    }
    return path.empty() ? "its beginning" : fmt::format("`{}`", path);
}

bool Reader::fail(std::string_view why) {
    failure_ =
        Status::failure(fmt::format("cannot read the roll at {}, byte {}: {}; build it again from its show",
                                    path(), seen_ - text_.data(), why));
    return false;
}

}  // namespace

// A byte order mark and blanks are what the parser passes over.
bool is_roll(std::string_view text) {
    constexpr std::string_view mark = "\xef\xbb\xbf", blanks = " \t\n\r";
    const auto take = [&](std::string_view token) {
        text.remove_prefix(std::min(text.find_first_not_of(blanks), text.size()));
        const bool there = text.starts_with(token);
        if (there) text.remove_prefix(token.size());
        return there;
    };
    if (text.starts_with(mark)) text.remove_prefix(mark.size());
    return take("{") && take("\"roll\"");
}

Result<Roll> read_roll(std::string_view text) {
    if (text.size() > limits::file_bytes)
        return Status::failure(
            fmt::format("cannot read the roll: it is larger than {} bytes", limits::file_bytes));
    return Reader(text).read();
}

}  // namespace tallow::runtime
