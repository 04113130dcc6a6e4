// What may stand at one place of a roll's text, and what becomes of it there.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "runtime/engine/wide.hpp"
#include "runtime/roll/roll.hpp"
#include "runtime/status.hpp"

namespace tallow::runtime {

struct Field;
using Fields = std::vector<Field>;

// What may stand at one place. `index` counts the elements of the list that an element stands in.
struct Place {
    std::function<Status(Wide value, std::size_t index)> integer{};
    std::function<Status(std::string& text, std::size_t index)> text{};
    std::function<Fields(std::size_t index)> object{};
    std::shared_ptr<const Place> element{};             // of a list
    std::size_t most = 0;                               // elements of a list
    std::function<Status(std::size_t count)> closed{};  // once a list or object is whole
};
struct Field {
    std::string_view key;
    Place place;
    bool optional = false;  // may be left out
};

struct Range {
    Wide low, high;
};
// Whether a number is in a range; a failure states both.
Status check(Wide value, Range range);
std::string digits(Wide value);

template <class T>
Place integer(T& out, Range range) {
    Place place;
    place.integer = [&out, range](Wide v, std::size_t) {
        out = static_cast<T>(v);
        return check(v, range);
    };
    return place;
}

// An enumeration, by its number.
template <class T>
Place code(T& out, T last) {
    return integer(out, {0, static_cast<unsigned>(last)});
}

Place text(std::string& out);
// An object with fields of its own; `closed` checks it once it is whole.
Place object(std::function<Fields()> fields, std::function<Status()> closed);
Place list(Place element, std::size_t most);
Place texts(std::vector<std::string>& out, std::size_t most);

template <class T>
Place column(std::vector<T>& out, Range range, std::size_t most) {
    Place element;
    element.integer = [&out, range](Wide v, std::size_t) {
        out.push_back(static_cast<T>(v));
        return check(v, range);
    };
    return list(std::move(element), most);
}

// A column of one number of each object. The first column makes the objects, the others are as long.
enum class Column { first, further };
template <class Object, class T>
Place column_of(std::vector<Object>& out, T Object::*number, Range range, std::size_t most, Column which) {
    const bool makes = which == Column::first;
    Place element;
    element.integer = [&out, number, range, makes](Wide v, std::size_t index) {
        if (makes) out.emplace_back();
        if (index >= out.size()) return Status::failure("the columns are not of one length");
        out[index].*number = static_cast<T>(v);
        return check(v, range);
    };
    Place place = list(std::move(element), most);
    place.closed = [&out](std::size_t count) {
        return count == out.size() ? Status{} : Status::failure("the columns are not of one length");
    };
    return place;
}

// A list of objects, each checked by its index once it is whole.
template <class Object>
Place objects(std::vector<Object>& out, std::size_t most, std::function<Fields(Object&)> fields,
              std::function<Status(std::size_t index)> closed) {
    Place element;
    element.object = [&out, fields = std::move(fields)](std::size_t) { return fields(out.emplace_back()); };
    element.closed = [&out, closed = std::move(closed)](std::size_t) { return closed(out.size() - 1); };
    return list(std::move(element), most);
}

}  // namespace tallow::runtime
