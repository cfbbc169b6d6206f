#include "harvest_cover.hpp"

#include <algorithm>
#include <bit>
#include <cstdint>
#include <utility>

namespace epicotyl::detail {

namespace {

/// A set of years, by their number among those with several runs.
class year_set {
public:
    explicit year_set(std::size_t count) : words_((count + 63) / 64, 0) {}

    void add(std::size_t year) { words_[year / 64] |= std::uint64_t{1} << (year % 64); }
    void remove(std::size_t year) { words_[year / 64] &= ~(std::uint64_t{1} << (year % 64)); }
    [[nodiscard]] bool has(std::size_t year) const {
        return (words_[year / 64] >> (year % 64) & 1) != 0;
    }
    /// How many of these the other has not.
    [[nodiscard]] int count_beyond(year_set const& other) const {
        int count = 0;
        for (std::size_t k = 0; k < words_.size(); ++k) {
            count += std::popcount(words_[k] & ~other.words_[k]);
        }
        return count;
    }

private:
    std::vector<std::uint64_t> words_;
};

/// Sowings chosen so far, the last of them on the day that the choice is kept with.
struct partial_choice {
    std::vector<int> sowings;  ///< indices of days, ascending
    int served;                ///< years
    year_set open;             ///< of these, those that a sowing to come could serve as well
};

/// True when the sowings of `a`, from the last back, are as late as those of `b` or later.
bool is_as_late(partial_choice const& a, partial_choice const& b) {
    return !std::lexicographical_compare(a.sowings.rbegin(), a.sowings.rend(), b.sowings.rbegin(),
                                         b.sowings.rend());
}

/// True when whatever is chosen after both, `a` ends as well as `b` or better.
bool makes_needless(partial_choice const& a, partial_choice const& b) {
    int const sure = a.served - a.open.count_beyond(b.open);
    return sure > b.served || (sure == b.served && is_as_late(a, b));
}

void keep(std::vector<partial_choice>& all, partial_choice made) {
    auto const is_needless = [&](partial_choice const& one) {
        return makes_needless(one, made);
    };
    if (std::any_of(all.begin(), all.end(), is_needless)) { return; }
    std::erase_if(all, [&](partial_choice const& one) { return makes_needless(made, one); });
    all.push_back(std::move(made));
}

/// Adds sowings to choices, day by day.
class cover_chooser {
public:
    explicit cover_chooser(std::vector<serving_runs_of_year> const& runs) : runs_{runs} {
        // A sowing can be put off to the last day of the run that ends first of those it lies in,
        // and serves the same years; so only last days are tried.
        for (serving_runs_of_year const& year : runs_) {
            for (serving_run const& run : year) { days_.push_back(run.last); }
            number_.push_back(several_);
            several_ += year.size() > 1 ? 1 : 0;
        }
        std::sort(days_.begin(), days_.end());
        days_.erase(std::unique(days_.begin(), days_.end()), days_.end());
    }

    [[nodiscard]] std::vector<int> const& days() const { return days_; }
    [[nodiscard]] partial_choice none() const { return {{}, 0, year_set{several_}}; }

    /// A choice and one sowing more.
    [[nodiscard]] partial_choice with(partial_choice const& before, int index) const {
        int const day = days_[at(index)];
        int const last = before.sowings.empty() ? -1 : days_[at(before.sowings.back())];
        partial_choice made = before;
        made.sowings.push_back(index);
        for (std::size_t y = 0; y < runs_.size(); ++y) {
            serving_runs_of_year const& year = runs_[y];
            bool const has_several = year.size() > 1;
            auto const run = std::find_if(year.begin(), year.end(),
                                          [day](serving_run const& one) { return one.holds(day); });
            // A sowing before it that lies in the run has served it already; an earlier one need
            // not be looked for.
            bool const is_new = run != year.end() && run->first > last &&
                                !(has_several && before.open.has(number_[y]));
            made.served += is_new ? 1 : 0;
            if (!has_several) { continue; }
            if (is_new) { made.open.add(number_[y]); }
            if (year.back().last <= day) { made.open.remove(number_[y]); }
        }
        return made;
    }

private:
    std::vector<serving_runs_of_year> const& runs_;
    std::vector<int> days_;
    std::vector<std::size_t> number_;  ///< of each year, among those with several runs
    std::size_t several_ = 0;
};

/// The one that serves most years, of equal ones the latest.
std::optional<partial_choice> best_of(std::vector<std::vector<partial_choice>> const& choices) {
    std::optional<partial_choice> best;
    for (std::vector<partial_choice> const& all : choices) {
        for (partial_choice const& one : all) {
            bool const is_better = !best || one.served > best->served ||
                                   (one.served == best->served && is_as_late(one, *best));
            if (is_better) { best = one; }
        }
    }
    return best;
}

}  // namespace

bool is_served(serving_runs_of_year const& runs, int sowing) {
    return std::any_of(runs.begin(), runs.end(),
                       [sowing](serving_run const& run) { return run.holds(sowing); });
}

std::vector<serving_runs_of_year> serving_runs(season_model const& model, path_walker const& walker,
                                               days_table& days, int succession, int first_sowing) {
    std::vector<serving_runs_of_year> runs(at(model.years));
    for (int s = first_sowing; s <= model.season_days; ++s) {
        walker.walk_all(days, succession, s, 0);
        for (int y = 0; y < model.years; ++y) {
            if (!walker.is_good(days, succession, y)) { continue; }
            serving_runs_of_year& year = runs[at(y)];
            if (year.empty() || year.back().last + 1 < s) { year.push_back({s, s}); }
            year.back().last = s;
        }
    }
    return runs;
}

sowing_choice fewest_covering(std::vector<serving_runs_of_year> const& runs, int need) {
    cover_chooser const add{runs};
    int const count = static_cast<int>(add.days().size());
    // Choices of so many sowings, by the last of them. Of those before it only that one matters,
    // and the years that an earlier run serves: a run that holds an earlier sowing but not the last
    // ends too soon for those to come.
    std::vector<std::vector<partial_choice>> chosen(1, {add.none()});
    sowing_choice choice;
    std::optional<partial_choice> found;
    while (choice.good < need && static_cast<int>(choice.most_good.size()) < count) {
        std::vector<std::vector<partial_choice>> next(at(count));
        for (std::vector<partial_choice> const& all : chosen) {
            for (partial_choice const& before : all) {
                int const from = before.sowings.empty() ? 0 : before.sowings.back() + 1;
                for (int i = from; i < count; ++i) { keep(next[at(i)], add.with(before, i)); }
            }
        }
        std::optional<partial_choice> best = best_of(next);
        if (!best || best->served <= choice.good) { break; }
        choice.good = best->served;
        choice.most_good.push_back(best->served);
        found = std::move(best);
        chosen = std::move(next);
    }
    if (!found) { return choice; }
    for (int const index : found->sowings) { choice.sowings.push_back(add.days()[at(index)]); }
    return choice;
}

}  // namespace epicotyl::detail
