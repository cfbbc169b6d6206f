#include "editor.hpp"

#include <algorithm>
#include <charconv>
#include <numeric>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include <epicotyl/plan/plan.hpp>

#include "check.hpp"

namespace epicotyl {

namespace {

constexpr std::string_view succession_key = "succession[";

/// True for a field and for all below it.
[[nodiscard]] bool is_within(std::string_view field, std::string_view above) {
    if (!field.starts_with(above)) { return false; }
    std::string_view const rest = field.substr(above.size());
    return rest.empty() || rest.front() == '.' || rest.front() == '[';
}

}  // namespace

std::optional<std::string> plan::field_in_tree(std::string_view field) const {
    edits const& made = data_->edits;
    std::string written{field};
    if (!made.successions.empty() && field.starts_with(succession_key)) {
        std::size_t number = 0;
        char const* const from = field.data() + succession_key.size();
        char const* const end = field.data() + field.size();
        auto const [rest, fault] = std::from_chars(from, end, number);
        if (fault != std::errc{} || number < 1 || number > made.successions.size()) {
            return std::nullopt;
        }
        int const index = made.successions[number - 1];
        if (index < 0) { return std::nullopt; }
        // What follows the bracket is the same in the tree.
        written = detail::succession_field(index) + std::string{rest + 1, end};
    }
    bool const is_changed =
        std::any_of(made.changed.begin(), made.changed.end(),
                    [&](std::string const& one) { return is_within(written, one); });
    return is_changed ? std::nullopt : std::optional<std::string>{std::move(written)};
}

namespace detail {

namespace {

/// Index of the part with a name or an id, none when there is no such part.
template <class Part>
[[nodiscard]] int index_of(std::vector<Part> const& all, std::string_view name) {
    for (std::size_t i = 0; i < all.size(); ++i) {
        if (all[i].name == name || (!all[i].id.empty() && all[i].id == name)) {
            return static_cast<int>(i);
        }
    }
    return -1;
}

[[nodiscard]] std::string_view name_as_written(succession const& written,
                                               resolved_succession const& first) {
    return written.name.empty() ? std::string_view{first.grown->name}
                                : std::string_view{written.name};
}

}  // namespace

int plan_editor::succession_index(std::string_view name) const {
    std::vector<std::string> known;
    for (resolved_succession const& one : of_.successions()) {
        if (one.repeat_of) { continue; }
        succession const& written = parts_.successions[static_cast<std::size_t>(one.source)];
        std::string_view const own = name_as_written(written, one);
        if (own == name || (!written.id.empty() && written.id == name)) { return one.source; }
        known.emplace_back(own);
    }
    for (resolved_succession const& one : of_.successions()) {
        if (one.name != name && one.id != name) { continue; }
        // `known` has one name for each of the parts.
        std::string const& whole = known[static_cast<std::size_t>(one.source)];
        refuse_part("edit.member_of_repeat", "succession", std::string{name},
                    fmt::format("\"{}\" is one of a repeat and not written by itself", name),
                    fmt::format("edit \"{}\", of which all of them are made, or write each of them "
                                "as a succession",
                                whole));
    }
    refuse_unknown("succession", name, "succession", known, "the plan has none");
}

int plan_editor::place_index(std::string_view name) const {
    return of_.place_index(name);
}

int plan_editor::crop_index(std::string_view name) const {
    int const found = index_of(parts_.crops, name);
    if (found >= 0) { return found; }
    refuse_unknown("crop", name, "crop", names_of(parts_.crops), "the plan has none");
}

void plan_editor::changed(std::string field) {
    if (of_.source() == nullptr) { return; }
    auto const known = std::find(edits_.changed.begin(), edits_.changed.end(), field);
    if (known == edits_.changed.end()) { edits_.changed.push_back(std::move(field)); }
}

void plan_editor::changed_succession(int index, std::string_view key) {
    int const in_tree =
        edits_.successions.empty() ? index : edits_.successions[static_cast<std::size_t>(index)];
    if (in_tree >= 0) { changed(succession_field(in_tree) + std::string{key}); }
}

void plan_editor::add_succession(succession one) {
    number_successions();
    parts_.successions.push_back(std::move(one));
    edits_.successions.push_back(-1);
}

void plan_editor::remove_succession(int index) {
    number_successions();
    parts_.successions.erase(parts_.successions.begin() + index);
    edits_.successions.erase(edits_.successions.begin() + index);
}

void plan_editor::number_successions() {
    if (!edits_.successions.empty()) { return; }
    edits_.successions.resize(parts_.successions.size());
    std::iota(edits_.successions.begin(), edits_.successions.end(), 0);
}

plan plan_editor::made() && {
    plan::data data{.parts = std::move(parts_),
                    .source = of_.data_->source,
                    .file_name = of_.data_->file_name,
                    .edits = std::move(edits_)};
    if (data.source == nullptr) { data.edits = {}; }
    return plan{std::move(data)};
}

void set_bound(std::vector<event_bound>& bounds, std::string_view event, std::optional<rule> to,
               std::string const& field, std::string_view whose) {
    auto const found = std::find_if(bounds.begin(), bounds.end(),
                                    [&](event_bound const& one) { return one.event == event; });
    if (to && found != bounds.end()) {
        found->rule = *to;
    } else if (to) {
        bounds.push_back({std::string{event}, *to});
    } else if (found != bounds.end()) {
        bounds.erase(found);
    } else {
        refuse_part("edit.no_bound", field, std::string{event},
                    fmt::format("\"{}\" has no such bound of its own on \"{}\"", whose, event),
                    "a bound of its crop is changed in the crop");
    }
}

}  // namespace detail

}  // namespace epicotyl
