#include <epicotyl/season/rows/requirement.hpp>

#include <array>

namespace epicotyl {

std::string_view to_string(requirement_kind of) noexcept {
    static constexpr std::array<std::string_view, 10> words = {
        "season_start", "not_before", "not_after", "target",  "stage",
        "hold",         "link",       "within",    "planned", "season_end"};
    return words[static_cast<std::size_t>(of)];
}

}  // namespace epicotyl
