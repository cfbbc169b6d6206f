// What module.cpp calls: one function for the errors and one for every folder of the library; and
// what these call, the parts of a large folder.
#ifndef EPICOTYL_BINDINGS_REGISTER_HPP
#define EPICOTYL_BINDINGS_REGISTER_HPP

#include <pybind11/pybind11.h>

void register_errors(pybind11::module_& m);
void register_weather(pybind11::module_& m);
void register_clock(pybind11::module_& m);
void register_frost(pybind11::module_& m);
void register_seeds(pybind11::module_& m);
void register_plan(pybind11::module_& m);
void register_season(pybind11::module_& m);
void register_space(pybind11::module_& m);

void register_amounts(pybind11::module_& m);      // of space
void register_generator(pybind11::module_& m);    // of weather
void register_heat(pybind11::module_& m);         // of space
void register_germination(pybind11::module_& m);  // of clock
void register_edits(pybind11::module_& m);        // of plan
void register_compare(pybind11::module_& m);      // of season
void register_harvest(pybind11::module_& m);      // of season
void register_stagger(pybind11::module_& m);      // of season
void register_fit(pybind11::module_& m);          // of space
void register_sweep(pybind11::module_& m);        // of season
void register_windows(pybind11::module_& m);      // of season

#endif
