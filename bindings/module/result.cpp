#include "result.hpp"

#include <cstring>
#include <string>

namespace epicotyl::bindings {

namespace py = pybind11;

py::object result_class(char const* name) {
    return py::module_::import("epicotyl._result").attr("classes")[name];
}

std::string annotation(char const* of) {
    // Where the name differs between argument and return value it is "@one@other@".
    std::string found;
    for (char const* at = of; *at != '\0'; ++at) {
        if (*at != '@') {
            found += *at;
            continue;
        }
        char const* const middle = std::strchr(at + 1, '@');
        char const* const end = std::strchr(middle + 1, '@');
        found.append(middle + 1, end);
        at = end;
    }
    return found;
}

void make_result_class(py::module_& m, char const* name, char const* doc, py::list const& fields,
                       py::dict const& defaults, bool is_tuple) {
    m.attr(name) =
        py::module_::import("epicotyl._result").attr("make")(name, doc, fields, defaults, is_tuple);
}

}  // namespace epicotyl::bindings
