#include <algorithm>
#include <array>
#include <cmath>
#include <memory>
#include <unordered_map>
#include <utility>

#include <fmt/format.h>

#include <epicotyl/plan/plan.hpp>
#include <epicotyl/plan/plan_file.hpp>

#include "../weather/text_file.hpp"
#include "check.hpp"
#include "key_reader.hpp"
#include "readers.hpp"

namespace epicotyl {

namespace detail {

namespace {

/// Crops, each after the one that it is like.
class crop_reader {
public:
    explicit crop_reader(plan_node const& node) : entries_{node.entries()}, read_(entries_.size()) {
        for (std::size_t i = 0; i < entries_.size(); ++i) { index_.emplace(entries_[i].first, i); }
    }

    [[nodiscard]] std::vector<crop> all() {
        std::vector<crop> crops;
        for (std::size_t i = 0; i < entries_.size(); ++i) { crops.push_back(at(i)); }
        return crops;
    }

private:
    crop const& at(std::size_t index) {
        if (!read_[index]) {
            plan_node const& node = entries_[index].second;
            std::vector<std::string_view> known{"like"};
            known.insert(known.end(), keys_of<crop>().begin(), keys_of<crop>().end());
            node.allow(known);
            crop own = like(node, entries_[index].first);
            key_reader::read(node, own);
            read_[index] = std::move(own);
        }
        return *read_[index];
    }

    [[nodiscard]] crop like(plan_node const& node, std::string const& name) {
        auto const model = node.get("like");
        if (!model) {
            (void)node.need("stages", "list its stages, or name a crop that it is like");
            return crop{.name = name};
        }
        auto const found = index_.find(model->name());
        if (found == index_.end()) {
            std::vector<std::string> names;
            for (auto const& entry : entries_) { names.push_back(entry.first); }
            refuse_unknown("crop", model->name(), model->path(), names,
                           "give the crop its own stages");
        }
        open_.push_back(index_.at(name));
        if (std::find(open_.begin(), open_.end(), found->second) != open_.end()) {
            model->refuse("crop.like_itself",
                          fmt::format("\"{}\" is like itself in the end", model->name()),
                          "give one of the crops stages of its own");
        }
        if (open_.size() > longest_likeness) {
            model->refuse(
                "crop.like_too_far",
                fmt::format("more than {} crops are like one another in a row", longest_likeness),
                "let it be like a crop that has stages of its own");
        }
        crop copy = at(found->second);
        open_.pop_back();
        copy.name = name;
        copy.id.clear();
        return copy;
    }

    static constexpr std::size_t longest_likeness = 100;

    std::vector<std::pair<std::string, plan_node>> entries_;
    std::vector<std::optional<crop>> read_;
    std::vector<std::size_t> open_;  ///< crops being read, each like the next
    std::unordered_map<std::string, std::size_t> index_;
};

/// A pair of weeks says how long plants wait and how long they hold; another wait in its place
/// ends both.
void end_replaced_holds(plan_tree const& crops, plan_parts& parts) {
    for (succession& one : parts.successions) {
        auto const grown =
            std::find_if(parts.crops.begin(), parts.crops.end(), [&](crop const& other) {
                return other.name == one.crop || (!other.id.empty() && other.id == one.crop);
            });
        if (grown == parts.crops.end()) { continue; }
        for (stage_change& change : one.changes) {
            if (change.takes && !change.hold &&
                waits_by_a_pair(crops, grown->name, change.begins)) {
                change.hold = any_hold;
            }
        }
    }
}

/// First day: `season_start` of the site, or the `year` in which the season begins.
[[nodiscard]] day read_season_start(plan_node const& root, plan_node const& site,
                                    latitude const& where) {
    auto const start = site.get("season_start");
    auto const year = root.get("year");
    if (start && year) {
        year->refuse("season.start_twice", "the season start of [site] says the year already",
                     "keep one of year and season_start");
    }
    if (start) { return start->date(); }
    if (!year) {
        (void)site.need("season_start",
                        "say in which season the plan is, with year = 2027 or "
                        "[site] season_start = 2027-01-01");
    }
    int const value = year->whole();
    if (value < first_season_year || value > last_season_year) {
        year->refuse("season.year", fmt::format("{} is no year of a plan", value),
                     "give the year in which the season begins, such as 2027",
                     fmt::format("{} to {}", first_season_year, last_season_year));
    }
    return make_day(value, where.value() >= 0.0 ? 1 : 7, 1);
}

void require_format(plan_node const& root) {
    plan_node const format = root.need("format", "begin the plan with format = 1");
    if (format.whole() != 1) {
        format.refuse("plan.format", fmt::format("format {} is not known here", format.written()),
                      "write format = 1, or use a later version of the library", "1");
    }
}

[[nodiscard]] unit_system read_units(plan_node const& root) {
    static constexpr std::string_view words[] = {"metric", "us"};
    return static_cast<unit_system>(root.need("units", "write units = \"metric\" or units = \"us\"")
                                        .word(words, "unit system"));
}

/// What is beyond the poles and no further than the date line is a longitude.
[[nodiscard]] latitude read_latitude(plan_node const& node) {
    double const degrees = node.number("degrees");
    if (std::abs(degrees) > 90.0 && std::abs(degrees) <= 180.0) {
        node.refuse("latitude.out_of_range", fmt::format("{} is out of range", degrees),
                    "give degrees, negative south of the equator - or is that the longitude?",
                    "-90 to 90", "degrees north");
    }
    return node.said([&] { return latitude{degrees}; });
}

void read_defaults(plan_node const& defaults, plan_parts& parts) {
    defaults.allow({"risk", "reliability"});
    if (auto const risk = defaults.get("risk")) { parts.risk = read_risk(*risk); }
    if (auto const share = defaults.get("reliability")) {
        parts.reliability = share->reliability();
    }
}

}  // namespace

open_days read_open(plan_node const& node) {
    std::vector<plan_node> const pair = node.items("give the first and the last day");
    if (pair.size() != 2) {
        node.refuse("place.open", fmt::format("{} is no pair", node.written()),
                    "give the first and the last day, such as [2027-04-01, 2027-10-15]", "2",
                    "dates");
    }
    return {pair[0].date(), pair[1].date()};
}

year_selection read_years(plan_node const& node) {
    if (node.is(plan_tree::kind::text)) {
        static constexpr std::string_view words[] = {"all"};
        (void)node.word(words, "choice of years");
        return year_selection::all();
    }
    if (!node.is(plan_tree::kind::list)) {
        int const count = node.whole("years");
        return node.said([&] { return year_selection::latest(count); });
    }
    std::vector<plan_node> const pair = node.items("");
    if (pair.size() != 2) {
        node.refuse("years.pair", fmt::format("{} is no pair", node.written()),
                    "give the first and the last year, such as [1991, 2020]", "2", "years");
    }
    int const first = pair[0].whole();
    int const last = pair[1].whole();
    return node.said([&] { return year_selection::between(first, last); });
}

std::array<temperature, 12> read_months(plan_node const& node) {
    std::vector<plan_node> const given = node.items("list the twelve monthly means");
    std::array<temperature, 12> months;
    if (given.size() != months.size()) {
        node.refuse("normals.months",
                    fmt::format("{} value{} {} not twelve months", given.size(),
                                given.size() == 1 ? "" : "s", given.size() == 1 ? "is" : "are"),
                    "give the means of January to December in this order", "12", "months");
    }
    for (std::size_t m = 0; m < months.size(); ++m) { months[m] = given[m].degrees(); }
    return months;
}

bool has_normals(plan_node const& site) {
    if (site.get("monthly_low") || site.get("monthly_high")) { return true; }
    for (auto const& alone : {site.get("normal_years"), site.get("normal_seed")}) {
        if (!alone) { continue; }
        alone->refuse("normals.missing", "the site has no normals to make season years of",
                      "give monthly_low and monthly_high as well, or leave this out");
    }
    return false;
}

place read_place(std::string name, plan_node const& node) {
    node.allow(keys_of<place>());
    place read{.name = std::move(name)};
    // Of two faults that of the air is told.
    key_reader::read(node, read.air);
    key_reader::read(node, read);
    return read;
}

[[nodiscard]] static container read_container(std::string name, plan_node const& node) {
    container read = key_reader::whole<container>(node);
    read.name = std::move(name);
    return read;
}

std::vector<crop> read_crops(plan_node const& node) {
    return crop_reader{node}.all();
}

bool waits_by_a_pair(plan_tree const& crops, std::string const& name, std::string_view begins) {
    plan_tree const* of = crops.find(name);
    while (of->find("stages") == nullptr) { of = crops.find(of->find("like")->as_text()); }
    for (plan_tree const& one : of->find("stages")->items()) {
        if (one.find("begins")->as_text() != begins) { continue; }
        plan_tree const& takes = *one.find("takes");
        plan_tree const* const weeks =
            takes.what() == plan_tree::kind::table ? takes.find("weeks") : nullptr;
        return weeks != nullptr && weeks->what() == plan_tree::kind::list;
    }
    return false;
}

/// Every entry of a table of named ones, which need not be there.
template <class Read>
auto read_named(std::optional<plan_node> const& table, Read const& read) {
    std::vector<decltype(read(std::string{}, *table))> all;
    if (!table) { return all; }
    for (auto const& [name, node] : table->entries()) { all.push_back(read(name, node)); }
    return all;
}

plan_parts read_parts(plan_tree const& tree) {
    unit_door const no_units{unit_system::metric};
    plan_node const bare{tree, "", no_units};
    require_format(bare);
    unit_system const units = read_units(bare);
    unit_door const door{units};
    plan_node const root{tree, "", door};
    root.allow({"format", "year", "units", "title", "defaults", "site", "events", "places",
                "containers", "crops", "succession", "link"});
    plan_node const site = root.need("site", "add [site] with at least the latitude of the plants");
    std::vector<std::string_view> of_site{"latitude", "season_start", "season_days"};
    add_keys(of_site, plan_parts{.window = season{day{}}, .where = latitude{0.0}});
    site.allow(of_site);
    plan_node const north = site.need("latitude", "give degrees, negative south of the equator");
    latitude const where = read_latitude(north);
    day const start = read_season_start(root, site, where);
    auto const length = site.get("season_days");
    season const window = length ? length->said([&] {
        return season{start, length->whole("days")};
    })
                                 : season{start};

    plan_parts parts{.units = units, .window = window, .where = where};
    if (auto const title = root.get("title")) { parts.title = title->text(); }
    key_reader::read(site, parts);
    if (auto const defaults = root.get("defaults")) { read_defaults(*defaults, parts); }
    if (auto const events = root.get("events")) {
        for (plan_node const& one : events->items("list the events beyond the known ones")) {
            parts.events.push_back(one.name());
        }
    }
    parts.places = read_named(root.get("places"), read_place);
    parts.containers = read_named(root.get("containers"), read_container);
    if (auto const crops = root.get("crops")) { parts.crops = read_crops(*crops); }
    if (auto const successions = root.get("succession")) {
        std::vector<plan_node> const all =
            successions->items("write [[succession]] for each of them");
        parts.successions.reserve(all.size());
        for (plan_node const& one : all) { parts.successions.push_back(read_succession(one)); }
    }
    if (auto const crops = root.get("crops")) { end_replaced_holds(crops->tree(), parts); }
    if (auto const links = root.get("link")) {
        for (plan_node const& one : links->items("write [[link]] for each of them")) {
            parts.links.push_back(read_link(one));
        }
    }
    return parts;
}

}  // namespace detail

namespace {

/// What a plan keeps of the tree that it was read from: of one without lines all but its long
/// lists, which nothing more could be told of than the parts say.
[[nodiscard]] plan_tree source_of(plan_tree tree) {
    if (tree.line_of("format") > 0) { return tree; }
    plan_tree kept = plan_tree::table();
    for (std::size_t i = 0; i < tree.keys().size(); ++i) {
        std::string const& key = tree.keys()[i];
        if (key != "succession" && key != "link") { kept.set(key, tree.items()[i]); }
    }
    return kept;
}

/// What `make` returns; what it throws is said of a line of the file.
template <class Make>
[[nodiscard]] auto said_in(std::string const& file_name, plan_tree const& tree, Make make) {
    try {
        return make();
    } catch (invalid_input const& fault) {
        throw fault.in_file(file_name, tree.line_of(fault.details().field));
    }
}

}  // namespace

plan plan_from_tree(plan_tree tree, std::string const& file_name) {
    plan_parts parts = said_in(file_name, tree, [&] { return detail::read_parts(tree); });
    auto const source = std::make_shared<plan_tree const>(source_of(std::move(tree)));
    return said_in(file_name, *source, [&] { return plan{std::move(parts), source, file_name}; });
}

plan parse_plan(std::string_view text, std::string const& file_name) {
    return plan_from_tree(parse_toml(text, file_name), file_name);
}

plan read_plan(std::filesystem::path const& file) {
    return parse_plan(detail::read_text_file(file), file.string());
}

}  // namespace epicotyl
