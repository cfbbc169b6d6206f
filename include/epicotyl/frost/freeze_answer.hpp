// epicotyl: the day for a chance, or the reason why there is none.
//
// `freeze_risk` answers with a day or with none. A table for people must say which none it is:
//
//   dated            the day
//   no_frost         too few years have such a night: "none"
//   frost_all_year   in so many years frost does not leave off long enough for a season: "all year"
//   beyond_record    the years do not reach so far: 30 years do not speak of 1 in 100
//
// Official tables print codes in such places; here they are values of their own, so that nobody
// takes 1 January for a frost date.
//
// **All year round** is a count too. A year has frost all year round when fewer than 30 days lie
// between the last freeze of its cold-to-warm half and the first freeze after it (`shortest_season`
// is a choice of this library; no source). Where the share of such years is at least the chance
// asked for, a day that is safe but for that chance does not exist, however tidy the dates on
// either side of midsummer look.
#ifndef EPICOTYL_FROST_FREEZE_ANSWER_HPP
#define EPICOTYL_FROST_FREEZE_ANSWER_HPP

#include <optional>
#include <string>
#include <string_view>

#include <epicotyl/days.hpp>
#include <epicotyl/frost/chance_band.hpp>
#include <epicotyl/frost/freeze_risk.hpp>
#include <epicotyl/units.hpp>

namespace epicotyl {

/// Fewer frost-free days than this between two freezes are no season [days].
inline constexpr int shortest_season = 30;

enum class freeze_state { dated, no_frost, frost_all_year, beyond_record };

/// "dated", "none", "all year", "–".
[[nodiscard]] constexpr std::string_view to_string(freeze_state state) noexcept {
    switch (state) {
        case freeze_state::dated:
            return "dated";
        case freeze_state::no_frost:
            return "none";
        case freeze_state::frost_all_year:
            return "all year";
        case freeze_state::beyond_record:
            break;
    }
    return "–";
}

/// A day, or a number of days, or why there is none.
struct freeze_answer {
    freeze_state state = freeze_state::no_frost;
    /// Of a date: days from the first day of its half. Of a season: its length [days]. 0 unless
    /// dated.
    double days = 0.0;

    [[nodiscard]] bool is_dated() const noexcept { return state == freeze_state::dated; }
    friend bool operator==(freeze_answer const&, freeze_answer const&) = default;
};

// In what follows an answer is `beyond_record` when not one half (or pair of halves) of the kind
// asked for could be used, where `freeze_risk` throws.

/// The day on or after which a freeze of the cold-to-warm half comes with this chance.
[[nodiscard]] freeze_answer last_freeze_answer(freeze_risk const& risk, chance chance_later);

/// The day on or before which a freeze of the warm-to-cold half comes with this chance.
[[nodiscard]] freeze_answer first_freeze_answer(freeze_risk const& risk, chance chance_earlier);

/// The frost-free days that are reached or exceeded with this chance. `no_frost`: so many years
/// lack one of the two freezes. `frost_all_year`: less than half a day.
[[nodiscard]] freeze_answer frost_free_answer(freeze_risk const& risk, chance chance_longer);

/// The years whose last freeze came on an offset or later, with the band of their share. Counted
/// in the years themselves, whatever the estimator. Throws `invalid_input` when no cold-to-warm
/// half was used, and unless the offset is finite.
[[nodiscard]] counted_chance counted_later(freeze_risk const& risk, double offset,
                                           band_confidence level = band_confidence{0.95});

/// The years whose first freeze came on an offset or earlier, likewise.
[[nodiscard]] counted_chance counted_earlier(freeze_risk const& risk, double offset,
                                             band_confidence level = band_confidence{0.95});

}  // namespace epicotyl

#ifdef EPICOTYL_INLINE
#include <epicotyl/frost/impl/freeze_answer.ipp>
#endif

#endif
