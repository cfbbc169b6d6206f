// The extension module `epicotyl._core`. It is private: users see the Python package around it,
// which names arguments, checks their kind and carries the documentation.
//
// Every object here is immutable once it is built, and the library has no global state, so the
// module neither needs the global interpreter lock nor a lock of its own.
#include "register.hpp"

PYBIND11_MODULE(_core, m, pybind11::mod_gil_not_used()) {
    register_errors(m);
    register_weather(m);
    register_clock(m);
    register_frost(m);
    register_seeds(m);
    register_plan(m);
    register_season(m);
    register_space(m);
    register_amounts(m);
    register_heat(m);
}
