// Any bytes are a season or are refused with epicotyl::error: what a plan file holds is read,
// planned in the weather of twelve years, gone through year by year, opened to its windows,
// explained event by event and fitted to its room. Only reading, the choice of season years and
// planning may refuse; what has been planned must answer every question.
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <numbers>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <epicotyl/epicotyl.hpp>

#include "plan_mutation.hpp"

namespace {

using namespace epicotyl;

/// Twelve years of an invented place with cold winters; every year has cold spells of its own.
daily_record made_weather() {
    constexpr int length = 12 * 365 + 3;
    std::vector<double> low;
    std::vector<double> high;
    std::uint32_t state = 1;
    double spell = 0.0;
    for (int d = 0; d < length; ++d) {
        state = state * 1664525U + 1013904223U;
        spell = 0.8 * spell + 4.0 * (static_cast<double>(state >> 8U) / double(1U << 24U) - 0.5);
        double const mean =
            10.0 - 12.0 * std::cos(2.0 * std::numbers::pi * (d - 20.0) / 365.25) + 2.0 * spell;
        low.push_back(std::round(10.0 * (mean - 5.0)) / 10.0);
        high.push_back(std::round(10.0 * (mean + 5.0)) / 10.0);
    }
    return {make_day(2001, 1, 1), std::move(low), std::move(high), "Nowhere"};
}

/// Season years of its own where the plan asks for no more than the record has.
climate climate_of(plan const& of) {
    static daily_record const record = made_weather();
    if (of.parts().normals && of.parts().normals->years <= 12) { return climate_from_normals(of); }
    return climate_for(of, record);
}

/// To explain a day takes as long as to plan, and a batch has half a dozen: of a farm of more
/// batches the first are asked about, so that an input is a matter of a second.
constexpr std::size_t batches_asked = 4;
/// More batches than this are planned by benches.
constexpr std::size_t most_batches_planned = 20'000;

void ask_all(calendar const& planned) {
    plan const& of = planned.plan();
    climate const& under = planned.climate();
    prospect const seen = simulate(planned, under, 1);
    planting_windows const windows{planned, under.years().front()};
    for (season_conflict const& conflict : windows.conflicts()) {
        static_cast<void>(windows.cures(conflict));
    }
    static_cast<void>(windows.tightest_chains(10));
    for (auto const& [succession, event] : planned.events()) {
        static_cast<void>(seen.days(succession, event));
    }
    bool const is_small = of.successions().size() <= batches_asked;
    std::size_t const asked = is_small ? of.successions().size() : batches_asked;
    for (resolved_succession const& one : std::span{of.successions()}.first(asked)) {
        for (int e = 0; e < event_count(*one.grown); ++e) {
            std::string_view const event = event_name(*one.grown, e);
            static_cast<void>(explain(planned, one.name, event));
            static_cast<void>(explain(windows, one.name, event));
        }
        static_cast<void>(seen.damage(one.name));
        static_cast<void>(seen.too_hot(one.name));
        static_cast<void>(seen.overheld(one.name));
        static_cast<void>(seen.lost(one.name));
        static_cast<void>(why_unresolved(planned, one.name));
    }
    static_cast<void>(seen.nights_to_act());
    static_cast<void>(to_string(planned) + to_string(seen) + to_string(windows) + to_dot(windows));
    if (is_small) { static_cast<void>(to_string(fit_to_space(of, under))); }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(std::uint8_t const* data, std::size_t size) {
    std::string_view const text{reinterpret_cast<char const*>(data), size};
    std::optional<calendar> planned;
    try {
        plan const read = parse_plan(text, "fuzz.toml");
        if (read.successions().size() > most_batches_planned) { return 0; }
        planned = schedule(read, climate_of(read));
    } catch (error const&) {  // refused, as it may be
        return 0;
    }
    ask_all(*planned);
    return 0;
}

extern "C" std::size_t LLVMFuzzerMutate(std::uint8_t* data, std::size_t size, std::size_t most);

extern "C" std::size_t LLVMFuzzerCustomMutator(std::uint8_t* data, std::size_t size,
                                               std::size_t most, unsigned seed) {
    if (seed % 4 == 0) { return LLVMFuzzerMutate(data, size, most); }
    std::string const changed = fuzz::plan_mutation{seed}.of({reinterpret_cast<char*>(data), size});
    std::size_t const kept = std::min(changed.size(), most);
    std::memcpy(data, changed.data(), kept);
    return kept;
}
