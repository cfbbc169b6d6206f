#include <epicotyl/amounts/seed_packets.hpp>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <tuple>

#include <fmt/format.h>

#include <epicotyl/detail/whole.hpp>
#include <epicotyl/error.hpp>

#include <epicotyl/detail/nearly_nothing.hpp>

namespace epicotyl {

namespace {

constexpr double largest_price = 1e6;
constexpr double price_steps = 1e6;
constexpr std::int64_t largest_packet = 1'000'000'000;
/// Amounts for which the best packets are worked out one by one.
constexpr std::int64_t most_amounts = 4'000'000;

void require_positive(double value, char const* field, char const* unit, char const* remedy) {
    if (value > 0.0 && std::isfinite(value)) { return; }
    throw invalid_input{{.code = "seed_weight.not_positive",
                         .field = field,
                         .value = fmt::format("{}", value),
                         .bound = "more than 0",
                         .unit = unit,
                         .problem = fmt::format("{} is out of range", value),
                         .remedy = remedy}};
}

void require_wanted(std::int64_t seeds) {
    if (seeds >= 0 && seeds <= largest_packet) { return; }
    throw invalid_input{{.code = "seed_packet.wanted",
                         .field = "seeds",
                         .value = fmt::format("{}", seeds),
                         .bound = fmt::format("0 to {}", largest_packet),
                         .unit = "seeds",
                         .problem = fmt::format("{} is no number of seeds to buy", seeds),
                         .remedy = "give the seeds that are wanted"}};
}

void require_kinds(std::vector<seed_packet> const& kinds) {
    if (kinds.empty()) {
        throw invalid_input{{.code = "seed_packet.none",
                             .field = "packets",
                             .bound = "1 or more",
                             .unit = "kinds",
                             .problem = "no packet is sold",
                             .remedy = "give at least one kind of packet"}};
    }
    for (std::size_t i = 0; i < kinds.size(); ++i) {
        auto const field = [&](char const* part) {
            return fmt::format("packets[{}].{}", i + 1, part);
        };
        if (kinds[i].seeds < 1 || kinds[i].seeds > largest_packet) {
            throw invalid_input{{.code = "seed_packet.seeds",
                                 .field = field("seeds"),
                                 .value = fmt::format("{}", kinds[i].seeds),
                                 .bound = fmt::format("1 to {}", largest_packet),
                                 .unit = "seeds",
                                 .problem = fmt::format("{} seeds are no packet", kinds[i].seeds),
                                 .remedy = "give the seeds in one packet"}};
        }
        if (!(kinds[i].price >= 0.0 && kinds[i].price <= largest_price)) {
            throw invalid_input{{.code = "seed_packet.price",
                                 .field = field("price"),
                                 .value = fmt::format("{}", kinds[i].price),
                                 .bound = fmt::format("0 to {:g}", largest_price),
                                 .problem = fmt::format("{} is no price", kinds[i].price),
                                 .remedy = "give the price of one packet"}};
        }
    }
}

/// What packets cost: compared part by part, and added up part by part.
struct cost {
    std::int64_t first = 0;
    std::int64_t second = 0;
    std::int64_t seeds = 0;

    friend auto operator<=>(cost const&, cost const&) = default;
    friend cost operator+(cost const& a, cost const& b) {
        return {a.first + b.first, a.second + b.second, a.seeds + b.seeds};
    }
};

/// One packet's cost by what is to be small, its size counted in the common measure.
cost cost_of(seed_packet const& one, packet_choice choice, std::int64_t measure) {
    std::int64_t const price = detail::whole_of<std::int64_t>(std::round(one.price * price_steps));
    bool const cheap = choice == packet_choice::cheapest;
    return {cheap ? price : 1, cheap ? 1 : price, one.seeds / measure};
}

/// The kind with the least cost a seed, of equals the largest.
std::size_t best_value(std::vector<cost> const& costs) {
    auto const better = [](cost const& a, cost const& b) {
        // a.first / a.seeds < b.first / b.seeds, without dividing; beyond 64 bits, hence long
        // double.
        using wide = long double;
        wide const left = wide(a.first) * wide(b.seeds);
        wide const right = wide(b.first) * wide(a.seeds);
        if (left != right) { return left < right; }
        return std::tuple{-a.seeds, a.second} < std::tuple{-b.seeds, b.second};
    };
    return static_cast<std::size_t>(std::min_element(costs.begin(), costs.end(), better) -
                                    costs.begin());
}

/// Kinds chosen, one packet at a time, so that they hold `amount` at the least cost.
std::vector<std::int64_t> fill(std::int64_t amount, std::vector<cost> const& costs) {
    auto const size = static_cast<std::size_t>(amount) + 1;
    std::vector<cost> least(size);
    std::vector<std::uint32_t> last(size);
    for (std::size_t held = 1; held < size; ++held) {
        bool first = true;
        for (std::size_t kind = 0; kind < costs.size(); ++kind) {
            auto const packet = static_cast<std::size_t>(costs[kind].seeds);
            cost const total = least[held > packet ? held - packet : 0] + costs[kind];
            if (first || total < least[held]) {
                least[held] = total;
                last[held] = static_cast<std::uint32_t>(kind);
                first = false;
            }
        }
    }
    std::vector<std::int64_t> packets(costs.size());
    for (std::int64_t left = amount; left > 0;) {
        std::uint32_t const kind = last[static_cast<std::size_t>(left)];
        ++packets[kind];
        left -= costs[kind].seeds;
    }
    return packets;
}

}  // namespace

double seeds_per_gram_of_ounce(double seeds_per_ounce) {
    require_positive(seeds_per_ounce, "seeds_per_ounce", "seeds an ounce",
                     "give the seeds of one ounce");
    return seeds_per_ounce / grams_per_ounce;
}

std::int64_t seeds_in(double grams, double seeds_per_gram) {
    require_positive(seeds_per_gram, "seeds_per_gram", "seeds a gram",
                     "give the seeds of one gram");
    constexpr double most = 1e12;
    if (!(grams >= 0.0 && grams * seeds_per_gram <= most)) {
        throw invalid_input{{.code = "seed_weight.grams",
                             .field = "grams",
                             .value = fmt::format("{}", grams),
                             .bound = fmt::format("0 to {:g}", most / seeds_per_gram),
                             .unit = "g",
                             .problem = fmt::format("{} is no weight of seed", grams),
                             .remedy = "give the weight of the seed"}};
    }
    return detail::whole_of<std::int64_t>(
        std::floor(grams * seeds_per_gram + detail::nearly_nothing));
}

double grams_of(std::int64_t seeds, double seeds_per_gram) {
    require_positive(seeds_per_gram, "seeds_per_gram", "seeds a gram",
                     "give the seeds of one gram");
    require_wanted(seeds);
    return static_cast<double>(seeds) / seeds_per_gram;
}

bought_seed buy_seed(std::int64_t seeds, std::vector<seed_packet> const& kinds,
                     packet_choice choice) {
    require_wanted(seeds);
    require_kinds(kinds);
    std::int64_t measure = 0;
    std::int64_t largest = 0;
    for (seed_packet const& one : kinds) {
        measure = std::gcd(measure, one.seeds);
        largest = std::max(largest, one.seeds);
    }
    largest /= measure;
    std::vector<cost> costs;
    for (seed_packet const& one : kinds) { costs.push_back(cost_of(one, choice, measure)); }

    // Of any s packets that are not the best value, s being its size, some make a multiple of s
    // together (two of their running sums leave the same remainder), and the best value holds as
    // much at no more cost. So fewer than s others are needed, and what they cannot hold is filled
    // with the best value alone.
    std::size_t const best = best_value(costs);
    std::int64_t const size = costs[best].seeds;
    std::int64_t const wanted = (seeds + measure - 1) / measure;
    std::int64_t const others = largest > most_amounts / size ? most_amounts : (size - 1) * largest;
    std::int64_t const of_best = wanted > others ? (wanted - others) / size : 0;
    std::int64_t const rest = wanted - of_best * size;
    if (rest > most_amounts || (of_best > 0 && others == most_amounts)) {
        throw invalid_input{
            {.code = "seed_packet.no_common_measure",
             .field = "packets",
             .value = fmt::format("{}", measure),
             .bound = fmt::format("up to {} times their common measure", most_amounts),
             .unit = "seeds",
             .problem = fmt::format("the sizes share no measure larger than {} "
                                    "seeds, and {} are wanted",
                                    measure, seeds),
             .remedy = "round the sizes, to hundreds for example"}};
    }
    bought_seed bought{.packets = fill(rest, costs)};
    bought.packets[best] += of_best;
    for (std::size_t i = 0; i < kinds.size(); ++i) {
        bought.count += bought.packets[i];
        bought.seeds += bought.packets[i] * kinds[i].seeds;
        bought.price += static_cast<double>(bought.packets[i]) * kinds[i].price;
    }
    return bought;
}

}  // namespace epicotyl
