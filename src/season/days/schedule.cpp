#include <epicotyl/plan/plan.hpp>
#include <epicotyl/season/days/schedule.hpp>
#include <epicotyl/weather/climate.hpp>

#include "notes.hpp"
#include "raised_plan.hpp"
#include "waiting_order.hpp"
#include "walk_all_years.hpp"

namespace epicotyl {

namespace detail {

namespace {

class scheduler : raised_plan {
public:
    scheduler(calendar_data& data, season_model& model, chosen_springs const& springs)
        : raised_plan{data, model, springs} {}

    void run() {
        find_order();
        expect_days();
        plan_all();
        for (int i : order_) {
            if (!known(i).resolved) { continue; }
            data_.order.push_back(i);
            if (!alike_.taken_from(i)) {
                data_.walks.push_back(walker_.batch(i, known(i).sowing, walker_.wait_day(i)));
            }
            plan_days(i);
            count_claim(i);
        }
        data_.group_of = groups_by_links(model_.planned);
        arrange_walks(data_);
        for (int i = 0; i < static_cast<int>(batches_.size()); ++i) {
            if (!known(i).resolved) { data_.days.forget(i); }
        }
        // Tries follow a wave only where somebody with days waits for it; a calendar knows all.
        for (awaited const& one : model_.awaited_all) {
            if (one.is_wave()) { walker_.gather(data_.days, one, 0, model_.years); }
        }
        for (std::vector<obstacle>& found : obstacles_) {
            data_.unresolved.insert(data_.unresolved.end(), found.begin(), found.end());
        }
        note_what_else(data_, walker_);
    }
};

}  // namespace

}  // namespace detail

calendar schedule(plan const& of, climate const& under, std::optional<reliability> wanted) {
    auto const model = std::make_shared<detail::season_model>(of, under);
    auto data = std::make_shared<detail::calendar_data>(
        detail::calendar_data{.model = model, .wanted = wanted.value_or(of.parts().reliability)});
    detail::chosen_springs const springs = detail::find_springs(*model, data->wanted);
    detail::scheduler{*data, *model, springs}.run();
    return calendar{std::move(data)};
}

}  // namespace epicotyl
