#include "walk_all_years.hpp"

#include <algorithm>
#include <numeric>
#include <utility>

#include "../tables/in_parallel.hpp"
#include "waiting_order.hpp"

namespace epicotyl::detail {

namespace {

/// Pieces of work for each thread, so that none waits long for another's last one.
constexpr int pieces_a_thread = 2;

/// A piece of the walks.
struct walk_span {
    std::size_t first;
    std::size_t last;
};

/// Spans of walks that do not wait for one another: those that stand alone in `pieces` of one size,
/// each with few paths, so that a core looks into few tables; those that are linked in as many,
/// cut between groups.
std::vector<walk_span> share_out(calendar_data const& planned, int pieces) {
    std::vector<batch_walk> const& walks = planned.walks;
    auto const group_of = [&](std::size_t k) {
        return planned.group_of[at(walks[k].succession)];
    };
    std::size_t const alone = planned.walks_alone;
    std::size_t const linked = walks.size() - alone;
    std::vector<walk_span> spans;
    for (int piece = 0; piece < pieces; ++piece) {
        spans.push_back({alone * at(piece) / at(pieces), alone * at(piece + 1) / at(pieces)});
    }
    std::size_t first = alone;
    for (int piece = 0; piece < pieces; ++piece) {
        std::size_t last = std::max(first, alone + linked * at(piece + 1) / at(pieces));
        while (last > first && last < walks.size() && group_of(last - 1) == group_of(last)) {
            ++last;
        }
        spans.push_back({first, last});
        first = last;
    }
    return spans;
}

/// A wave, and the walk after which all of it have their days.
struct wave_end {
    std::size_t walk;
    awaited const* wave;
};

std::vector<wave_end> wave_ends(season_model const& model, calendar_data const& planned) {
    if (model.waves == 0) { return {}; }
    std::vector<std::size_t> walk_of(planned.successions.size(), 0);
    for (std::size_t k = 0; k < planned.walks.size(); ++k) {
        walk_of[at(planned.walks[k].succession)] = k;
    }
    std::vector<wave_end> ends;
    for (awaited const& one : model.awaited_all) {
        // Where one of a wave has no days, nobody that waits for it has.
        bool const is_whole = std::ranges::all_of(one.firsts, [&](event_of const& first) {
            return planned.successions[at(first.succession)].resolved;
        });
        if (!one.is_wave() || !is_whole) { continue; }
        std::size_t last = 0;
        for (event_of const& first : one.firsts) {
            last = std::max(last, walk_of[at(first.succession)]);
        }
        ends.push_back({last, &one});
    }
    std::ranges::sort(ends, {}, &wave_end::walk);
    return ends;
}

}  // namespace

void arrange_walks(calendar_data& planned) {
    // By counting: the places of each kind follow those of the kind before, and within a kind the
    // order of waiting stays.
    std::size_t const paths = planned.model->paths.size();
    auto const kind_of = [&](batch_walk const& one) {
        int const group = planned.group_of[at(one.succession)];
        return group == stands_alone ? at(one.path) : paths + at(group);
    };
    std::vector<std::size_t> place(paths + planned.group_of.size() + 1, 0);
    for (batch_walk const& one : planned.walks) { ++place[kind_of(one) + 1]; }
    std::partial_sum(place.begin(), place.end(), place.begin());
    planned.walks_alone = place[paths];
    std::vector<batch_walk> arranged(planned.walks.size());
    for (batch_walk const& one : planned.walks) { arranged[place[kind_of(one)]++] = one; }
    planned.walks = std::move(arranged);
}

void walk_all_years(season_model const& model, calendar_data const& planned, days_table& days,
                    int threads) {
    path_walker const walker{model, planned.successions};
    std::vector<wave_end> const ends = wave_ends(model, planned);
    auto const walk = [&](walk_span const& of, int first_year, int last_year) {
        auto next = std::ranges::lower_bound(ends, of.first, {}, &wave_end::walk);
        for (std::size_t k = of.first; k < of.last; ++k) {
            walker.walk(days, planned.walks[k], 0, first_year, last_year);
            for (; next != ends.end() && next->walk == k; ++next) {
                walker.gather(days, *next->wave, first_year, last_year);
            }
        }
    };
    walk_span const all{0, planned.walks.size()};
    if (threads == 1) {
        walk(all, 0, model.years);
        return;
    }
    std::vector<walk_span> const spans = share_out(planned, threads * pieces_a_thread);
    std::size_t longest = 0;
    for (walk_span const& span : spans) { longest = std::max(longest, span.last - span.first); }
    if (longest * at(threads) > planned.walks.size()) {
        // Successions that wait for one another leave nothing to share out but the years.
        int const shares = std::min(threads, model.years);
        in_parallel(shares, threads, [&](int share) {
            walk(all, share * model.years / shares, (share + 1) * model.years / shares);
        });
        return;
    }
    in_parallel(static_cast<int>(spans.size()), threads,
                [&](int piece) { walk(spans[at(piece)], 0, model.years); });
}

}  // namespace epicotyl::detail
