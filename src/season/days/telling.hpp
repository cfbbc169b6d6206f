// What is told of a day that several requirements hold: the first in full, the others besides.
#ifndef EPICOTYL_SRC_SEASON_DAYS_TELLING_HPP
#define EPICOTYL_SRC_SEASON_DAYS_TELLING_HPP

#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "held_by.hpp"

namespace epicotyl::detail {

/// What is said of one of several: as the first of them, or besides others.
struct clause {
    reason why = {};
    std::string first = {};
    std::string besides = {};
    bool is_told = true;  ///< it says all that is to be said of what holds the day
};

/// What is told of a day by all that holds it.
struct telling {
    reason why = {};
    std::string text = {};
    std::vector<holder> told = {};

    void add(holder const& of, clause what) {
        if (!text.empty()) {
            text += fmt::format("; and besides, {}", what.besides);
            return;
        }
        why = std::move(what.why);
        text = std::move(what.first);
        if (what.is_told) { told.push_back(of); }
    }
};

}  // namespace epicotyl::detail

#endif
