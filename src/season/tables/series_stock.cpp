#include "series_stock.hpp"

#include <type_traits>
#include <variant>

namespace epicotyl::detail {

namespace {

/// True when two clocks run alike, whatever amounts they wait for.
bool counts_the_same(clock const& a, clock const& b) {
    if (a.gate() != b.gate() || a.what().index() != b.what().index()) { return false; }
    return std::visit(
        [&](auto const& of_a) {
            using kind = std::decay_t<decltype(of_a)>;
            auto of_b = std::get<kind>(b.what());
            if constexpr (std::is_same_v<kind, calendar_wait>) {
                return true;
            } else if constexpr (std::is_same_v<kind, days_between_wait>) {
                of_b.days = of_a.days;
                return of_a == of_b;
            } else if constexpr (std::is_same_v<kind, clock_group>) {
                return of_a == of_b;
            } else {
                of_b.amount = of_a.amount;
                return of_a == of_b;
            }
        },
        a.what());
}

}  // namespace

bool operator==(sums_key const& a, sums_key const& b) {
    return a.in == b.in && a.hours == b.hours && counts_the_same(a.counted, b.counted);
}

}  // namespace epicotyl::detail
