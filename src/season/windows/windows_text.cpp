#include <algorithm>
#include <sstream>
#include <tuple>

#include <fmt/format.h>
#include <boost/graph/graphviz.hpp>

#include <epicotyl/plan/plan.hpp>
#include <epicotyl/season/windows/planting_windows.hpp>
#include <epicotyl/season/windows/window_years.hpp>

#include "../../detail/wrapped.hpp"
#include "../rows/say.hpp"
#include "windows_data.hpp"

namespace epicotyl {

using detail::at;
using detail::say_day;
using detail::say_days;
using detail::say_event;

namespace {

/// A line so far in, and what does not fit on it.
std::string wrapped(std::string const& text, std::size_t indent) {
    return detail::wrapped(std::string(indent, ' ') + text) + '\n';
}

std::string chain_text(plan const& of, tightest_chain const& chain) {
    auto const say = [&](day when) {
        return say_day(of, of.window().offset_of(when));
    };
    chain_event const& middle = chain.events[at(chain.middle)];
    std::string text =
        wrapped(fmt::format("{} of {}: {} of room, {} of them without moving anything else{}",
                            say_event(middle.event), middle.succession, say_days(chain.slack),
                            chain.free_slack, chain.crosses_links ? "; crosses links" : ""),
                2);
    for (chain_event const& one : chain.events) {
        std::string const window = one.latest == one.earliest
                                       ? say(one.earliest)
                                       : fmt::format("{} to {}", say(one.earliest),
                                                     one.latest ? say(*one.latest) : "any day");
        text += wrapped(fmt::format("{}: {}, {} ({})", one.succession, say_event(one.event), window,
                                    one.tie.sentence),
                        4);
    }
    return text + wrapped(fmt::format("until: {}", chain.end.sentence), 4);
}

/// The first of the tightest chains: those that cross links, and those that do not.
std::string chains_text(planting_windows const& of) {
    constexpr int most_of_a_kind = 3;
    std::vector<tightest_chain> const chains = of.tightest_chains();
    if (chains.empty()) { return ""; }
    std::string text = "\nTightest chains\n";
    int told[2] = {0, 0};
    int left = 0;
    for (tightest_chain const& one : chains) {
        int& count = told[one.crosses_links ? 1 : 0];
        if (count == most_of_a_kind) {
            ++left;
            continue;
        }
        ++count;
        text += chain_text(of.plan(), one);
    }
    if (left > 0) { text += fmt::format("  and {} more\n", left); }
    return text;
}

/// A chain of several season years, whose days differ: its events, one succession after the other.
std::string chain_text(chain_in_years const& of, int years) {
    tightest_chain const& chain = of.chain;
    chain_event const& middle = chain.events[at(chain.middle)];
    std::string text = wrapped(
        fmt::format("{} of {}: tight in {}, usually with {} of room{}", say_event(middle.event),
                    middle.succession, detail::say_years(static_cast<int>(of.years.size()), years),
                    say_days(of.usual_slack), chain.crosses_links ? "; crosses links" : ""),
        2);
    std::string events;
    std::string const* last = nullptr;
    for (chain_event const& one : chain.events) {
        bool const goes_on = last != nullptr && *last == one.succession;
        if (last != nullptr) { events += goes_on ? ", " : "; "; }
        if (!goes_on) { events += one.succession + ": "; }
        events += say_event(one.event);
        last = &one.succession;
    }
    return text + wrapped(events, 4) + wrapped(fmt::format("until: {}", chain.end.sentence), 4);
}

std::string chains_text(window_years const& of) {
    constexpr int most_of_a_kind = 3;
    int const years = static_cast<int>(of.years().size());
    std::vector<chain_in_years> const chains = of.tightest_chains();
    if (chains.empty()) { return ""; }
    std::string text = "\nTightest chains\n";
    int told[2] = {0, 0};
    int left = 0;
    for (chain_in_years const& one : chains) {
        int& count = told[one.chain.crosses_links ? 1 : 0];
        if (count == most_of_a_kind) {
            ++left;
            continue;
        }
        ++count;
        text += chain_text(one, years);
    }
    if (left > 0) { text += fmt::format("  and {} more\n", left); }
    return text;
}

/// The whole farm as one graph, for drawing.
struct drawn_event {
    std::string label;
    bool is_bold = false;
};
struct drawn_tie {
    requirement_kind kind = requirement_kind::stage;
    bool is_bold = false;
};
using drawing =
    boost::adjacency_list<boost::vecS, boost::vecS, boost::bidirectionalS, drawn_event, drawn_tie>;

class drawer {
public:
    explicit drawer(planting_windows const& of)
        : windows_{of}, plan_{of.plan()}, chains_{first_of(of)} {}

    [[nodiscard]] std::string draw() {
        std::vector<resolved_succession> const& all = plan_.successions();
        for (int i = 0; i < static_cast<int>(all.size()); ++i) {
            first_.push_back(boost::num_vertices(graph_));
            for (int e = 0; e < event_count(*all[at(i)].grown); ++e) { add_event(i, e); }
        }
        for (int i = 0; i < static_cast<int>(all.size()); ++i) {
            for (int e = 0; e + 1 < event_count(*all[at(i)].grown); ++e) {
                add_tie({i, e}, {i, e + 1}, requirement_kind::stage);
            }
        }
        detail::window_frame const& frame = *windows_.data()->frame;
        for (detail::window_frame::batch const& batch : frame.batches) {
            for (detail::requirement_row const& row : batch.rows) {
                if (row.kind != requirement_kind::link) { continue; }
                for (event_of const& first : frame.counted_from(row)) {
                    add_tie(first, row.to, requirement_kind::link);
                }
            }
        }
        std::ostringstream text;
        boost::write_graphviz(
            text, graph_,
            [&](std::ostream& out, std::size_t v) {
                out << "[label=" << quoted(graph_[v].label)
                    << (graph_[v].is_bold ? ", penwidth=3]" : "]");
            },
            [&](std::ostream& out, auto const& tie) {
                out << "[style="
                    << (graph_[tie].kind == requirement_kind::link ? "dashed" : "solid")
                    << (graph_[tie].is_bold ? ", penwidth=3]" : "]");
            },
            [](std::ostream& out) {
                out << "graph [rankdir=LR];\nnode [shape=box, fontname=\"sans-serif\"];\n";
            });
        return text.str();
    }

private:
    [[nodiscard]] static std::string quoted(std::string const& text) {
        std::string made = "\"";
        for (char const c : text) {
            if (c == '\n') {
                made += "\\n";
                continue;
            }
            if (c == '"' || c == '\\') { made += '\\'; }
            made += c;
        }
        return made + '"';
    }

    [[nodiscard]] std::string const& name(int i) const { return plan_.successions()[at(i)].name; }
    [[nodiscard]] std::string event(event_of const& of) const {
        return std::string{event_name(*plan_.successions()[at(of.succession)].grown, of.event)};
    }

    /// The first of the tightest chains, and those that tie with it.
    [[nodiscard]] static std::vector<tightest_chain> first_of(planting_windows const& of) {
        std::vector<tightest_chain> chains = of.tightest_chains();
        auto const differs =
            std::find_if(chains.begin(), chains.end(), [&](tightest_chain const& one) {
                tightest_chain const& first = chains.front();
                return std::tuple{one.crosses_links, one.slack, one.free_slack} !=
                       std::tuple{first.crosses_links, first.slack, first.free_slack};
            });
        chains.erase(differs, chains.end());
        return chains;
    }

    [[nodiscard]] bool is(chain_event const& one, event_of const& of) const {
        return one.succession == name(of.succession) && one.event == event(of);
    }
    [[nodiscard]] bool is_on_chain(event_of const& of) const {
        return std::any_of(chains_.begin(), chains_.end(), [&](tightest_chain const& chain) {
            return std::any_of(chain.events.begin(), chain.events.end(),
                               [&](chain_event const& one) { return is(one, of); });
        });
    }
    /// True when two events follow one another on a chain.
    [[nodiscard]] bool are_tied(event_of const& a, event_of const& b) const {
        return std::any_of(chains_.begin(), chains_.end(), [&](tightest_chain const& chain) {
            return std::adjacent_find(chain.events.begin(), chain.events.end(),
                                      [&](chain_event const& one, chain_event const& next) {
                                          return (is(one, a) && is(next, b)) ||
                                                 (is(one, b) && is(next, a));
                                      }) != chain.events.end();
        });
    }

    void add_event(int i, int e) {
        int const early = windows_.earliest_offset(i, e);
        int const late = windows_.latest_offset(i, e);
        std::string window = "no window";
        if (early < never) {
            window = fmt::format("{} – {}", say_day(plan_, early),
                                 late < never ? say_day(plan_, late) : "any day");
        }
        boost::add_vertex(
            drawn_event{fmt::format("{}\n{}\n{}", name(i), say_event(event({i, e})), window),
                        is_on_chain({i, e})},
            graph_);
    }

    void add_tie(event_of const& from, event_of const& to, requirement_kind kind) {
        boost::add_edge(first_[at(from.succession)] + at(from.event),
                        first_[at(to.succession)] + at(to.event),
                        drawn_tie{kind, are_tied(from, to)}, graph_);
    }

    planting_windows const& windows_;
    plan const& plan_;
    std::vector<tightest_chain> chains_;
    std::vector<std::size_t> first_;
    drawing graph_;
};

}  // namespace

std::string to_string(planting_windows const& of) {
    plan const& planned = of.plan();
    std::string text = fmt::format("Planting windows of the season year {}\n", of.year());
    for (int i = 0; i < static_cast<int>(planned.successions().size()); ++i) {
        resolved_succession const& one = planned.successions()[at(i)];
        if (!of.feasible(one.name)) { continue; }
        text += fmt::format("\n{}\n", one.name);
        for (int e = 0; e < event_count(*one.grown); ++e) {
            std::string_view const event = event_name(*one.grown, e);
            int const early = of.earliest_offset(i, e);
            if (early >= never) {
                text += fmt::format("  {:<14} not within the season\n", say_event(event));
                continue;
            }
            std::optional<int> const slack = of.slack(one.name, event);
            if (!slack) {
                text += fmt::format("  {:<14} {} or later\n", say_event(event),
                                    say_day(planned, early));
                continue;
            }
            text += fmt::format("  {:<14} {} to {}: {}", say_event(event), say_day(planned, early),
                                say_day(planned, early + *slack), say_days(*slack));
            int const alone = *of.free_slack(one.name, event);
            if (!is_outcome(*one.grown, e) && *slack > 0) {
                text += fmt::format(", {} of them without moving anything else", alone);
            }
            text += '\n';
        }
    }
    text += chains_text(of);
    for (season_conflict const& one : of.conflicts()) {
        text += fmt::format("\nImpossible in {}: {}.\n", of.year(), one.sentence);
    }
    for (obstacle const& one : of.left_out()) {
        text += fmt::format("\nLeft out: {}: {}; {}.\n", one.succession, one.sentence, one.cure);
    }
    return detail::wrapped(text);
}

std::string to_string(window_years const& of) {
    plan const& planned = of.calendar().plan();
    int const n = static_cast<int>(of.years().size());
    reliability const share = of.calendar().reliability();
    std::string text =
        fmt::format("Room to move of every event, in {} season years with hindsight\n", n);
    for (resolved_succession const& one : planned.successions()) {
        text += fmt::format("\n{}: can be kept in {}\n", one.name,
                            detail::say_years(of.feasible_years(one.name), n));
        for (int e = 0; e < event_count(*one.grown); ++e) {
            std::string_view const event = event_name(*one.grown, e);
            std::optional<int> const room = of.slack_in(one.name, event, share);
            text += fmt::format(
                "  {:<14} {}\n", say_event(event),
                room ? fmt::format("{} or more in {}", detail::say_days(*room),
                                   detail::say_years(detail::needed_years(share.value(), n), n))
                     : "no latest day in so many years");
        }
    }
    text += chains_text(of);
    for (window_failure const& one : of.failures()) {
        text +=
            fmt::format("\nFails in {}: {} of {} ({})\n",
                        detail::say_years(static_cast<int>(one.years.size()), n),
                        say_event(one.broken.event), one.broken.succession, one.broken.sentence);
    }
    return detail::wrapped(text);
}

std::string to_dot(planting_windows const& of) {
    return drawer{of}.draw();
}

}  // namespace epicotyl
