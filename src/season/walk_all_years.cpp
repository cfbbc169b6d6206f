#include "walk_all_years.hpp"

#include <algorithm>
#include <numeric>

#include "in_parallel.hpp"
#include "waiting_order.hpp"

namespace epicotyl::detail {

namespace {

/// Pieces of work for each thread, so that none waits long for another's last one.
constexpr int pieces_a_thread = 2;

/// Places in the calendar's order, sorted into pieces that do not wait for one another.
struct shared_out {
    std::vector<int> order = {};
    std::vector<int> begins = {};  ///< of each piece; one more at the end

    [[nodiscard]] int pieces() const { return static_cast<int>(begins.size()) - 1; }
    [[nodiscard]] int longest() const {
        int most = 0;
        for (std::size_t piece = 0; piece + 1 < begins.size(); ++piece) {
            most = std::max(most, begins[piece + 1] - begins[piece]);
        }
        return most;
    }
};

/// Those that stand alone go by their chains, since what looks into the same tables goes well
/// together and on one core, and are cut into pieces of one size. Those that are linked are cut
/// where no link leads, and stay in the order of the calendar. `pieces` of each.
shared_out share_out(season_model const& model, calendar_data const& planned, int pieces) {
    int const chains = static_cast<int>(model.chains.size());
    std::vector<int> const group = groups_by_links(model.planned);
    // By counting: the places of each kind follow those of the kind before.
    auto const kind_of = [&](int k) {
        int const i = planned.order[at(k)];
        return group[at(i)] == stands_alone
                   ? at(planned.walks[at(k)].chain)
                   : at(chains) + at(group[at(i)]) * at(pieces) / group.size();
    };
    int const count = static_cast<int>(planned.order.size());
    std::vector<int> place(at(chains + pieces) + 1, 0);
    for (int k = 0; k < count; ++k) { ++place[kind_of(k) + 1]; }
    std::partial_sum(place.begin(), place.end(), place.begin());
    int const alone = place[at(chains)];
    shared_out found;
    for (int piece = 0; piece < pieces; ++piece) {
        found.begins.push_back(static_cast<int>(at(alone) * at(piece) / at(pieces)));
    }
    for (int piece = 0; piece <= pieces; ++piece) {
        found.begins.push_back(place[at(chains + piece)]);
    }
    found.order.resize(at(count));
    for (int k = 0; k < count; ++k) { found.order[at(place[kind_of(k)]++)] = k; }
    return found;
}

}  // namespace

void walk_all_years(season_model const& model, calendar_data const& planned, days_table& days,
                    int threads) {
    chain_walker const walker{model, planned.successions};
    auto const walk = [&](shared_out const& shared, int first_piece, int last_piece, int first_year,
                          int last_year) {
        for (int n = shared.begins[at(first_piece)]; n < shared.begins[at(last_piece)]; ++n) {
            int const k = shared.order[at(n)];
            walker.walk(days, planned.order[at(k)], planned.walks[at(k)], 0, first_year, last_year);
        }
    };
    if (planned.order.size() < planned.successions.size()) {
        for (int i = 0; i < static_cast<int>(planned.successions.size()); ++i) {
            if (!planned.successions[at(i)].resolved) { days.forget(i); }
        }
    }
    shared_out const shared =
        share_out(model, planned, threads == 1 ? 1 : threads * pieces_a_thread);
    if (threads == 1) {
        walk(shared, 0, shared.pieces(), 0, model.years);
    } else if (at(shared.longest()) * at(threads) > planned.order.size()) {
        // Successions that wait for one another leave nothing to share out but the years.
        int const shares = std::min(threads, model.years);
        in_parallel(shares, threads, [&](int share) {
            walk(shared, 0, shared.pieces(), share * model.years / shares,
                 (share + 1) * model.years / shares);
        });
    } else {
        in_parallel(shared.pieces(), threads,
                    [&](int piece) { walk(shared, piece, piece + 1, 0, model.years); });
    }
}

}  // namespace epicotyl::detail
