// Least and greatest days of a network, without a plant in sight.
#include <cstdio>

#include <epicotyl/network/monotone_map.hpp>
#include <epicotyl/network/monotone_network.hpp>

std::size_t vertices_of_another();

int main() {
    epicotyl::monotone_network<epicotyl::lag_map> net{0, 365};
    auto const sow = net.add_vertex("sow");
    auto const plant = net.add_vertex("plant");
    net.no_sooner(sow, plant, epicotyl::lag_map{42, 365});
    net.no_later(sow, plant, epicotyl::lag_map{56, 365});
    net.not_before(plant, 130);
    net.not_after(plant, 150);
    auto const least = net.least().values();
    auto const greatest = net.greatest().values();
    std::printf("%d %d, %d %d, %zu\n", least[sow], least[plant], greatest[sow], greatest[plant],
                vertices_of_another());
}
