#include <epicotyl/network/monotone_map.hpp>
#include <epicotyl/network/monotone_network.hpp>
#include <epicotyl/network/order.hpp>

std::size_t vertices_of_another() {
    epicotyl::monotone_network<epicotyl::table_map> net{0, 2};
    net.add_vertex();
    return net.size();
}
