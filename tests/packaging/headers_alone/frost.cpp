// The last frost of a record made up here: 20 years, frost until 10 or 20 April by turns.
#include <cstdio>
#include <vector>

#include <epicotyl/frost/freeze_answer.hpp>
#include <epicotyl/frost/freeze_dates.hpp>
#include <epicotyl/frost/freeze_risk.hpp>
#include <epicotyl/weather/daily_record.hpp>

namespace ep = epicotyl;

std::string about(ep::daily_record const& record);

int main() {
    ep::day const start = ep::make_day(1999, 1, 1);
    int const days = static_cast<int>((ep::make_day(2020, 1, 1) - start).count());
    std::vector<double> low(static_cast<std::size_t>(days), 5.0);
    for (int year = 1999; year < 2020; ++year) {
        ep::day const last = ep::make_day(year, 4, year % 2 == 0 ? 10 : 20);
        low[static_cast<std::size_t>((last - start).count())] = -1.0;
        low[static_cast<std::size_t>((ep::make_day(year, 10, 15) - start).count())] = -1.0;
    }
    std::vector<double> high(low.size(), 12.0);
    ep::daily_record const record{start, low, high, "Marlpit"};
    ep::freeze_dates const dates{record, ep::temperature::from_celsius(0.0)};
    ep::freeze_risk const risk{dates};
    std::printf("%s; %s\n", ep::to_string(risk).c_str(), about(record).c_str());
}
