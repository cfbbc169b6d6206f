// Changes that leave a text a plan more often than changes of single bytes do: another number where
// one stands, a line twice, without its fellows or elsewhere.
#ifndef EPICOTYL_TESTS_FUZZ_PLAN_MUTATION_HPP
#define EPICOTYL_TESTS_FUZZ_PLAN_MUTATION_HPP

#include <cctype>
#include <cstddef>
#include <iterator>
#include <random>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace epicotyl::fuzz {

class plan_mutation {
public:
    explicit plan_mutation(unsigned seed) : random_{seed} {}

    [[nodiscard]] std::string of(std::string text) {
        switch (below(4)) {
            case 0:
                return with_other_line(std::move(text));
            case 1:
                return with_moved_day(std::move(text));
            default:
                return with_other_number(std::move(text));
        }
    }

private:
    struct part {
        std::size_t at;
        std::size_t size;
    };

    std::size_t below(std::size_t count) {
        return std::uniform_int_distribution<std::size_t>{0, count - 1}(random_);
    }

    /// Digits with what belongs to them.
    [[nodiscard]] static std::vector<part> numbers_of(std::string_view text) {
        std::vector<part> found;
        for (std::size_t i = 0; i < text.size(); ++i) {
            bool const begins = std::isdigit(static_cast<unsigned char>(text[i])) != 0 ||
                                (text[i] == '-' && i > 0 && text[i - 1] == ' ');
            if (!begins || (i > 0 && std::isalpha(static_cast<unsigned char>(text[i - 1])) != 0)) {
                continue;
            }
            std::size_t const end = text.find_first_not_of("0123456789.eE+-_", i + 1);
            found.push_back({i, (end == std::string_view::npos ? text.size() : end) - i});
            i += found.back().size;
        }
        return found;
    }

    [[nodiscard]] std::string with_other_number(std::string text) {
        static constexpr std::string_view others[] = {
            "0",      "1",     "2",     "-1",   "0.5",  "1e306",      "-1e306",     "1e-306",
            "5e-324", "nan",   "inf",   "-inf", "-0.0", "2147483647", "2147483648", "-2147483648",
            "60",     "-60",   "59.9",  "-90",  "1e6",  "999999.0",   "36525",      "36524.5",
            "32767",  "32768", "1500",  "549",  "550",  "100000",     "1000000000", "0.001",
            "0.01",   "1000",  "false", "true", "24",   "0.999",      "12.5",       "3"};
        std::vector<part> const numbers = numbers_of(text);
        if (numbers.empty()) { return text; }
        part const chosen = numbers[below(numbers.size())];
        std::string const was = text.substr(chosen.at, chosen.size);
        std::string now{others[below(std::size(others))]};
        if (below(4) == 0) { now = was + "0"; }
        if (below(8) == 0) {  // as another number of the plan
            part const other = numbers[below(numbers.size())];
            now = text.substr(other.at, other.size);
        }
        return text.replace(chosen.at, chosen.size, now);
    }

    [[nodiscard]] std::string with_moved_day(std::string text) {
        std::vector<std::size_t> days;
        for (std::size_t at = text.find("-0"); at != std::string::npos;
             at = text.find("-0", at + 1)) {
            if (at + 2 < text.size() && at >= 4) { days.push_back(at); }
        }
        if (days.empty()) { return with_other_number(std::move(text)); }
        std::size_t const at = days[below(days.size())];
        text[at + 2] = static_cast<char>('0' + below(10));
        if (below(4) == 0) { text[at - 1] = static_cast<char>('0' + below(10)); }
        return text;
    }

    [[nodiscard]] std::string with_other_line(std::string text) {
        std::vector<std::string> lines;
        std::size_t from = 0;
        while (from < text.size()) {
            std::size_t const end = std::min(text.find('\n', from), text.size() - 1);
            lines.push_back(text.substr(from, end + 1 - from));
            from = end + 1;
        }
        if (lines.empty()) { return text; }
        std::size_t const at = below(lines.size());
        std::string const line = lines[at];
        auto const place = [&](std::size_t index) {
            return lines.begin() + static_cast<std::ptrdiff_t>(index);
        };
        switch (below(3)) {
            case 0:
                lines.erase(place(at));
                break;
            case 1:
                lines.insert(place(below(lines.size())), line);
                break;
            default:
                lines.erase(place(at));
                lines.insert(place(below(lines.size() + 1)), line);
                break;
        }
        std::string made;
        for (std::string const& one : lines) { made += one; }
        return made;
    }

    std::minstd_rand random_;
};

}  // namespace epicotyl::fuzz

#endif
