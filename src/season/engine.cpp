#include "engine.hpp"

#include <algorithm>

namespace epicotyl::detail {

days_table make_days_table(plan const& of, int years) {
    days_table table{.years = years};
    int rows = 0;
    for (resolved_succession const& one : of.successions()) {
        table.first_row.push_back(rows);
        rows += event_count(*one.grown);
    }
    table.first_row.push_back(rows);
    table.day.assign(at(rows) * at(years), static_cast<std::int16_t>(never));
    table.ready = table.day;
    return table;
}

int kth_smallest(std::span<std::int16_t const> days, int k) {
    std::vector<std::int16_t> sorted(days.begin(), days.end());
    auto const kth = sorted.begin() + (k - 1);
    std::nth_element(sorted.begin(), kth, sorted.end());
    return *kth;
}

int quantile_of(std::span<std::int16_t const> days, double q) {
    return kth_smallest(days, needed_years(q, static_cast<int>(days.size())));
}

chain_walker::chain_walker(season_model const& model,
                           std::vector<succession_days> const& successions)
    : model_{model}, successions_{successions}, incoming_(model.planned.successions().size()) {
    std::vector<resolved_link> const& links = model.planned.links();
    for (int i = 0; i < static_cast<int>(links.size()); ++i) {
        event_of const& then = links[at(i)].then;
        incoming_[at(then.succession)].push_back({then.event, i});
    }
}

int chain_walker::deciding_day(days_table const& days, resolved_link const& link, int year) {
    int decides = link.first_decides ? never : 0;
    for (event_of const& first : link.firsts) {
        int const came = days.at(first.succession, first.event, year);
        decides = link.first_decides ? std::min(decides, came) : std::max(decides, came);
    }
    return decides;
}

int chain_walker::link_day(days_table const& days, int succession, int event, int year) const {
    int latest = 0;
    for (incoming_link const& in : incoming_[at(succession)]) {
        if (in.event != event) { continue; }
        resolved_link const& link = model_.planned.links()[at(in.link)];
        ready_map const& after = model_.ready[at(model_.link_ready[at(in.link)])][at(year)];
        latest = std::max(latest, after(deciding_day(days, link, year)));
    }
    return latest;
}

void chain_walker::walk(days_table& days, int succession, int year, int sowing,
                        int wait_for) const {
    succession_days const& known = successions_[at(succession)];
    int const target = model_.planned.successions()[at(succession)].target_event;
    int const last = static_cast<int>(known.bounds.size()) - 1;
    bool const linked = has_links(succession);
    int ready = sowing;
    for (int e = 0; e <= last; ++e) {
        int came = std::max(ready, known.bounds[at(e)].not_before);
        if (linked) { came = std::max(came, link_day(days, succession, e, year)); }
        if (e == target) { came = std::max(came, wait_for); }
        if (came > model_.season_days) { came = never; }
        std::size_t const cell = days.cell(succession, e, year);
        days.day[cell] = static_cast<std::int16_t>(came);
        days.ready[cell] = static_cast<std::int16_t>(std::min(ready, never));
        if (e < last) { ready = model_.stage_ready(succession, e, year)(came); }
    }
}

void chain_walker::walk_all(days_table& days, int succession, int sowing, int wait_for) const {
    for (int y = 0; y < model_.years; ++y) { walk(days, succession, y, sowing, wait_for); }
}

bool chain_walker::is_good(days_table const& days, int succession, int year) const {
    succession_days const& known = successions_[at(succession)];
    resolved_succession const& one = model_.planned.successions()[at(succession)];
    for (int e = 0; e <= one.target_event; ++e) {
        if (days.at(succession, e, year) > known.bounds[at(e)].not_after) { return false; }
    }
    int const came = days.at(succession, one.target_event, year);
    if (auto const* harvest = std::get_if<in_harvest_rule>(&one.target_rule)) {
        season const& window = model_.planned.window();
        int const clear = event_count(*one.grown) - 1;
        return came <= window.offset_of(harvest->from) &&
               days.at(succession, clear, year) > window.offset_of(harvest->until);
    }
    return came <= known.target_day;
}

int chain_walker::good_years(days_table const& days, int succession) const {
    int count = 0;
    for (int y = 0; y < model_.years; ++y) { count += is_good(days, succession, y) ? 1 : 0; }
    return count;
}

int chain_walker::wait_day(int succession) const {
    resolved_succession const& one = model_.planned.successions()[at(succession)];
    return is_outcome(*one.grown, one.target_event) ? 0 : successions_[at(succession)].target_day;
}

}  // namespace epicotyl::detail
