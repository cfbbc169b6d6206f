// Pieces of work on several threads.
#ifndef EPICOTYL_SRC_SEASON_TABLES_IN_PARALLEL_HPP
#define EPICOTYL_SRC_SEASON_TABLES_IN_PARALLEL_HPP

#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <thread>
#include <vector>

#include <fmt/format.h>

#include <epicotyl/error.hpp>

namespace epicotyl::detail {

/// More are never of use.
inline constexpr int most_threads = 1024;

/// Threads to work on: `asked`, or as many as the machine has for 0. Throws `invalid_input` for
/// fewer.
[[nodiscard]] inline int thread_count(int asked) {
    if (asked < 0 || asked > most_threads) {
        throw invalid_input{{.code = "threads.negative",
                             .field = "threads",
                             .value = fmt::format("{}", asked),
                             .bound = fmt::format("0 to {}", most_threads),
                             .unit = "threads",
                             .problem = fmt::format("{} threads cannot be started", asked),
                             .remedy = "give 0 for as many as the machine has"}};
    }
    return std::max(asked > 0 ? asked : static_cast<int>(std::thread::hardware_concurrency()), 1);
}

/// Days of events, all years counted, that are worth a second thread.
inline constexpr std::size_t least_for_threads = 50'000;

/// The same for a table of days: a small farm is walked sooner than a thread is started.
[[nodiscard]] inline int thread_count_for(std::size_t days, int asked) {
    return asked == 0 && days < least_for_threads ? 1 : thread_count(asked);
}

/// Calls `work(piece)` for pieces 0 ... pieces - 1, which must not depend on one another and write
/// to places of their own. What one of them throws is thrown here, once all have ended.
template <class Work>
void in_parallel(int pieces, int threads, Work const& work) {
    int const workers = std::clamp(thread_count(threads), 1, std::max(pieces, 1));
    std::atomic<int> next{0};
    std::exception_ptr trouble;
    std::mutex trouble_lock;
    auto const run = [&] {
        try {
            for (int piece = next++; piece < pieces; piece = next++) { work(piece); }
        } catch (...) {
            std::scoped_lock const lock{trouble_lock};
            if (!trouble) { trouble = std::current_exception(); }
            next = pieces;
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
