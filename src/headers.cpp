// What the headers of the lower floors leave to `impl/`, for the library: defined here once, and
// not inline (DEVELOPERS.md, "Headers alone").
#ifndef EPICOTYL_INLINE
#define EPICOTYL_INLINE
#endif

#include <epicotyl/crop/impl/seed_count.ipp>
#include <epicotyl/frost/impl/chance_band.ipp>
#include <epicotyl/frost/impl/freeze_answer.ipp>
#include <epicotyl/frost/impl/freeze_dates.ipp>
#include <epicotyl/frost/impl/freeze_risk.ipp>
#include <epicotyl/frost/impl/freeze_table.ipp>
#include <epicotyl/impl/days.ipp>
#include <epicotyl/weather/impl/adjust.ipp>
#include <epicotyl/weather/impl/climate.ipp>
#include <epicotyl/weather/impl/filled_record.ipp>
#include <epicotyl/weather/impl/quality.ipp>
#include <epicotyl/weather/impl/splice.ipp>
