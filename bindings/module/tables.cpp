#include "tables.hpp"

#include <cstdint>
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

std::string shown(std::string const& path) {
    return path.empty() ? "the plan" : path;
}

/// Makes plan trees of Python values. Dictionaries keep their order.
class tree_maker {
public:
    [[nodiscard]] plan_tree tree_of(py::handle value, std::string const& path, int depth) const {
        if (depth > deepest) {
            throw py::value_error{
                fmt::format("{}: nested more than {} levels deep", shown(path), deepest)};
        }
        if (py::isinstance<py::bool_>(value) || py::isinstance(value, numpy_bool_)) {
            return plan_tree{static_cast<bool>(py::bool_{borrowed(value)})};
        }
        if (py::isinstance<py::str>(value)) { return plan_tree{value.cast<std::string>()}; }
        if (py::isinstance(value, integral_)) { return plan_tree{whole_of(value, path)}; }
        if (py::isinstance(value, real_)) { return plan_tree{number_of(value)}; }
        if (py::isinstance(value, mapping_)) { return table_of(value, path, depth); }
        if (py::isinstance<py::list>(value) || py::isinstance<py::tuple>(value)) {
            return list_of(value, path, depth);
        }
        if (auto const when = to_day(value)) { return plan_tree{*when}; }
        refuse_kind(value, path);
    }

private:
    [[nodiscard]] plan_tree table_of(py::handle mapping, std::string const& path, int depth) const {
        plan_tree table = plan_tree::table();
        for (py::handle const entry : mapping.attr("items")()) {
            auto const pair = py::reinterpret_borrow<py::tuple>(entry);
            py::object const key = pair[0];
            if (!py::isinstance<py::str>(key)) {
                throw py::type_error{fmt::format("{}: a key is a str, not {}", shown(path),
                                                 std::string{py::repr(key)})};
            }
            auto const word = key.cast<std::string>();
            std::string const below = (path.empty() ? "" : path + ".") + written_key(word);
            table.set(word, tree_of(pair[1], below, depth + 1));
        }
        return table;
    }

    [[nodiscard]] plan_tree list_of(py::handle sequence, std::string const& path, int depth) const {
        std::vector<plan_tree> items;
        for (py::handle const item : sequence) {
            items.push_back(
                tree_of(item, fmt::format("{}[{}]", path, items.size() + 1), depth + 1));
        }
        return plan_tree::list(std::move(items));
    }

    [[nodiscard]] static py::object borrowed(py::handle value) {
        return py::reinterpret_borrow<py::object>(value);
    }

    [[nodiscard]] static double number_of(py::handle value) {
        return static_cast<double>(py::float_{borrowed(value)});
    }

    [[nodiscard]] static std::int64_t whole_of(py::handle value, std::string const& path) {
        auto const number = py::reinterpret_steal<py::object>(PyNumber_Index(value.ptr()));
        if (!number) { throw py::error_already_set{}; }
        int too_large = 0;
        long long const whole = PyLong_AsLongLongAndOverflow(number.ptr(), &too_large);
        if (too_large != 0) {
            throw invalid_input{{.code = "number.too_large",
                                 .field = path,
                                 .value = std::string{py::str(number)},
                                 .bound = "64 bits",
                                 .problem = "no plan has a number that large",
                                 .remedy = "give a smaller number"}};
        }
        return whole;
    }

    [[noreturn]] static void refuse_kind(py::handle value, std::string const& path) {
        std::string const kind{py::str(py::type::of(value).attr("__qualname__"))};
        throw py::type_error{
            fmt::format("{}: {} is a {}, which no plan holds; give a bool, a number, a str, a "
                        "datetime.date (without a time of day), a list or a dict{}",
                        shown(path), std::string{py::repr(value)}, kind,
                        value.is_none() ? ", and leave out a key that has no value" : "")};
    }

    py::object mapping_ = py::module_::import("collections.abc").attr("Mapping");
    py::object integral_ = py::module_::import("numbers").attr("Integral");
    py::object real_ = py::module_::import("numbers").attr("Real");
    py::object numpy_bool_ = py::module_::import("numpy").attr("bool_");
};

}  // namespace

plan_tree tree_of(py::handle value, std::string const& path) {
    return tree_maker{}.tree_of(value, path, 0);
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
