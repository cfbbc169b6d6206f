// What a calendar says beside its days: counts of linked groups and of `within`, stages that are
// damaged more often than the default bound allows, and warnings.
#ifndef EPICOTYL_SRC_SEASON_DAYS_NOTES_HPP
#define EPICOTYL_SRC_SEASON_DAYS_NOTES_HPP

#include "calendar_data.hpp"

namespace epicotyl::detail {

/// Adds the notes to a calendar whose days are settled.
void note_what_else(calendar_data& data, path_walker const& walker);

/// Why a stage is damaged more often than the default bound allows.
[[nodiscard]] reason why_beyond_risk(calendar_data const& data, int succession,
                                     risk_excess const& excess);

}  // namespace epicotyl::detail

#endif
