// epicotyl: one function for each alternative of a variant.
//
// A set of lambdas for `std::visit`, as it is usually written. The compiler refuses one that leaves
// an alternative out, so that a new clock or rule is asked for wherever it is needed.
//
//     std::visit(overloaded{[](clock_group const& group) { ... },
//                           [](simple_wait auto const& wait) { ... }},
//                of.what());
#ifndef EPICOTYL_DETAIL_OVERLOADED_HPP
#define EPICOTYL_DETAIL_OVERLOADED_HPP

#include <type_traits>
#include <variant>

namespace epicotyl::detail {

template <class... Functions>
struct overloaded : Functions... {
    using Functions::operator()...;
};
template <class... Functions>
overloaded(Functions...) -> overloaded<Functions...>;

/// Calls `visit` with the type of each alternative, in the order of the variant.
template <class... Alternatives, class Visit>
void each_alternative(std::type_identity<std::variant<Alternatives...>>, Visit&& visit) {
    (visit(std::type_identity<Alternatives>{}), ...);
}

}  // namespace epicotyl::detail

#endif
