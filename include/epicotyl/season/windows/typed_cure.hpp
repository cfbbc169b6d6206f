// epicotyl: cures as they are typed into a plan.
//
// An obstacle of a calendar says what stands in the way of a succession, and in its `cure` what
// would help, in words. Here the same is data: which key of the plan is to say what. Each of them
// alone, but for `first` and `advice`, gives the succession its days when it is typed and the plan
// is scheduled again; that is tried before it is said, a longer season in the season years that it
// would meet. A day is the nearest that does: a day earlier (of a `not_before`, a day later) does
// not.
//
//     calendar const planned = schedule(plan, climate);
//     for (obstacle const& one : planned.unresolved()) {
//         for (typed_cure const& help : typed_cures(planned, one.succession)) {
//             help.sentence;                  // "aim for 20 May or later"
//             help.code, help.when;           // "target", 20 May
//         }
//     }
//
// What is typed, by code, of the succession as it is written (a `repeat` is one):
//
//     target        its target `when`: `on` or `by` as it was, any other rule becomes `from`
//     target_sooner the same, earlier than it was asked: the latest such day
//     not_before    no earlier than `when` for `event`, in place of what bounds it there
//     not_after     no later than `when` for `event`
//     reliability   its own reliability, `number`
//     risk          its own risk of the default bound, `number`
//     no_risk       risk = false
//     target_risk   another share in the `risk` of its target, `number`
//     season_days   a season of `number` days
//     season_start  a season from `when` on, `number` days long: it ends when it did
//     requirement   a requirement gives way, see `why_unresolved` for its data
//     first         another succession is to be helped first; it is the one named
//     advice        what no single number would do; not tried
//
// None of those that it hangs together with loses its days by it; by another season, which all of
// the plan meets, no batch of the plan does.
#ifndef EPICOTYL_SEASON_WINDOWS_TYPED_CURE_HPP
#define EPICOTYL_SEASON_WINDOWS_TYPED_CURE_HPP

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <epicotyl/days.hpp>
#include <epicotyl/fwd.hpp>

namespace epicotyl {

/// What would give a succession its days, typed into the plan.
struct typed_cure {
    std::string code = {};        ///< see above
    std::string succession = {};  ///< name of the succession as it is written, or of its crop
    std::string event = {};       ///< of a bound
    std::optional<day> when = {};
    double number = 0.0;        ///< a share, or days
    bool is_or_later = false;   ///< every later day of the season does as well
    std::string sentence = {};  ///< "allow clear until 19 Jun"

    friend bool operator==(typed_cure const&, typed_cure const&) = default;
};

/// The cures of a succession without days, the nearest first; none where it has days, or where
/// nothing that is tried would give it some. They are sought when they, or the obstacles' texts,
/// are first asked for. Throws `invalid_input` for a name the plan does not have.
[[nodiscard]] std::vector<typed_cure> typed_cures(calendar const& of, std::string_view succession);

}  // namespace epicotyl

#endif
