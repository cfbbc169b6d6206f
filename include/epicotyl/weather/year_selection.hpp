// epicotyl: which years of a record speak.
//
// A long record is not better than a recent one when the climate moves: by default the latest 30
// years are asked, the length of an official normal. A caller may ask for another number, for the
// years between two (both included), or for all of them.
//
//     year_selection::latest(20)
//     year_selection::between(1981, 2010)
//     year_selection::all()
#ifndef EPICOTYL_WEATHER_YEAR_SELECTION_HPP
#define EPICOTYL_WEATHER_YEAR_SELECTION_HPP

#include <algorithm>
#include <string>
#include <vector>

#include <epicotyl/detail/text.hpp>
#include <epicotyl/error.hpp>

namespace epicotyl {

/// Number of season years asked when none is given: the length of a climatological normal.
inline constexpr int usual_years = 30;
/// Fewer season years than this are used with a warning.
inline constexpr int few_years = 10;

class year_selection {
public:
    /// The latest 30 years.
    year_selection() = default;

    /// The latest `count` years that the record can serve. Throws `invalid_input` unless
    /// 1 <= count <= 9999.
    [[nodiscard]] static year_selection latest(int count) {
        if (count < 1 || count > 9999) {
            throw invalid_input{{.code = "years.count",
                                 .field = "years",
                                 .value = detail::text(count),
                                 .bound = "1 to 9999",
                                 .unit = "years",
                                 .problem = detail::text(count, " is no number of years"),
                                 .remedy = "30 years are usual"}};
        }
        return year_selection{kind::latest, count, 0};
    }

    /// The years `first` to `last`, both included. Throws `invalid_input` unless
    /// 1 <= first <= last <= 9999.
    [[nodiscard]] static year_selection between(int first, int last) {
        if (first < 1 || last > 9999 || first > last) {
            throw invalid_input{
                {.code = "years.pair",
                 .field = "years",
                 .value = detail::text(first, " to ", last),
                 .bound = "1 to 9999, the earlier first",
                 .problem = detail::text(first, " to ", last, " is no run of years"),
                 .remedy = "give the first and the last year, such as 1991 and 2020"}};
        }
        return year_selection{kind::between, first, last};
    }

    /// Every year that the record can serve.
    [[nodiscard]] static year_selection all() noexcept { return year_selection{kind::all, 0, 0}; }

    /// True when the caller named the years, so that one the record cannot serve is worth a word.
    [[nodiscard]] bool names_years() const noexcept { return kind_ == kind::between; }

    /// The years to look at, ascending, when a record can serve `first` to `last` (both included;
    /// none when first > last). Years named by the caller come whether it can or not.
    [[nodiscard]] std::vector<int> among(int first, int last) const {
        if (kind_ == kind::between) {
            first = a_;
            last = b_;
        } else if (kind_ == kind::latest) {
            first = std::max(first, last - a_ + 1);
        }
        std::vector<int> years;
        for (int year = first; year <= last; ++year) { years.push_back(year); }
        return years;
    }

    /// "the latest 30 years", "the years 1981 to 2010", "all years".
    [[nodiscard]] std::string to_string() const {
        switch (kind_) {
            case kind::latest:
                return a_ == 1 ? "the latest year" : detail::text("the latest ", a_, " years");
            case kind::between:
                return a_ == b_ ? detail::text("the year ", a_)
                                : detail::text("the years ", a_, " to ", b_);
            case kind::all:
                break;
        }
        return "all years";
    }

    friend bool operator==(year_selection const&, year_selection const&) = default;

private:
    enum class kind { latest, between, all };

    year_selection(kind which, int a, int b) noexcept : kind_{which}, a_{a}, b_{b} {}

    kind kind_ = kind::latest;
    int a_ = usual_years;
    int b_ = 0;
};

}  // namespace epicotyl

#endif
