// Results that several files of the module give.
#ifndef EPICOTYL_BINDINGS_SHARED_RESULTS_HPP
#define EPICOTYL_BINDINGS_SHARED_RESULTS_HPP

#include <epicotyl/error.hpp>

#include "result.hpp"

/// The class that users meet has a `str` of its own (epicotyl/_errors.py).
template <>
struct epicotyl::bindings::bound<epicotyl::obstacle> {
    static constexpr char name[] = "Obstacle";
    static constexpr char doc[] = "One thing that stands in the way of an answer.";
    static auto fields() {
        return std::tuple{
            field{"succession", &obstacle::succession,
                  "Name of the succession; empty when the whole plan is meant."},
            field{"code", &obstacle::code, "Stable code, such as `sow.no_day_good_enough`."},
            field{"sentence", &obstacle::sentence, "What stands in the way."},
            field{"cure", &obstacle::cure, "The nearest change that would help; may be empty.",
                  may_be_left_out}};
    }
};

#endif
