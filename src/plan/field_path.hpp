// Where a value stands in a plan, such as `crops.tomato.stages[2].takes.heat`: written out only
// when the value is refused, which hardly any is.
#ifndef EPICOTYL_SRC_PLAN_FIELD_PATH_HPP
#define EPICOTYL_SRC_PLAN_FIELD_PATH_HPP

#include <string>
#include <string_view>

#include <fmt/format.h>

#include <epicotyl/plan/plan_tree.hpp>

namespace epicotyl::detail {

/// Refers to the path before it and to its texts, which must outlive it: made on the way down, and
/// handed on by reference.
class field_path {
public:
    /// `key` is quoted where it is no bare key; `number` counts from 1, 0 where there is none.
    explicit field_path(std::string_view text, std::string_view key = {}, int number = 0)
        : text_{text}, key_{key}, number_{number} {}
    field_path(field_path const& before, std::string_view text, std::string_view key = {},
               int number = 0)
        : before_{&before}, text_{text}, key_{key}, number_{number} {}

    [[nodiscard]] friend field_path operator+(field_path const& before, std::string_view text) {
        return {before, text};
    }

    [[nodiscard]] std::string text() const {
        std::string all = before_ == nullptr ? std::string{} : before_->text();
        all += text_;
        if (!key_.empty()) { all += written_key(key_); }
        if (number_ > 0) { all += fmt::format("[{}]", number_); }
        return all;
    }

private:
    field_path const* before_ = nullptr;
    std::string_view text_;
    std::string_view key_;
    int number_;
};

}  // namespace epicotyl::detail

#endif
