#include <algorithm>
#include <sstream>

#include <fmt/format.h>
#include <boost/graph/graphviz.hpp>

#include <epicotyl/season/planting_windows.hpp>

#include "say.hpp"
#include "windows_data.hpp"

namespace epicotyl {

using detail::at;
using detail::say_day;
using detail::say_days;
using detail::say_event;

namespace {

std::string chain_text(plan const& of, tight_chain const& chain) {
    auto const say = [&](day when) {
        return say_day(of, of.window().offset_of(when));
    };
    std::string text = fmt::format("Least room, {}:\n", say_days(chain.slack));
    for (chain_event const& one : chain.events) {
        text += fmt::format("  {}: {}, {} to {} ({})\n", one.succession, say_event(one.event),
                            say(one.earliest), one.latest ? say(*one.latest) : "any day",
                            one.tie.sentence);
    }
    return text + fmt::format("  until: {}\n", chain.end.sentence);
}

/// The whole farm as one graph, for drawing.
struct drawn_event {
    std::string label;
    bool is_critical = false;
};
struct drawn_tie {
    requirement_kind kind = requirement_kind::stage;
    bool is_critical = false;
};
using drawing =
    boost::adjacency_list<boost::vecS, boost::vecS, boost::bidirectionalS, drawn_event, drawn_tie>;

class drawer {
public:
    explicit drawer(planting_windows const& of)
        : windows_{of}, plan_{of.plan()}, chain_{of.critical_chain()} {}

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
        for (detail::window_frame::wait const& one : windows_.data()->frame->waits) {
            for (event_of const& first : one.firsts) {
                add_tie(first, one.then, requirement_kind::link);
            }
        }
        std::ostringstream text;
        boost::write_graphviz(
            text, graph_,
            [&](std::ostream& out, std::size_t v) {
                out << "[label=" << quoted(graph_[v].label)
                    << (graph_[v].is_critical ? ", penwidth=3]" : "]");
            },
            [&](std::ostream& out, auto const& tie) {
                out << "[style="
                    << (graph_[tie].kind == requirement_kind::link ? "dashed" : "solid")
                    << (graph_[tie].is_critical ? ", penwidth=3]" : "]");
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

    /// Place of an event on the critical chain, -1 when it is not on it.
    [[nodiscard]] int place_on_chain(event_of const& of) const {
        auto const found =
            std::find_if(chain_.events.begin(), chain_.events.end(), [&](chain_event const& one) {
                return one.succession == name(of.succession) && one.event == event(of);
            });
        return found == chain_.events.end() ? -1 : static_cast<int>(found - chain_.events.begin());
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
                        place_on_chain({i, e}) >= 0},
            graph_);
    }

    void add_tie(event_of const& from, event_of const& to, requirement_kind kind) {
        int const a = place_on_chain(from);
        int const b = place_on_chain(to);
        bool const is_critical = a >= 0 && b >= 0 && (a - b == 1 || b - a == 1);
        boost::add_edge(first_[at(from.succession)] + at(from.event),
                        first_[at(to.succession)] + at(to.event), drawn_tie{kind, is_critical},
                        graph_);
    }

    planting_windows const& windows_;
    plan const& plan_;
    tight_chain chain_;
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
    if (tight_chain const chain = of.critical_chain(); !chain.empty()) {
        text += '\n' + chain_text(planned, chain);
    }
    for (season_conflict const& one : of.conflicts()) {
        text += fmt::format("\nImpossible in {}: {}.\n", of.year(), one.sentence);
    }
    for (obstacle const& one : of.left_out()) {
        text += fmt::format("\nLeft out: {}: {}; {}.\n", one.succession, one.sentence, one.cure);
    }
    return text;
}

std::string to_dot(planting_windows const& of) {
    return drawer{of}.draw();
}

}  // namespace epicotyl
