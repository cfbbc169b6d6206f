#include <fmt/format.h>

#include <epicotyl/error.hpp>

#include "fit_problem.hpp"

namespace epicotyl::detail {

namespace {

void require_weight(double weight, char const* name) {
    if (weight >= 0.0 && weight <= 1e6) { return; }
    throw invalid_input{{.code = "fit.weight",
                         .field = fmt::format("weights.{}", name),
                         .value = fmt::format("{:g}", weight),
                         .bound = "0 to 1000000",
                         .problem = fmt::format("{:g} is no price of a move", weight),
                         .remedy = "give 0 for what costs nothing; only proportions count"}};
}

}  // namespace

void check_options(fit_options const& options) {
    fit_weights const& w = options.weights;
    require_weight(w.shift_day, "shift_day");
    require_weight(w.place, "place");
    require_weight(w.early_day, "early_day");
    require_weight(w.container, "container");
    require_weight(w.split, "split");
    require_weight(w.left_out, "left_out");
    require_weight(w.left_out_tray, "left_out_tray");
    if (options.most_shift < 0 || options.most_shift > 60) {
        throw invalid_input{
            {.code = "fit.most_shift",
             .field = "most_shift",
             .value = fmt::format("{}", options.most_shift),
             .bound = "0 to 60",
             .unit = "days",
             .problem = fmt::format("a target cannot give way by {} days", options.most_shift),
             .remedy = "give the most days that it may, 0 for none"}};
    }
    if (options.seconds && !(*options.seconds >= 0.0)) {
        throw invalid_input{{.code = "fit.seconds",
                             .field = "seconds",
                             .value = fmt::format("{:g}", *options.seconds),
                             .bound = "0 or more",
                             .unit = "s",
                             .problem = fmt::format("{:g} seconds is no limit", *options.seconds),
                             .remedy = "give the most time, or leave it out"}};
    }
}

}  // namespace epicotyl::detail
