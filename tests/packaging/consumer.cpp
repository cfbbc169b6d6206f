// A program outside the project: uses headers and compiled parts, and sees the dependencies.
#include <iostream>

#include <epicotyl/epicotyl.hpp>

namespace ep = epicotyl;

int main() {
    ep::daily_record const record = ep::parse_daily_csv(
        "date,tmin_c,tmax_c\n2026-04-01,-1.0,9.0\n2026-04-02,3.0,12.0\n", "april.csv");
    try {
        static_cast<void>(ep::parse_plan("format = 2\n"));
    } catch (ep::invalid_input const& e) {
        std::cout << record.name() << ", " << ep::version << ": " << e.what() << '\n';
        return 0;
    }
    return 1;
}
