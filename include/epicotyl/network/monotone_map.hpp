// epicotyl: monotone maps, the edges of a network of inequalities.
//
// A map takes a value of the earlier vertex to a bound for the later one, and never turns two
// values around: a <= b gives map(a) <= map(b). Values are integers of a chain lowest ... highest,
// in which `highest` may stand for "never". A map may give values outside the chain; they mean
// what they say (no value of the chain is that large, or every one is).
//
// An edge is also read backwards, and then it needs one of the map's two adjoints:
//
//     map.latest(y)    the greatest s of the chain with map(s) <= y; none: even the least is more
//     map.earliest(y)  the least s of the chain with map(s) >= y; none: even the greatest is less
//
// They are the upper and lower adjoints of a Galois connection: for every s and y of the chain
//
//     map(s) <= y  exactly when  s <= latest(y)      (never, when there is none)
//     map(s) >= y  exactly when  s >= earliest(y)    (never, when there is none)
//
// A map must be usable on the whole chain of its network. An adjoint may look beyond the chain: a
// `latest` below the lowest value or an `earliest` above the highest says the same as none. A map
// that knows its own range says so by a member `covers(lowest, highest)`; a network refuses one
// that falls short.
//
//     lag_map{14, 550}             x + 14, at most 550
//     table_map{0, {3, 3, 5, 9}}   3, 3, 5, 9 for the values 0, 1, 2, 3
//     any_map{...}                 any of them, behind one type
#ifndef EPICOTYL_NETWORK_MONOTONE_MAP_HPP
#define EPICOTYL_NETWORK_MONOTONE_MAP_HPP

#include <algorithm>
#include <concepts>
#include <cstddef>
#include <functional>
#include <limits>
#include <memory>
#include <optional>
#include <type_traits>
#include <utility>
#include <vector>

#include <epicotyl/detail/text.hpp>
#include <epicotyl/error.hpp>

namespace epicotyl {

/// A non-decreasing map of integers with both adjoints. That it never decreases cannot be checked
/// by a compiler; the maps of this header check it when they are made.
template <class Map>
concept monotone_map = std::copy_constructible<Map> && requires(Map const& map, int value) {
    { map(value) } -> std::convertible_to<int>;
    { map.latest(value) } -> std::convertible_to<std::optional<int>>;
    { map.earliest(value) } -> std::convertible_to<std::optional<int>>;
};

/// A monotone map that can tell whether it is usable on the whole of a chain.
template <class Map>
concept ranged_map = monotone_map<Map> && requires(Map const& map, int lowest, int highest) {
    { map.covers(lowest, highest) } -> std::convertible_to<bool>;
};

/// A fixed number of days later, at most `highest`, on the integers up to `highest`. Where
/// `highest` stands for "never", never stays never.
///
/// Lags are not negative: "y no earlier than 5 before x" is "x no later than 5 after y", and only
/// the second form says what becomes of it when y is never.
class lag_map {
public:
    /// Throws `invalid_input` when `days` is negative.
    lag_map(int days, int highest) : days_{days}, highest_{highest} {
        if (days < 0) {
            throw invalid_input{{.code = "network.negative_lag",
                                 .field = "lag",
                                 .value = detail::text(days),
                                 .bound = "0 or more",
                                 .unit = "days",
                                 .problem = detail::text("a lag of ", days, " is negative"),
                                 .remedy = "turn the edge around and give the lag without its "
                                           "sign"}};
        }
    }

    [[nodiscard]] int lag() const noexcept { return days_; }
    [[nodiscard]] int highest() const noexcept { return highest_; }

    [[nodiscard]] int operator()(int value) const noexcept {
        return static_cast<int>(std::min<long long>(static_cast<long long>(value) + days_,
                                                    static_cast<long long>(highest_)));
    }
    /// `highest` when y is that or more, since everything is at most that; else y - lag.
    [[nodiscard]] std::optional<int> latest(int y) const noexcept {
        if (y >= highest_) { return highest_; }
        return before(y);
    }
    /// None above `highest`; else y - lag.
    [[nodiscard]] std::optional<int> earliest(int y) const noexcept {
        if (y > highest_) { return std::nullopt; }
        return before(y);
    }
    [[nodiscard]] bool covers(int /*lowest*/, int highest) const noexcept {
        return highest <= highest_;
    }

    friend bool operator==(lag_map const&, lag_map const&) = default;

private:
    [[nodiscard]] int before(int y) const noexcept {
        constexpr long long least = std::numeric_limits<int>::min();
        return static_cast<int>(std::max(static_cast<long long>(y) - days_, least));
    }

    int days_;
    int highest_;
};

/// A table: the value for `first`, for `first + 1`, and so on. Adjoints by binary search.
class table_map {
public:
    /// Throws `invalid_input` when the table is empty or decreases anywhere.
    table_map(int first, std::vector<int> values) : first_{first}, values_{std::move(values)} {
        if (values_.empty()) {
            throw invalid_input{{.code = "network.empty_table",
                                 .field = "table",
                                 .bound = "1 or more",
                                 .unit = "values",
                                 .problem = "a table without values is no map",
                                 .remedy = "give one value for each value of the chain"}};
        }
        auto const drop = std::adjacent_find(values_.begin(), values_.end(), std::greater{});
        if (drop != values_.end()) {
            int const at = first_ + static_cast<int>(drop - values_.begin());
            throw invalid_input{
                {.code = "network.decreasing_table",
                 .field = "table",
                 .value = detail::text(drop[1]),
                 .bound = detail::text(drop[0], " or more"),
                 .problem = detail::text("the table falls from ", drop[0], " at ", at, " to ",
                                         drop[1], " at ", at + 1),
                 .remedy = "give values that never decrease; an amount that depends on its own "
                           "start is no monotone map"}};
        }
    }

    /// The least and the greatest value that the table has an entry for.
    [[nodiscard]] int first() const noexcept { return first_; }
    [[nodiscard]] int last() const noexcept {
        return first_ + static_cast<int>(values_.size()) - 1;
    }

    /// Defined for first() ... last() only.
    [[nodiscard]] int operator()(int value) const noexcept {
        return values_[static_cast<std::size_t>(value - first_)];
    }
    /// None when every entry is greater than y.
    [[nodiscard]] std::optional<int> latest(int y) const noexcept {
        auto const above = std::upper_bound(values_.begin(), values_.end(), y);
        if (above == values_.begin()) { return std::nullopt; }
        return first_ + static_cast<int>(above - values_.begin()) - 1;
    }
    /// None when every entry is less than y.
    [[nodiscard]] std::optional<int> earliest(int y) const noexcept {
        auto const reached = std::lower_bound(values_.begin(), values_.end(), y);
        if (reached == values_.end()) { return std::nullopt; }
        return first_ + static_cast<int>(reached - values_.begin());
    }
    /// True when every value of the chain has an entry; more entries do no harm.
    [[nodiscard]] bool covers(int lowest, int highest) const noexcept {
        return first_ <= lowest && highest <= last();
    }

    friend bool operator==(table_map const&, table_map const&) = default;

private:
    int first_;
    std::vector<int> values_;
};

/// The table of a function on lowest ... highest. Throws `invalid_input` when the function
/// decreases or the range is empty.
template <std::invocable<int> Function>
[[nodiscard]] table_map tabulate(int lowest, int highest, Function const& function) {
    std::vector<int> values;
    for (long long value = lowest; value <= highest; ++value) {
        values.push_back(function(static_cast<int>(value)));
    }
    return table_map{lowest, std::move(values)};
}

/// Any monotone map behind one type, for networks that mix them. Copies share the map, which does
/// not change.
class any_map {
public:
    template <class Map>
    requires(!std::same_as<std::remove_cvref_t<Map>, any_map>) &&
        monotone_map<std::remove_cvref_t<Map>> any_map(
            Map&& map)  // NOLINT(google-explicit-constructor): stands for the map it is given
        : held_{std::make_shared<model<std::remove_cvref_t<Map>> const>(std::forward<Map>(map))} {}

    [[nodiscard]] int operator()(int value) const { return held_->value(value); }
    [[nodiscard]] std::optional<int> latest(int y) const { return held_->latest(y); }
    [[nodiscard]] std::optional<int> earliest(int y) const { return held_->earliest(y); }
    /// As the map inside says; true when it does not say.
    [[nodiscard]] bool covers(int lowest, int highest) const {
        return held_->covers(lowest, highest);
    }

private:
    struct face {
        face() = default;
        face(face const&) = delete;
        face& operator=(face const&) = delete;
        virtual ~face() = default;
        [[nodiscard]] virtual int value(int x) const = 0;
        [[nodiscard]] virtual std::optional<int> latest(int y) const = 0;
        [[nodiscard]] virtual std::optional<int> earliest(int y) const = 0;
        [[nodiscard]] virtual bool covers(int lowest, int highest) const = 0;
    };

    template <class Map>
    struct model final : face {
        explicit model(Map map) : map_{std::move(map)} {}
        [[nodiscard]] int value(int x) const override { return map_(x); }
        [[nodiscard]] std::optional<int> latest(int y) const override { return map_.latest(y); }
        [[nodiscard]] std::optional<int> earliest(int y) const override { return map_.earliest(y); }
        [[nodiscard]] bool covers(int lowest, int highest) const override {
            if constexpr (ranged_map<Map>) {
                return map_.covers(lowest, highest);
            } else {
                return true;
            }
        }
        Map map_;
    };

    std::shared_ptr<face const> held_;
};

}  // namespace epicotyl

#endif
