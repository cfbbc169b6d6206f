// epicotyl: seeds by weight and by the packet.
//
// Seed is sown by number and sold by weight or by the packet. A packet is a number of seeds and a
// price; the seeds of a weight are what it is known to hold at so many a gram:
//
//     seed_packet const small{"small", 100, 2.50};
//     seed_packet const large{"large", 500, 9.00};
//     buy_seed(327, {small, large});                               // 1 large: 9.00
//     buy_seed(117, {small, large});                               // 2 small: 5.00
//     buy_seed(117, {small, large}, packet_choice::fewest);        // 1 large
//     seeds_in(2.0, seeds_per_gram_of_ounce(4000.0));              // 282 in two grams
//
// The packets are the cheapest that hold the seeds, or the fewest. Of equally cheap ones they are
// the fewest, of equally few the cheapest, then those that leave the fewest seeds over. The choice
// is exact: every combination that could be better is weighed, smaller packets filling what larger
// ones leave. Prices are in a currency of your own, and told apart to a millionth of it.
#ifndef EPICOTYL_AMOUNTS_SEED_PACKETS_HPP
#define EPICOTYL_AMOUNTS_SEED_PACKETS_HPP

#include <array>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace epicotyl {

/// Grams of an avoirdupois ounce, by its definition (from memory).
inline constexpr double grams_per_ounce = 28.349523125;

/// Seeds a gram of a seed that is sold by seeds an ounce. Throws `invalid_input` unless the number
/// is more than 0 and finite.
[[nodiscard]] double seeds_per_gram_of_ounce(double seeds_per_ounce);
/// Whole seeds in so many grams, rounded down; a billionth of a seed is not missed. Throws
/// `invalid_input` unless grams >= 0, seeds_per_gram > 0, and the seeds are at most 10^12.
[[nodiscard]] std::int64_t seeds_in(double grams, double seeds_per_gram);
/// Grams of so many seeds. Throws `invalid_input` unless seeds >= 0 and seeds_per_gram > 0.
[[nodiscard]] double grams_of(std::int64_t seeds, double seeds_per_gram);

/// A packet as it is sold.
struct seed_packet {
    std::string name;
    std::int64_t seeds = 0;  ///< 1 to 10^9
    double price = 0.0;      ///< 0 to 10^6, in a currency of your own

    friend bool operator==(seed_packet const&, seed_packet const&) = default;
};

/// What is to be small.
enum class packet_choice { cheapest, fewest };

inline constexpr std::array<std::string_view, 2> packet_choice_names = {"cheapest", "fewest"};

/// Packets to buy.
struct bought_seed {
    std::vector<std::int64_t> packets = {};  ///< how many of each kind, in the order given
    std::int64_t count = 0;                  ///< packets in all
    std::int64_t seeds = 0;                  ///< seeds in them
    double price = 0.0;                      ///< of all of them

    friend bool operator==(bought_seed const&, bought_seed const&) = default;
};

/// The packets that hold at least so many seeds, 0 to 10^9. Throws `invalid_input` for values out
/// of range, where no kind of packet is given, and where their sizes share no common measure, so
/// that too many combinations would have to be weighed.
[[nodiscard]] bought_seed buy_seed(std::int64_t seeds, std::vector<seed_packet> const& kinds,
                                   packet_choice choice = packet_choice::cheapest);

}  // namespace epicotyl

#endif
