// Season years on several threads.
#ifndef EPICOTYL_SRC_SEASON_OVER_YEARS_HPP
#define EPICOTYL_SRC_SEASON_OVER_YEARS_HPP

#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <thread>
#include <vector>

#include <fmt/format.h>

#include <epicotyl/error.hpp>

namespace epicotyl::detail {

/// Calls `work(year)` for years 0 ... years - 1, which must not depend on one another and write
/// to places of their own. `threads` 0: as many as the machine has. What one of them throws is
/// thrown here, once all have ended.
template <class Work>
void over_years(int years, int threads, Work const& work) {
    if (threads < 0) {
        throw invalid_input{{.code = "threads.negative",
                             .field = "threads",
                             .value = fmt::format("{}", threads),
                             .bound = "0 or more",
                             .problem = fmt::format("{} is negative", threads),
                             .remedy = "give 0 for as many as the machine has"}};
    }
    int const wanted =
        threads > 0 ? threads : static_cast<int>(std::thread::hardware_concurrency());
    int const workers = std::clamp(wanted, 1, std::max(years, 1));
    std::atomic<int> next{0};
    std::exception_ptr trouble;
    std::mutex trouble_lock;
    auto const run = [&] {
        try {
            for (int year = next++; year < years; year = next++) { work(year); }
        } catch (...) {
            std::scoped_lock const lock{trouble_lock};
            if (!trouble) { trouble = std::current_exception(); }
            next = years;
        }
    };
    std::vector<std::jthread> helpers;
    for (int k = 1; k < workers; ++k) { helpers.emplace_back(run); }
    run();
    helpers.clear();
    if (trouble) { std::rethrow_exception(trouble); }
}

}  // namespace epicotyl::detail

#endif
