// The least that any way of finding the days must do: one look-up a stage in tables that are there.
// Compiled and called by prospect.py.
#include <cstdint>

extern "C" void bare_look_ups(std::int16_t const* tables,  // [crop][stage][year][season_days + 1]
                              std::int32_t const* crop, std::int16_t const* sowing, int count,
                              int stages, int years, int season_days,
                              std::int16_t* days) {  // [year][succession][stage + 1]
    long const row = season_days + 1;
    for (int y = 0; y < years; ++y) {
        for (int i = 0; i < count; ++i) {
            std::int16_t* const to = days + (static_cast<long>(y) * count + i) * (stages + 1);
            std::int16_t day = sowing[i];
            to[0] = day;
            for (int j = 0; j < stages; ++j) {
                // A day past the season stays one.
                if (day <= season_days) {
                    day =
                        tables[((static_cast<long>(crop[i]) * stages + j) * years + y) * row + day];
                }
                to[j + 1] = day;
            }
        }
    }
}
