// How a result of the library becomes a value of Python.
//
// A result is a struct with fields. Python has it as a frozen dataclass with the same fields by the
// same names (`from`, which Python keeps for itself, is `start` there). All that is written for it
// is the list of its fields, once, with what each is and its unit: names, types and docstring of
// the class are made of it (epicotyl/_result.py), the stub, and the values themselves.
//
//     template <>
//     struct epicotyl::bindings::bound<cure> {
//         static constexpr char name[] = "Cure";
//         static constexpr char doc[] = "A requirement that, giving way by some days, cures ...";
//         static auto fields() {
//             return std::tuple{field{"what", &cure::what, "The requirement."},
//                               field{"days", &cure::days, "The fewest days that do."}};
//         }
//     };
//
// and `add_result<cure>(m)`. From then on a `cure`, and a vector or an optional of it, goes out of
// any bound function as what it is. A field is a member or a function of the struct. Days, numbers,
// text and other results go as they are, enumerations as their words, vectors as lists, or as what
// `tuple_of`, `days_of` and `array_of` make of them. A field whose name begins with `_` is neither
// shown nor compared; of `sentence`, `text` and `_text` the class has the one it has as its `str`.
//
// Of a result that has always been unpacked `bound` says `is_tuple = true`: it is a named tuple.
//
// The struct says what a field of an older pickle is that has no such field: what a new one has.
#ifndef EPICOTYL_BINDINGS_RESULT_HPP
#define EPICOTYL_BINDINGS_RESULT_HPP

#include <concepts>
#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <tuple>
#include <type_traits>
#include <vector>

#include <pybind11/numpy.h>
#include <pybind11/pybind11.h>
#include <pybind11/stl.h>
#include <pybind11/typing.h>

#include <epicotyl/days.hpp>
#include <epicotyl/units.hpp>

#include "casters.hpp"

namespace epicotyl::bindings {

/// A field: its name in both languages, how it is read, and what it is.
template <class Get>
struct field {
    char const* name;
    Get get;  ///< a member of the struct, or a function of it
    char const* doc;
    bool may_be_left_out = false;  ///< when a user makes one: it is then what a new struct has
};

template <class Get>
field(char const*, Get, char const*, bool = false) -> field<Get>;

inline constexpr bool may_be_left_out = true;

/// To be specialised for a result: `name`, `doc` and `fields()`, as above.
template <class Struct>
struct bound;

template <class Struct>
concept is_result = requires {
    bound<Struct>::name;
};

/// An array of days.
class day_array : public pybind11::array {
public:
    explicit day_array(pybind11::array const& of) : pybind11::array{of} {}
};

/// A vector of the struct as a tuple.
template <class Struct, class Value>
[[nodiscard]] auto tuple_of(std::vector<Value> Struct::*member) {
    return [member](Struct const& of) {
        return pybind11::typing::Tuple<Value, pybind11::ellipsis>{pybind11::cast(of.*member)};
    };
}

/// A vector of days as an array.
template <class Struct, class Day>
[[nodiscard]] auto days_of(std::vector<Day> Struct::*member) {
    return [member](Struct const& of) {
        std::vector<std::optional<day>> const all((of.*member).begin(), (of.*member).end());
        return day_array{to_day_array(all)};
    };
}

/// A vector of numbers as an array.
template <class Struct, class Number>
[[nodiscard]] auto array_of(std::vector<Number> Struct::*member) {
    return [member](Struct const& of) {
        std::vector<Number> const& all = of.*member;
        return pybind11::array_t<Number>{static_cast<pybind11::ssize_t>(all.size()), all.data()};
    };
}

/// A number of each of a vector's parts as an array.
template <class Struct, class Part, class Number>
[[nodiscard]] auto column_of(std::vector<Part> Struct::*member, Number Part::*number) {
    using wide = std::conditional_t<std::is_integral_v<Number>, std::int64_t, Number>;
    return [=](Struct const& of) {
        std::vector<wide> all;
        for (Part const& one : of.*member) { all.push_back(one.*number); }
        return pybind11::array_t<wide>{static_cast<pybind11::ssize_t>(all.size()), all.data()};
    };
}

/// What the struct says in words.
inline constexpr auto in_words = [](auto const& of) {
    return to_string(of);
};

/// The class that values of this name are made of.
[[nodiscard]] pybind11::object result_class(char const* name);
/// What a type of pybind11's is called where it is returned.
[[nodiscard]] std::string annotation(char const* of);
/// Makes the class. Fields are (name, type, doc, whether it may be left out).
void make_result_class(pybind11::module_& m, char const* name, char const* doc,
                       pybind11::list const& fields, pybind11::dict const& defaults, bool is_tuple);

/// A field of a value as Python has it.
template <class Struct, class Get>
[[nodiscard]] pybind11::object value_of(Struct const& of, field<Get> const& one) {
    using value = std::remove_cvref_t<std::invoke_result_t<Get const&, Struct const&>>;
    if constexpr (std::is_enum_v<value>) {
        return pybind11::str{std::string{to_string(std::invoke(one.get, of))}};
    } else if constexpr (std::is_base_of_v<pybind11::object, value>) {
        return std::invoke(one.get, of);
    } else {
        return pybind11::cast(std::invoke(one.get, of));
    }
}

/// A value as Python has it.
template <is_result Struct>
[[nodiscard]] pybind11::object made_of(Struct const& of) {
    pybind11::object const made = result_class(bound<Struct>::name);
    return std::apply([&](auto const&... each) { return made(value_of(of, each)...); },
                      bound<Struct>::fields());
}

}  // namespace epicotyl::bindings

namespace pybind11::detail {

template <class Struct>
requires epicotyl::bindings::is_result<Struct>
struct type_caster<Struct> {
    static constexpr auto name = const_name(epicotyl::bindings::bound<Struct>::name);

    static handle cast(Struct const& of, return_value_policy, handle) {
        return epicotyl::bindings::made_of(of).release();
    }
};

/// Temperatures go out in °C, differences in K.
template <>
struct type_caster<epicotyl::temperature> {
    static constexpr auto name = const_name("float");
    static handle cast(epicotyl::temperature of, return_value_policy, handle) {
        return PyFloat_FromDouble(of.celsius());
    }
};

template <>
struct type_caster<epicotyl::temperature_span> {
    static constexpr auto name = const_name("float");
    static handle cast(epicotyl::temperature_span of, return_value_policy, handle) {
        return PyFloat_FromDouble(of.kelvin());
    }
};

template <>
struct handle_type_name<epicotyl::bindings::day_array> {
    static constexpr auto name = const_name("numpy.typing.NDArray[numpy.datetime64]");
};

}  // namespace pybind11::detail

namespace epicotyl::bindings {

/// What the type of a field is called in Python.
template <class Struct, class Get>
[[nodiscard]] std::string annotation_of(field<Get> const&) {
    using value = std::remove_cvref_t<std::invoke_result_t<Get const&, Struct const&>>;
    if constexpr (std::is_enum_v<value>) {
        return "str";
    } else {
        return annotation(pybind11::detail::make_caster<value>::name.text);
    }
}

/// Notes what a field of a new struct is. Text is made of the others, and a result is not made
/// before its class.
template <class Struct, class Get>
void add_default(pybind11::dict const& defaults, Struct const& empty, field<Get> const& one) {
    using value = std::remove_cvref_t<std::invoke_result_t<Get const&, Struct const&>>;
    if constexpr (!is_result<value> &&
                  !std::is_same_v<Get, std::remove_const_t<decltype(in_words)>>) {
        defaults[one.name] = value_of(empty, one);
    }
}

/// Adds the class of a result to the module, after those of the results that it holds.
template <is_result Struct>
void add_result(pybind11::module_& m) {
    pybind11::list fields;
    pybind11::dict defaults;
    std::apply(
        [&](auto const&... each) {
            (fields.append(pybind11::make_tuple(each.name, annotation_of<Struct>(each), each.doc,
                                                each.may_be_left_out)),
             ...);
            if constexpr (std::default_initializable<Struct>) {
                Struct const empty{};
                (add_default(defaults, empty, each), ...);
            }
        },
        bound<Struct>::fields());
    make_result_class(
        m, bound<Struct>::name, bound<Struct>::doc, fields, defaults,
        requires { bound<Struct>::is_tuple; });
}

}  // namespace epicotyl::bindings

#endif
