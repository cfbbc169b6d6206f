#include "node.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <epicotyl/detail/nearest.hpp>
#include <epicotyl/detail/whole.hpp>

namespace epicotyl::detail {

namespace {

/// Longest value that a message repeats in full, in bytes.
constexpr std::size_t longest_value = 60;

[[nodiscard]] std::string shortened(std::string text) {
    if (text.size() <= longest_value) { return text; }
    std::size_t end = longest_value;
    // Not in the middle of a letter of UTF-8.
    while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xc0U) == 0x80U) { --end; }
    return text.substr(0, end) + " ...";
}

[[nodiscard]] bool looks_like_a_date(std::string_view text) {
    return text.size() == 10 && text[4] == '-' && text[7] == '-';
}

}  // namespace

std::string plan_node::path() const {
    if (above_ == nullptr) { return start_; }
    return number_ > 0 ? fmt::format("{}[{}]", above_->path(), number_) : above_->path_to(key_);
}

std::string plan_node::path_to(std::string_view key) const {
    std::string all = path();
    if (!all.empty()) { all += '.'; }
    return all += written_key(key);
}

std::string plan_node::written() const {
    return shortened(to_string(*tree_));
}

void plan_node::refuse(std::string code, std::string problem, std::string remedy, std::string bound,
                       std::string_view unit) const {
    throw invalid_input{{.code = std::move(code),
                         .field = path(),
                         .value = written(),
                         .bound = std::move(bound),
                         .unit = std::string{unit},
                         .problem = std::move(problem),
                         .remedy = std::move(remedy)}};
}

void plan_node::refuse_kind(std::string_view wanted, std::string_view remedy) const {
    refuse("plan.wrong_kind",
           fmt::format("{} is {}, not {}", written(), kind_name(tree_->what()), wanted),
           std::string{remedy});
}

void plan_node::want(plan_tree::kind one, std::string_view remedy) const {
    if (!is(one)) { refuse_kind(kind_name(one), remedy); }
}

void plan_node::allow(std::vector<std::string_view> const& keys,
                      std::vector<std::string_view> const& more) const {
    auto const is_among = [](std::vector<std::string_view> const& some, std::string_view key) {
        return std::find(some.begin(), some.end(), key) != some.end();
    };
    auto const all = [&] {
        std::vector<std::string_view> both = keys;
        both.insert(both.end(), more.begin(), more.end());
        return both;
    };
    if (!is(plan_tree::kind::table)) {
        refuse_kind("a table", fmt::format("write {{ key = value, ... }} with keys of: {}",
                                           fmt::join(all(), ", ")));
    }
    for (std::string const& key : tree_->keys()) {
        if (is_among(keys, key) || is_among(more, key)) { continue; }
        throw invalid_input{
            {.code = "plan.unknown_key",
             .field = path_to(key),
             .value = key,
             .problem = fmt::format("there is no key \"{}\" here", key),
             .remedy = fmt::format("the nearest is \"{}\"; all keys: {}", *nearest_word(key, all()),
                                   fmt::join(all(), ", "))}};
    }
}

std::optional<plan_node> plan_node::get(std::string_view key) const {
    plan_tree const* const found = tree_->find(key);
    if (found == nullptr) { return std::nullopt; }
    return plan_node{*found, *this, key, 0};
}

plan_node plan_node::need(std::string_view key, std::string_view remedy) const {
    std::optional<plan_node> found = get(key);
    if (!found) {
        throw invalid_input{{.code = "plan.missing_key",
                             .field = path(),
                             .problem = fmt::format("\"{}\" is missing", key),
                             .remedy = std::string{remedy}}};
    }
    return *found;
}

std::string_view plan_node::choose(std::vector<std::string_view> const& keys,
                                   std::string_view thing) const {
    std::string_view chosen;
    for (std::string_view const key : keys) {
        if (tree_->find(key) == nullptr) { continue; }
        if (!chosen.empty()) {
            throw invalid_input{
                {.code = "plan.two_of_one",
                 .field = path(),
                 .value = written(),
                 .problem = fmt::format("both \"{}\" and \"{}\" say {}", chosen, key, thing),
                 .remedy = "keep one of them"}};
        }
        chosen = key;
    }
    if (chosen.empty()) {
        throw invalid_input{{.code = "plan.none_of_one",
                             .field = path(),
                             .value = written(),
                             .problem = fmt::format("nothing says {}", thing),
                             .remedy = fmt::format("give one of: {}", fmt::join(keys, ", "))}};
    }
    return chosen;
}

std::vector<std::pair<std::string, plan_node>> plan_node::entries() const {
    if (!is(plan_tree::kind::table)) {
        refuse_kind("a table", "write a table of names and their values");
    }
    std::vector<std::pair<std::string, plan_node>> all;
    for (std::size_t i = 0; i < tree_->keys().size(); ++i) {
        std::string const& key = tree_->keys()[i];
        all.emplace_back(key, plan_node{tree_->items()[i], *this, key, 0});
    }
    return all;
}

std::vector<plan_node> plan_node::items(std::string_view remedy) const {
    want(plan_tree::kind::list, remedy);
    std::vector<plan_node> all;
    for (std::size_t i = 0; i < tree_->items().size(); ++i) {
        all.push_back(plan_node{tree_->items()[i], *this, {}, static_cast<int>(i) + 1});
    }
    return all;
}

double plan_node::number(std::string_view unit) const {
    if (!is(plan_tree::kind::number) && !is(plan_tree::kind::whole)) {
        refuse_kind("a number", unit.empty() ? std::string{"write a number without quotes"}
                                             : fmt::format("write a number of {}", unit));
    }
    double const value = tree_->as_number();
    if (!std::isfinite(value)) {
        refuse("number.not_finite", fmt::format("{} is not a number that can be used", value),
               unit.empty() ? std::string{"give a finite number"}
                            : fmt::format("give a finite number of {}", unit));
    }
    return value;
}

int plan_node::whole(std::string_view unit) const {
    // Whole numbers of a plan count days, cells and years; a thousand million is more than any.
    constexpr double largest = 1e9;
    double const value = number(unit);
    if (value != std::floor(value) || std::abs(value) > largest) {
        refuse("plan.not_whole", fmt::format("{} is no whole number that can be used", written()),
               "give a whole number", "whole numbers");
    }
    return whole_of(value);
}

bool plan_node::flag() const {
    want(plan_tree::kind::boolean, "write true or false without quotes");
    return tree_->as_boolean();
}

std::string plan_node::text() const {
    want(plan_tree::kind::text, "write it in quotes");
    return tree_->as_text();
}

std::string plan_node::name() const {
    std::string const value = text();
    if (value.empty()) { refuse("plan.empty_text", "the text is empty", "give a name"); }
    return value;
}

day plan_node::date() const {
    bool const in_quotes = is(plan_tree::kind::text) && looks_like_a_date(tree_->as_text());
    want(plan_tree::kind::date, in_quotes ? "write the date without quotes"
                                          : "write year-month-day without quotes, such as "
                                            "2027-03-01");
    return tree_->as_date();
}

std::size_t plan_node::word(std::span<std::string_view const> words, std::string_view thing) const {
    if (!is(plan_tree::kind::text)) {
        refuse_kind("a text", fmt::format("write one of: \"{}\"", fmt::join(words, "\", \"")));
    }
    auto const at = std::find(words.begin(), words.end(), tree_->as_text());
    if (at == words.end()) {
        refuse("plan.unknown_word", fmt::format("there is no {} {}", thing, written()),
               fmt::format("the nearest is \"{}\"", *nearest_word(tree_->as_text(), words)),
               fmt::format("\"{}\"", fmt::join(words, "\", \"")));
    }
    return static_cast<std::size_t>(at - words.begin());
}

temperature plan_node::degrees() const {
    double const value = number(door_->unit(quantity::temperature));
    return temperature::from_celsius(door_->to_core(quantity::temperature, value));
}

temperature_span plan_node::span_of_degrees() const {
    double const value = number(door_->unit(quantity::span));
    return temperature_span::from_kelvin(door_->to_core(quantity::span, value));
}

thermal_time plan_node::heat() const {
    double const value = number(door_->unit(quantity::heat));
    if (value < 0.0) {
        refuse("thermal_time.negative", fmt::format("{} is negative", written()),
               "give the sum above the base", "0 or more", door_->unit(quantity::heat));
    }
    return thermal_time::from_kelvin_days(door_->to_core(quantity::heat, value));
}

double plan_node::measure(quantity what) const {
    return door_->to_core(what, number(door_->unit(what)));
}

}  // namespace epicotyl::detail
