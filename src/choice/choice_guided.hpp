// A choice made cheaper by choosing a few items anew, again and again: see choice.hpp.
//
// Large neighbourhood search. One of the dear items, the more likely the dearer, must change; with
// it go some that stand where it could be cheaper, and a few others. The cheapest choice of these
// that keeps the rest (`choice_piece.hpp`) is taken where it costs less than now, or now and then a
// little more.
//
// Where that gains nothing for a while, the alternative that weighs most among those chosen is
// penalised: it counts as dearer from then on, so that the search has to try without it what it
// could not try by changes of a few items. It weighs what it costs more than the cheapest of its
// item, the less the more often it was penalised.
//
// An item may also stand nowhere, which costs more than anything else: this is how a choice that
// fits is found where none is known.
//
// Large neighbourhoods: Shaw, 1998; penalties: guided local search, Voudouris and Tsang, 1999; both
// from memory.
#ifndef EPICOTYL_SRC_CHOICE_CHOICE_GUIDED_HPP
#define EPICOTYL_SRC_CHOICE_CHOICE_GUIDED_HPP

#include <cstdint>
#include <functional>

#include "choice_improve.hpp"
#include "choice_rows.hpp"

namespace epicotyl::detail {

/// Improves the best for so much work, starting from it without any penalties. `work` counts; asks
/// `goes_on` before every change.
void search_guided(row_problem const& of, std::int64_t most_work, std::uint64_t seed,
                   best_choice& best, std::int64_t& work, std::function<bool()> const& goes_on);

}  // namespace epicotyl::detail

#endif
