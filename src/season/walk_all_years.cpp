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
};

/// A piece is a share of the successions by index, whose days lie together: two threads do not
/// write side by side. In a piece, those that stand alone go by their chains, since what looks into
/// the same tables goes well together; then those that are linked, in the order of the calendar.
shared_out share_out(season_model const& model, calendar_data const& planned, int pieces) {
    int const chains = static_cast<int>(model.chains.size());
    std::vector<int> const group = groups_by_links(model.planned);
    // By counting: the places of each kind follow those of the kind before.
    auto const kind_of = [&](int k) {
        int const i = planned.order[at(k)];
        bool const alone = group[at(i)] == stands_alone;
        std::size_t const piece = at(alone ? i : group[at(i)]) * at(pieces) / group.size();
        int const chain = alone ? planned.walks[at(k)].chain : chains;
        return piece * at(chains + 1) + at(chain);
    };
    int const count = static_cast<int>(planned.order.size());
    std::vector<int> place(at(pieces) * at(chains + 1) + 1, 0);
    for (int k = 0; k < count; ++k) { ++place[kind_of(k) + 1]; }
    std::partial_sum(place.begin(), place.end(), place.begin());
    shared_out found;
    for (int piece = 0; piece <= pieces; ++piece) {
        found.begins.push_back(place[at(piece) * at(chains + 1)]);
    }
    found.order.resize(at(count));
    for (int k = 0; k < count; ++k) { found.order[at(place[kind_of(k)]++)] = k; }
    return found;
}

}  // namespace

void walk_all_years(season_model const& model, calendar_data const& planned, days_table& days,
                    int threads) {
    chain_walker const walker{model, planned.successions};
    auto const walk = [&](shared_out const& pieces, int piece, int first_year, int last_year) {
        for (int n = pieces.begins[at(piece)]; n < pieces.begins[at(piece + 1)]; ++n) {
            int const k = pieces.order[at(n)];
            walker.walk(days, planned.order[at(k)], planned.walks[at(k)], 0, first_year, last_year);
        }
    };
    if (planned.order.size() < planned.successions.size()) {
        for (int i = 0; i < static_cast<int>(planned.successions.size()); ++i) {
            if (!planned.successions[at(i)].resolved) { days.forget(i); }
        }
    }
    if (threads == 1) {
        walk(share_out(model, planned, 1), 0, 0, model.years);
        return;
    }
    shared_out const pieces = share_out(model, planned, threads * pieces_a_thread);
    int longest = 0;
    for (std::size_t piece = 0; piece + 1 < pieces.begins.size(); ++piece) {
        longest = std::max(longest, pieces.begins[piece + 1] - pieces.begins[piece]);
    }
    // Successions that wait for one another leave nothing to share out but the years.
    if (at(longest) * at(threads) > planned.order.size()) {
        shared_out const whole = share_out(model, planned, 1);
        int const shares = std::min(threads, model.years);
        in_parallel(shares, threads, [&](int share) {
            walk(whole, 0, share * model.years / shares, (share + 1) * model.years / shares);
        });
        return;
    }
    in_parallel(threads * pieces_a_thread, threads,
                [&](int piece) { walk(pieces, piece, 0, model.years); });
}

}  // namespace epicotyl::detail
