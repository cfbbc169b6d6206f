#include "walk_all_years.hpp"

#include <algorithm>
#include <numeric>

#include "in_parallel.hpp"

namespace epicotyl::detail {

namespace {

/// Successions in runs that do not wait for one another.
struct separate_runs {
    std::vector<int> order = {};           ///< indices into the calendar's order
    std::vector<std::size_t> begins = {};  ///< of each run; one more at the end
};

/// Those that stand alone, by their chains: what looks into the same tables goes together. Then the
/// linked ones, each run in the order of the calendar.
separate_runs runs_of(season_model const& model, calendar_data const& planned) {
    std::vector<char> is_linked(model.planned.successions().size(), 0);
    for (resolved_link const& link : model.planned.links()) {
        is_linked[at(link.then.succession)] = 1;
        for (event_of const& first : link.firsts) { is_linked[at(first.succession)] = 1; }
    }
    separate_runs found;
    found.order.reserve(planned.order.size());
    int const count = static_cast<int>(planned.order.size());
    // By counting: the places of each chain follow those of the chain before.
    std::vector<int> place(model.chains.size() + 1, 0);
    auto const alone_in_chain = [&](int k) {
        return is_linked[at(planned.order[at(k)])] ? -1 : planned.walks[at(k)].chain;
    };
    for (int k = 0; k < count; ++k) {
        if (int const chain = alone_in_chain(k); chain >= 0) { ++place[at(chain + 1)]; }
    }
    std::partial_sum(place.begin(), place.end(), place.begin());
    found.order.resize(at(place.back()));
    for (int k = 0; k < count; ++k) {
        if (int const chain = alone_in_chain(k); chain >= 0) {
            found.order[at(place[at(chain)]++)] = k;
        }
    }
    std::size_t const alone = found.order.size();
    found.begins.resize(alone);
    std::iota(found.begins.begin(), found.begins.end(), std::size_t{0});

    std::vector<int> leader(model.planned.successions().size());
    std::iota(leader.begin(), leader.end(), 0);
    auto const root = [&](int i) {
        while (leader[at(i)] != i) { i = leader[at(i)] = leader[at(leader[at(i)])]; }
        return i;
    };
    for (resolved_link const& link : model.planned.links()) {
        for (event_of const& first : link.firsts) {
            leader[at(root(first.succession))] = root(link.then.succession);
        }
    }
    for (int k = 0; k < count; ++k) {
        if (is_linked[at(planned.order[at(k)])]) { found.order.push_back(k); }
    }
    auto const group = [&](int k) {
        return root(planned.order[at(k)]);
    };
    auto const linked = found.order.begin() + static_cast<std::ptrdiff_t>(alone);
    std::stable_sort(linked, found.order.end(), [&](int a, int b) { return group(a) < group(b); });
    for (std::size_t k = alone; k < found.order.size(); ++k) {
        if (k == alone || group(found.order[k]) != group(found.order[k - 1])) {
            found.begins.push_back(k);
        }
    }
    found.begins.push_back(found.order.size());
    return found;
}

/// Pieces of work for each thread, so that none waits long for another's last one.
constexpr int pieces_a_thread = 8;
/// Days of events, all years counted, that are worth a second thread.
constexpr std::size_t least_for_threads = 50'000;

}  // namespace

void walk_all_years(season_model const& model, calendar_data const& planned, days_table& days,
                    int threads) {
    chain_walker const walker{model, planned.successions};
    auto const walk = [&](int k, int first_year, int last_year) {
        walker.walk(days, planned.order[at(k)], planned.walks[at(k)], 0, first_year, last_year);
    };
    int workers = thread_count(threads);
    // A small farm is walked sooner than a thread is started.
    if (threads == 0 && days.day.size() < least_for_threads) { workers = 1; }
    int const count = static_cast<int>(planned.order.size());
    separate_runs const runs = runs_of(model, planned);
    if (workers == 1) {
        for (int k : runs.order) { walk(k, 0, model.years); }
        return;
    }
    std::size_t longest = 0;
    for (std::size_t k = 0; k + 1 < runs.begins.size(); ++k) {
        longest = std::max(longest, runs.begins[k + 1] - runs.begins[k]);
    }
    int const pieces = workers * pieces_a_thread;
    // Successions that wait for one another leave nothing to share out but the years.
    if (longest * at(workers) > runs.order.size()) {
        int const shares = std::min(workers, model.years);
        in_parallel(shares, workers, [&](int share) {
            int const first = share * model.years / shares;
            int const last = (share + 1) * model.years / shares;
            for (int k = 0; k < count; ++k) { walk(k, first, last); }
        });
        return;
    }
    // A piece begins with the first run that begins in its share of the successions.
    auto const begin_of = [&](int piece) {
        std::size_t const from = runs.order.size() * at(piece) / at(pieces);
        return *std::lower_bound(runs.begins.begin(), runs.begins.end(), from);
    };
    in_parallel(pieces, workers, [&](int piece) {
        for (std::size_t k = begin_of(piece); k < begin_of(piece + 1); ++k) {
            walk(runs.order[k], 0, model.years);
        }
    });
}

}  // namespace epicotyl::detail
