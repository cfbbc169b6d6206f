// Exceptions. The classes are written in Python (epicotyl/_errors.py), where they can be pickled,
// subclassed and read; here the library's exceptions become theirs, part by part.
#include <exception>

#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <epicotyl/error.hpp>
#include <epicotyl/version.hpp>

#include "register.hpp"
#include "shared_results.hpp"

namespace py = pybind11;
using namespace py::literals;

namespace {

py::object error_class(char const* name) {
    return py::module_::import("epicotyl._errors").attr(name);
}

void raise(char const* class_name, py::tuple const& parts, py::dict const& named) {
    py::object const type = error_class(class_name);
    py::object const instance = type(*parts, **named);
    PyErr_SetObject(type.ptr(), instance.ptr());
}

void translate(std::exception_ptr thrown) {
    try {
        if (thrown) { std::rethrow_exception(thrown); }
    } catch (epicotyl::invalid_input const& fault) {
        epicotyl::input_fault const& parts = fault.details();
        raise("InvalidInput", py::make_tuple(fault.what()),
              py::dict("code"_a = parts.code, "file"_a = parts.file, "line"_a = parts.line,
                       "field"_a = parts.field, "value"_a = parts.value, "bound"_a = parts.bound,
                       "unit"_a = parts.unit, "problem"_a = parts.problem,
                       "remedy"_a = parts.remedy));
    } catch (epicotyl::unresolved const& fault) {
        raise("Unresolved", py::make_tuple(fault.what(), fault.obstacles()), py::dict());
    }
}

}  // namespace

void register_errors(py::module_& m) {
    py::register_local_exception_translator(translate);

    epicotyl::bindings::add_result<epicotyl::obstacle>(m);
    m.attr("version") = epicotyl::version;
    // Arguments that are checked in Python are refused in the same words as all others.
    m.def(
        "refuse",
        [](std::string const& code, std::string const& field, std::string const& value,
           std::string const& bound, std::string const& unit, std::string const& problem,
           std::string const& remedy) {
            throw epicotyl::invalid_input{{.code = code,
                                           .field = field,
                                           .value = value,
                                           .bound = bound,
                                           .unit = unit,
                                           .problem = problem,
                                           .remedy = remedy}};
        },
        py::kw_only(), "code"_a, "field"_a, "value"_a, "bound"_a = "", "unit"_a = "", "problem"_a,
        "remedy"_a);
}
