#include <cstddef>
#include <unordered_map>

#include <fmt/format.h>

#include <epicotyl/plan/plan.hpp>
#include <epicotyl/plan/plan_file.hpp>

#include "../weather/text_file.hpp"
#include "check.hpp"
#include "writer.hpp"

namespace epicotyl {

namespace detail {

namespace {

/// One value to a line, so that each can have its comment.
[[nodiscard]] bool is_long_section(std::vector<std::string> const& keys) {
    std::string const& first = keys[0];
    switch (keys.size()) {
        case 1:
            return true;
        case 2:
            return first == "places" || first == "containers" || first == "crops" ||
                   (first == "succession" &&
                    (keys[1] == "not_before" || keys[1] == "not_after" || keys[1] == "stage"));
        case 3:
            return (first == "crops") || (first == "succession" && keys[1] == "stage");
        default:
            return false;
    }
}

/// Same value, whether a number is written with a point or without, and in whatever order.
[[nodiscard]] bool says_the_same(plan_tree const& a, plan_tree const& b) {
    auto const is_number = [](plan_tree const& node) {
        return node.is(plan_tree::kind::number) || node.is(plan_tree::kind::whole);
    };
    if (is_number(a) && is_number(b)) { return a.as_number() == b.as_number(); }
    bool const is_table = a.is(plan_tree::kind::table);
    if (a.what() != b.what() || (!is_table && !a.is(plan_tree::kind::list))) { return a == b; }
    if (a.items().size() != b.items().size()) { return false; }
    for (std::size_t i = 0; i < a.items().size(); ++i) {
        plan_tree const* const other = is_table ? b.find(a.keys()[i]) : &b.items()[i];
        if (other == nullptr || !says_the_same(a.items()[i], *other)) { return false; }
    }
    return true;
}

[[nodiscard]] std::string in_quotes(std::string const& text) {
    return to_string(plan_tree{text});
}

/// The key of a path's end: "hold" of "crops.zinnia.stages[2].hold".
[[nodiscard]] bool ends_with_key(std::string_view path, std::string_view key) {
    return path.size() > key.size() && path.ends_with(key) &&
           path[path.size() - key.size() - 1] == '.';
}

/// Says of every value of a plan where it comes from.
class origin_finder {
public:
    origin_finder(plan_tree const& source, plan const& of) : source_{source} {
        for (crop const& one : of.parts().crops) { crop_fields_.push_back(crop_field(one)); }
        for (resolved_succession const& one : of.successions()) {
            if (!first_member_.try_emplace(one.source, &one).second) { continue; }
            bool const changed =
                !of.parts().successions[static_cast<std::size_t>(one.source)].changes.empty();
            for (std::size_t j = 0; j < one.places.size(); ++j) {
                std::string const field =
                    changed ? fmt::format("{}.stage.{}", succession_field(one.source),
                                          written_key(one.grown->stages[j].begins))
                            : stage_field(*one.grown, static_cast<int>(j));
                places_.emplace(field + ".where",
                                of.places()[static_cast<std::size_t>(one.places[j])].name);
            }
        }
        for (std::size_t i = 0; i < of.parts().successions.size(); ++i) {
            auto const& again = of.parts().successions[i].repeat;
            if (!again) { continue; }
            std::size_t const first = static_cast<std::size_t>(
                first_member_.at(static_cast<int>(i)) - of.successions().data());
            std::size_t const last = first + static_cast<std::size_t>(again->times) - 1;
            repeats_.emplace(succession_field(static_cast<int>(i)) + ".repeat",
                             fmt::format("; {} to {}", in_quotes(of.successions()[first].name),
                                         in_quotes(of.successions()[last].name)));
        }
    }

    [[nodiscard]] std::string comment(std::string const& path, plan_tree const& value) const {
        std::string text = origin(path, value);
        auto const at_place = places_.find(path);
        if (at_place != places_.end() && value != plan_tree{at_place->second}) {
            text += "; stands in " + in_quotes(at_place->second);
        }
        if (auto const at = repeats_.find(path); at != repeats_.end()) { text += at->second; }
        return text;
    }

private:
    [[nodiscard]] static std::string at_line(plan_tree const& node) {
        return fmt::format("line {}", node.line());
    }

    [[nodiscard]] std::string origin(std::string const& path, plan_tree const& value) const {
        if (plan_tree const* const node = source_.find_path(path)) {
            return says_the_same(*node, value) ? at_line(*node) : at_line(*node) + ", spelled out";
        }
        if (path == "site.season_start") {
            return fmt::format("year, {}", at_line(*source_.find("year")));
        }
        if (ends_with_key(path, "hold")) {
            // A hold that is not written comes from a pair of weeks, here or in a crop that this
            // one is like, or from the end of one.
            std::string const takes = path.substr(0, path.size() - 4) + "takes";
            if (plan_tree const* const node = source_.find_path(takes)) {
                return value.what() == plan_tree::kind::boolean
                           ? "a new wait ends the pair of weeks, " + at_line(*node)
                           : "weeks, " + at_line(*node);
            }
        }
        for (std::string const& field : crop_fields_) {
            if (is_of(path, field)) { return crop_origin(field, path.substr(field.size()), value); }
        }
        if (path.starts_with("succession[")) { return succession_origin(path, value); }
        return "default";
    }

    [[nodiscard]] static bool is_of(std::string_view path, std::string_view owner) {
        return path.starts_with(owner) && path.size() > owner.size() && path[owner.size()] == '.';
    }

    /// Of a crop's value that is not its own: the crop that it is like, or a default. `rest` begins
    /// with a point.
    [[nodiscard]] std::string crop_origin(std::string const& field, std::string const& rest,
                                          plan_tree const& value) const {
        plan_tree const* const like = source_.find_path(field + ".like");
        bool const own_stages = source_.find_path(field + ".stages") != nullptr;
        if (like != nullptr && !(own_stages && rest.starts_with(".stages"))) {
            std::string const model = "crops." + written_key(like->as_text());
            std::string const found = origin(model + rest, value);
            return found == "default" || found.starts_with("by its event")
                       ? found
                       : fmt::format("like {}, {}", in_quotes(like->as_text()), found);
        }
        return ends_with_key(rest, "who") ? "by its event" : "default";
    }

    [[nodiscard]] std::string succession_origin(std::string const& path,
                                                plan_tree const& value) const {
        std::size_t const end = path.find(']');
        int const index = std::stoi(path.substr(11, end - 11)) - 1;
        std::string const rest = path.substr(end + 1);
        std::string const of_crop = crop_field(*first_member_.at(index)->grown);
        if (rest == ".name") { return "the crop's"; }
        if (rest.starts_with(".not_before.") || rest.starts_with(".not_after.")) {
            return "the crop's, " + origin(of_crop + rest, value);
        }
        if (rest == ".risk" && first_member_.at(index)->grown->risk) {
            return "the crop's, " + origin(of_crop + rest, value);
        }
        if (rest == ".prefer") { return prefer_origin(*first_member_.at(index), of_crop, value); }
        if (rest == ".risk" || rest == ".reliability") {
            plan_tree const* const node = source_.find_path("defaults" + rest);
            return node != nullptr ? "defaults, " + at_line(*node) : "default";
        }
        return "default";
    }

    [[nodiscard]] std::string prefer_origin(resolved_succession const& one,
                                            std::string const& of_crop,
                                            plan_tree const& value) const {
        if (one.grown->prefer) { return "the crop's, " + origin(of_crop + ".prefer", value); }
        return one.prefer == preference::late
                   ? "default"
                   : "default for a spring harvest that heat stops, of what is sown where it stays";
    }

    plan_tree const& source_;
    std::vector<std::string> crop_fields_;
    std::unordered_map<int, resolved_succession const*> first_member_;
    std::unordered_map<std::string, std::string> places_;   ///< by path of "where"
    std::unordered_map<std::string, std::string> repeats_;  ///< what a repeat became, by path
};

}  // namespace

}  // namespace detail

std::string expand_plan(std::filesystem::path const& file) {
    plan_tree const source = parse_toml(detail::read_text_file(file), file.string());
    plan const read = plan_from_tree(source, file.string());
    detail::origin_finder const origins{source, read};
    auto const comment = [&](std::string const& path, plan_tree const& value) {
        return origins.comment(path, value);
    };
    return fmt::format(
               "# The long form of {}: every value that is used, and where it comes from.\n",
               detail::in_quotes(file.filename().string())) +
           detail::written_toml(detail::tree_of(read, detail::extent::full),
                                {detail::is_long_section, comment});
}

plan_parts plan::parts() && {
    return data_->parts;
}

bool operator==(plan const& a, plan const& b) {
    return a.parts() == b.parts();
}

}  // namespace epicotyl
