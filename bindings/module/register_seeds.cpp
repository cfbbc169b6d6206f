// Crop: how many seeds, and in which packets.
#include <cstddef>
#include <cstdint>
#include <span>
#include <string>
#include <tuple>
#include <vector>

#include <pybind11/numpy.h>
#include <pybind11/operators.h>
#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <epicotyl/amounts/seed_packets.hpp>
#include <epicotyl/crop/seed_count.hpp>

#include "casters.hpp"
#include "register.hpp"
#include "words.hpp"

namespace py = pybind11;
using namespace py::literals;
using namespace epicotyl;
using namespace epicotyl::bindings;

namespace {

using wholes = py::array_t<std::int64_t, py::array::c_style>;
using numbers = py::array_t<double, py::array::c_style>;
using packet_tuple = std::tuple<std::string, std::int64_t, double>;
using bought_tuple = std::tuple<std::vector<std::int64_t>, std::int64_t, std::int64_t, double>;

/// A copy, which no other thread can change while the lock is released.
template <class Number>
std::vector<Number> copied(py::array_t<Number, py::array::c_style> const& given) {
    return {given.data(), given.data() + given.size()};
}

chance share(char const* field, double value) {
    return said_of(field, [&] { return chance{value}; });
}

/// `of(i)` for every place of rows of equal length.
template <class Number, class Of>
py::array_t<Number> each(py::ssize_t size, Of const& of) {
    py::array_t<Number> result(size);
    std::span<Number> const out{result.mutable_data(), static_cast<std::size_t>(size)};
    py::gil_scoped_release const released;
    for (std::size_t i = 0; i < out.size(); ++i) { out[i] = of(i); }
    return result;
}

py::array seeds_of_shares(wholes const& plants, numbers const& germination, numbers const& usable,
                          numbers const& confidence) {
    auto const k = copied(plants);
    auto const g = copied(germination);
    auto const u = copied(usable);
    auto const c = copied(confidence);
    return each<std::int64_t>(plants.size(), [&](std::size_t i) {
        return seeds_needed(k[i], share("germination", g[i]), share("usable", u[i]),
                            share("confidence", c[i]));
    });
}

py::array seeds_of_spread(wholes const& plants, germination_spread const& germination,
                          numbers const& usable, numbers const& confidence) {
    auto const k = copied(plants);
    auto const u = copied(usable);
    auto const c = copied(confidence);
    return each<std::int64_t>(plants.size(), [&](std::size_t i) {
        return seeds_needed(k[i], germination, share("usable", u[i]), share("confidence", c[i]));
    });
}

py::array cells(wholes const& plants, int seeds_a_cell, numbers const& germination,
                numbers const& usable, numbers const& confidence) {
    auto const k = copied(plants);
    auto const g = copied(germination);
    auto const u = copied(usable);
    auto const c = copied(confidence);
    return each<std::int64_t>(plants.size(), [&](std::size_t i) {
        return cells_needed(k[i], seeds_a_cell, share("germination", g[i]), share("usable", u[i]),
                            share("confidence", c[i]));
    });
}

py::array chances_of_shares(wholes const& plants, wholes const& seeds, numbers const& germination,
                            numbers const& usable) {
    auto const k = copied(plants);
    auto const n = copied(seeds);
    auto const g = copied(germination);
    auto const u = copied(usable);
    return each<double>(plants.size(), [&](std::size_t i) {
        return chance_of_plants(k[i], n[i], share("germination", g[i]), share("usable", u[i]));
    });
}

py::array chances_of_spread(wholes const& plants, wholes const& seeds,
                            germination_spread const& germination, numbers const& usable) {
    auto const k = copied(plants);
    auto const n = copied(seeds);
    auto const u = copied(usable);
    return each<double>(plants.size(), [&](std::size_t i) {
        return chance_of_plants(k[i], n[i], germination, share("usable", u[i]));
    });
}

bought_tuple bought(std::int64_t seeds, std::vector<packet_tuple> const& written,
                    std::string const& choice) {
    std::vector<seed_packet> kinds;
    for (auto const& [name, each_holds, price] : written) {
        kinds.push_back({name, each_holds, price});
    }
    bought_seed const found =
        buy_seed(seeds, kinds, enum_of<packet_choice>(choice, packet_choice_names, "choice"));
    return {found.packets, found.count, found.seeds, found.price};
}

}  // namespace

void register_seeds(py::module_& m) {
    py::class_<germination_spread>(m, "GerminationSpread")
        .def(py::init<double, double>(), "a"_a, "b"_a)
        .def_property_readonly("a", &germination_spread::a)
        .def_property_readonly("b", &germination_spread::b)
        .def_property_readonly("mean", &germination_spread::mean)
        .def_property_readonly("concentration", &germination_spread::concentration)
        .def(py::self == py::self);

    m.def("spread_from_test", &germination_spread::from_test, "up"_a, "sown"_a);
    m.def("spread_from_mean", &germination_spread::from_mean, "mean"_a, "concentration"_a);
    m.def("seeds_of_shares", &seeds_of_shares, "plants"_a, "germination"_a, "usable"_a,
          "confidence"_a);
    m.def("seeds_of_spread", &seeds_of_spread, "plants"_a, "germination"_a, "usable"_a,
          "confidence"_a);
    m.def("cells_needed", &cells, "plants"_a, "seeds_a_cell"_a, "germination"_a, "usable"_a,
          "confidence"_a);
    m.def("chances_of_shares", &chances_of_shares, "plants"_a, "seeds"_a, "germination"_a,
          "usable"_a);
    m.def("chances_of_spread", &chances_of_spread, "plants"_a, "seeds"_a, "germination"_a,
          "usable"_a);
    m.def("seeds_per_gram_of_ounce", &seeds_per_gram_of_ounce, "seeds_per_ounce"_a);
    m.def("seeds_in", &seeds_in, "grams"_a, "seeds_per_gram"_a);
    m.def("grams_of", &grams_of, "seeds"_a, "seeds_per_gram"_a);
    m.def("buy_seed", &bought, "seeds"_a, "packets"_a, "choice"_a,
          py::call_guard<py::gil_scoped_release>());
}
