// epicotyl: a sheet of freeze dates, by threshold and chance.
//
// What an extension office hands out: for every threshold the day for 1 year in 10, 2 in 10 ... 9
// in 10, of the last freeze, of the first, and the frost-free days between them. The layout, its
// thresholds and its chances are those of the freeze/frost probability tables of the U.S. Climate
// Normals (NOAA, National Centers for Environmental Information [ncei2011]); the sheet credits
// them, and its days are worked out from the record it was made of. The direction stands on the
// sheet in words, because half of all mistakes with such tables are made there:
//
//     Marlpit: nights at or below a threshold, 1981 – 2010, 30 years, fitted
//
//     Last freeze: years in 10 with a freeze on or after the day
//                  1 in 10   2 in 10   3 in 10 ...
//         2.2 °C    20 May    15 May    12 May
//         0.0 °C     4 May    29 Apr    25 Apr
//
// Where there is no day, the cell says which none it is (frost/freeze_answer.hpp). Dates are those
// of a common year, rounded to the nearest day. The six customary thresholds are whole degrees
// Fahrenheit, 36, 32, 28, 24, 20 and 16, as they stand in records kept in tenths of a degree
// Celsius: a night read as 28 °F is stored as -2.2 °C and must count as one.
#ifndef EPICOTYL_FROST_FREEZE_TABLE_HPP
#define EPICOTYL_FROST_FREEZE_TABLE_HPP

#include <string>
#include <vector>

#include <epicotyl/frost/freeze_answer.hpp>
#include <epicotyl/frost/freeze_risk.hpp>
#include <epicotyl/units.hpp>
#include <epicotyl/weather/daily_csv.hpp>
#include <epicotyl/weather/daily_record.hpp>

namespace epicotyl {

/// 2.2, 0, -2.2, -4.4, -6.7 and -8.9 °C.
[[nodiscard]] std::vector<temperature> customary_thresholds();

/// 0.1, 0.2 ... 0.9.
[[nodiscard]] std::vector<chance> customary_chances();

struct freeze_table_options {
    std::vector<temperature> thresholds = customary_thresholds();
    std::vector<chance> chances = customary_chances();
    freeze_estimator estimator = freeze_estimator::fitted;
    freeze_options freezes = {};

    friend bool operator==(freeze_table_options const&, freeze_table_options const&) = default;
};

/// One threshold. The answers stand in the order of the table's chances.
struct freeze_table_row {
    freeze_risk risk;                            ///< what the answers were taken from
    std::vector<freeze_answer> last = {};        ///< chance of one on that day or later
    std::vector<freeze_answer> first = {};       ///< chance of one on that day or earlier
    std::vector<freeze_answer> frost_free = {};  ///< chance of so many days or more

    friend bool operator==(freeze_table_row const&, freeze_table_row const&) = default;
};

class freeze_table {
public:
    /// Throws `invalid_input` as `freeze_risk` does, and when no threshold or no chance is given.
    explicit freeze_table(daily_record const& record, freeze_table_options options = {});

    /// In the order of the thresholds given.
    [[nodiscard]] std::vector<freeze_table_row> const& rows() const noexcept { return rows_; }
    [[nodiscard]] std::vector<chance> const& chances() const noexcept { return options_.chances; }
    [[nodiscard]] freeze_table_options const& options() const noexcept { return options_; }

    friend bool operator==(freeze_table const&, freeze_table const&) = default;

private:
    freeze_table_options options_;
    std::vector<freeze_table_row> rows_;
};

/// The sheet, thresholds in the unit asked for and dates in its order: more than nine chances
/// follow in further blocks. Ends with a line break.
[[nodiscard]] std::string to_text(freeze_table const& table,
                                  temperature_unit unit = temperature_unit::celsius);

}  // namespace epicotyl

#ifdef EPICOTYL_INLINE
#include <epicotyl/frost/impl/freeze_table.ipp>
#endif

#endif
