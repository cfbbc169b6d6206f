// Who has the days of another.
//
// Most successions of a large plan stand alone: they neither wait nor are waited for. Those of one
// path that ask for the same day, in as many years, within the same bounds, have the same days:
// only the first of them is worked out, and these have its rows. Of each path and day asked for,
// the last that was worked out is remembered.
#ifndef EPICOTYL_SRC_SEASON_DAYS_ALIKE_HPP
#define EPICOTYL_SRC_SEASON_DAYS_ALIKE_HPP

#include <optional>
#include <vector>

#include "../tables/season_model.hpp"

namespace epicotyl::detail {

class alike_successions {
public:
    explicit alike_successions(season_model const& model)
        : model_{model},
          worked_out_(model.paths.size()),
          like_(model.planned.successions().size(), nobody) {}

    /// The last of the same path that was worked out for a day asked for; it may differ otherwise.
    [[nodiscard]] std::optional<int> candidate(int succession, int asked) const {
        std::vector<int> const& of_path = worked_out_[at(model_.path_of[at(succession)])];
        if (of_path.empty() || !is_within(asked) || of_path[at(asked)] == nobody) { return {}; }
        return of_path[at(asked)];
    }
    void remember(int succession, int asked) {
        if (!is_within(asked)) { return; }
        std::vector<int>& of_path = worked_out_[at(model_.path_of[at(succession)])];
        if (of_path.empty()) { of_path.resize(at(model_.season_days) + 1, nobody); }
        of_path[at(asked)] = succession;
    }

    /// Whose days a succession has taken, of those worked out before it.
    [[nodiscard]] std::optional<int> taken_from(int succession) const {
        int const other = like_[at(succession)];
        return other == nobody ? std::nullopt : std::optional{other};
    }
    void take(int succession, int from) { like_[at(succession)] = from; }
    void take_none(int succession) { like_[at(succession)] = nobody; }

private:
    static constexpr int nobody = -1;

    [[nodiscard]] bool is_within(int asked) const {
        return asked >= 0 && asked <= model_.season_days;
    }

    season_model const& model_;
    std::vector<std::vector<int>> worked_out_;  ///< [path][day asked for]
    std::vector<int> like_;
};

}  // namespace epicotyl::detail

#endif
