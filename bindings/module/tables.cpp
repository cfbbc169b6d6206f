#include "tables.hpp"

#include <cstdint>
#include <string_view>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include <epicotyl/error.hpp>

#include "casters.hpp"

namespace py = pybind11;

namespace epicotyl::bindings {

namespace {

/// Nesting beyond this is a list that holds itself; a plan has no more than about ten levels.
constexpr int deepest = 100;

/// Where a value stands, on the way down; written out for messages only.
struct way {
    way const* up = nullptr;
    std::string_view key = {};  ///< of a table; at the top all of it
    std::size_t number = 0;     ///< in a list, from 1
    int depth = 0;

    [[nodiscard]] std::string text() const {
        if (up == nullptr) { return std::string{key}; }
        std::string const before = up->text();
        if (number > 0) { return fmt::format("{}[{}]", before, number); }
        return (before.empty() ? "" : before + ".") + written_key(key);
    }
    [[nodiscard]] std::string shown() const {
        std::string const path = text();
        return path.empty() ? "the plan" : path;
    }
};

/// Makes plan trees of Python values. Dictionaries keep their order.
class tree_maker {
public:
    [[nodiscard]] plan_tree tree_of(py::handle value, way const& path) const {
        if (path.depth > deepest) {
            throw py::value_error{
                fmt::format("{}: nested more than {} levels deep", path.shown(), deepest)};
        }
        // Python's own kinds, which most are, before what only behaves like them.
        PyObject* const raw = value.ptr();
        if (PyUnicode_Check(raw) != 0) { return plan_tree{value.cast<std::string>()}; }
        if (PyBool_Check(raw) != 0) { return plan_tree{raw == Py_True}; }
        if (PyLong_CheckExact(raw) != 0) { return plan_tree{whole_of(value, path)}; }
        if (PyFloat_CheckExact(raw) != 0) { return plan_tree{PyFloat_AS_DOUBLE(raw)}; }
        if (PyDict_CheckExact(raw) != 0) { return table_of(value, path); }
        if (PyList_Check(raw) != 0 || PyTuple_Check(raw) != 0) { return list_of(value, path); }
        if (auto const when = to_day_of_date(value)) { return plan_tree{*when}; }
        return tree_of_other(value, path);
    }

private:
    [[nodiscard]] plan_tree tree_of_other(py::handle value, way const& path) const {
        if (py::isinstance(value, numpy_bool_)) {
            return plan_tree{static_cast<bool>(py::bool_{borrowed(value)})};
        }
        if (py::isinstance(value, integral_)) { return plan_tree{whole_of(value, path)}; }
        if (py::isinstance(value, real_)) { return plan_tree{number_of(value)}; }
        if (py::isinstance(value, mapping_)) {
            return table_of(py::dict{value.attr("items")()}, path);
        }
        if (auto const when = to_day(value)) { return plan_tree{*when}; }
        refuse_kind(value, path);
    }

    [[nodiscard]] plan_tree table_of(py::handle table, way const& path) const {
        plan_tree made = plan_tree::table();
        PyObject* key = nullptr;
        PyObject* value = nullptr;
        for (Py_ssize_t at = 0; PyDict_Next(table.ptr(), &at, &key, &value) != 0;) {
            // Held, whatever a value does to the table when it is asked for its number.
            py::object const held_key = borrowed(key);
            py::object const held_value = borrowed(value);
            if (PyUnicode_Check(key) == 0) {
                throw py::type_error{fmt::format("{}: a key is a str, not {}", path.shown(),
                                                 std::string{py::repr(held_key)})};
            }
            auto const word = held_key.cast<std::string>();
            made.set(word, tree_of(held_value, {&path, word, 0, path.depth + 1}));
        }
        return made;
    }

    [[nodiscard]] plan_tree list_of(py::handle sequence, way const& path) const {
        std::vector<plan_tree> items;
        items.reserve(py::len(sequence));
        for (py::handle const item : sequence) {
            items.push_back(tree_of(item, {&path, {}, items.size() + 1, path.depth + 1}));
        }
        return plan_tree::list(std::move(items));
    }

    [[nodiscard]] static py::object borrowed(py::handle value) {
        return py::reinterpret_borrow<py::object>(value);
    }

    [[nodiscard]] static double number_of(py::handle value) {
        return static_cast<double>(py::float_{borrowed(value)});
    }

    [[nodiscard]] static std::int64_t whole_of(py::handle value, way const& path) {
        auto const number = py::reinterpret_steal<py::object>(PyNumber_Index(value.ptr()));
        if (!number) { throw py::error_already_set{}; }
        int too_large = 0;
        long long const whole = PyLong_AsLongLongAndOverflow(number.ptr(), &too_large);
        if (too_large != 0) {
            throw invalid_input{{.code = "number.too_large",
                                 .field = path.text(),
                                 .value = std::string{py::str(number)},
                                 .bound = "64 bits",
                                 .problem = "no plan has a number that large",
                                 .remedy = "give a smaller number"}};
        }
        return whole;
    }

    [[noreturn]] static void refuse_kind(py::handle value, way const& path) {
        std::string const kind{py::str(py::type::of(value).attr("__qualname__"))};
        throw py::type_error{
            fmt::format("{}: {} is a {}, which no plan holds; give a bool, a number, a str, a "
                        "datetime.date (without a time of day), a list or a dict{}",
                        path.shown(), std::string{py::repr(value)}, kind,
                        value.is_none() ? ", and leave out a key that has no value" : "")};
    }

    py::object mapping_ = py::module_::import("collections.abc").attr("Mapping");
    py::object integral_ = py::module_::import("numbers").attr("Integral");
    py::object real_ = py::module_::import("numbers").attr("Real");
    py::object numpy_bool_ = py::module_::import("numpy").attr("bool_");
};

}  // namespace

plan_tree tree_of(py::handle value, std::string const& path) {
    return tree_maker{}.tree_of(value, {nullptr, path});
}

py::object object_of(plan_tree const& node) {
    switch (node.what()) {
        case plan_tree::kind::boolean:
            return py::bool_{node.as_boolean()};
        case plan_tree::kind::whole:
            return py::int_{node.as_whole()};
        case plan_tree::kind::number:
            return py::float_{node.as_number()};
        case plan_tree::kind::text:
            return py::str{node.as_text()};
        case plan_tree::kind::date:
            return to_date(node.as_date());
        case plan_tree::kind::list: {
            py::list list;
            for (plan_tree const& item : node.items()) { list.append(object_of(item)); }
            return list;
        }
        case plan_tree::kind::table:
            break;
    }
    py::dict table;
    for (std::size_t i = 0; i < node.keys().size(); ++i) {
        table[py::str{node.keys()[i]}] = object_of(node.items()[i]);
    }
    return table;
}

}  // namespace epicotyl::bindings
