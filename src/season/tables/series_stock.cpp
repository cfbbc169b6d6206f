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
            auto of_b = std::get<std::decay_t<decltype(of_a)>>(b.what());
            if constexpr (simple_wait<decltype(of_b)>) { of_b.set_needed(of_a.needed()); }
            return of_a == of_b;
        },
        a.what());
}

}  // namespace

bool operator==(sums_key const& a, sums_key const& b) {
    return a.in == b.in && a.hours == b.hours && counts_the_same(a.counted, b.counted);
}

}  // namespace epicotyl::detail
