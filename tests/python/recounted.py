"""The numbers that a reason says, read from it and counted again by the second reckoning."""

import re

from reference_season import NEVER, allowed, quantile
from walked_without import LeastWalk, quantile_of_need


def counts_in_values(reason):
    """Whole numbers; days also as weeks."""
    found = {value for value in reason.values.values() if type(value) is int}
    for key in ("days", "asked_days"):
        if key in reason.values and reason.values[key] % 7 == 0:
            found.add(reason.values[key] // 7)
    return found


def counts_in_sentence(text):
    """Whole numbers that are neither a date nor a temperature, a chance or part of a name."""
    months = "Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec"
    for pattern in (
        '"[^"]*"',
        rf"\d+ ({months})( \d{{4}})?\b",
        rf"\b({months}) \d+(, \d{{4}})?\b",
        r"-?\d+(\.\d+)? °[CF]",
        r"(later|earlier) in \d+ years? of 10",
        r"to count from \(\d+ years? of 10\)",
        r"1 year or more in \d+",
        r"\(1 year in 10 each\)",
        r"cannot show [^;)]*",
    ):
        text = re.sub(pattern, "", text)
    return {int(number) for number in re.findall(r"\d+", text)}


def recount(pair, reason):
    """Counts of any reason, counted again from the days of the second reckoning."""
    season, plan, values = pair.planning, pair.plan, reason.values
    name = reason.succession
    succession = plan.successions[name]
    assert values.get("years", season.n) == season.n
    if reason.code.startswith("sow."):
        recount_sowing(pair, reason)
        return
    if "allowed_years" in values:
        if reason.code == "bound.open.carried":
            risk = 0.0
        elif reason.code != "rule.risk":  # the default bound, and what it does not cover
            risk = succession.risk
        elif "no_sooner" in values:
            risk = succession.not_before[reason.event].chance
        else:
            risk = succession.target.chance
        assert values["allowed_years"] == allowed(risk, season.n)
        assert any(
            words in str(reason)
            for words in allowed_words(reason.code, values["allowed_years"], season.n)
        )
    if "asked_allowed_years" in values:
        assert values["asked_allowed_years"] == allowed(succession.target.chance, season.n)
    if "damaged_years" in values:
        damage = season.damage(name, pair.days, reason.event)
        assert values["damaged_years"] == damage.damaged > values["allowed_years"]
        assert f"do damage in {damage.damaged} of {season.n} years" in str(reason)
        assert plan.day(values["first_night"]) == min(damage.first)
    if "sooner_years" in values:
        least = LeastWalk(pair)
        day = least.target_day(name)
        assert day == pair.wanted[name]
        sooner = sum(d < day for d in least.unwaited[name][succession.aim])
        assert values["sooner_years"] == sooner < values["needed_years"]
        assert values["needed_years"] == season.need(succession)
        assert (
            f"it is ready earlier {in_only(sooner, season.n)}, and {values['needed_years']} are "
            "wanted" in str(reason)
        )
    if "lost_years" in values:
        assert values["lost_years"] == sum(d != NEVER for d in season.losses(name, pair.days))
        assert str(reason).endswith(f"lost to cold in {values['lost_years']} of {season.n} years")


def allowed_words(code, count, years):
    """How a sentence may say in how many years a risk is taken."""
    if code == "damage.beyond_risk":
        return [f"covers {count} of {years} years"]
    if count == 0:
        return [f"1 year or more in {years}", f"none of {years} years"]
    several = f"{count} year{'s' if count > 1 else ''} in {years}"
    return [f"more than {several}", f"at most {several}"]


def recount_sowing(pair, reason):
    """A claim, and what becomes of it when the sowing is a day later."""
    season, plan, values = pair.planning, pair.plan, reason.values
    name = reason.succession
    own = season.claim(name, pair.planned, pair.wanted, pair.bound, pair.days)
    if reason.code == "sow.spring":
        succession = plan.successions[name]
        latest = season.latest_sowing(succession, pair.wanted[name], pair.bound[name])
        assert plan.day(values["latest"]) == latest
        assert plan.day(values["no_sooner"]) == season.spring_start(latest)
        return
    assert plan.day(values["day"]) == pair.planned[name]
    assert values["good_years"] == own.good
    assert f"in {own.good} of {season.n} years" in str(reason)
    assert values.get("own_needed_years", values["needed_years"]) == own.needed
    if reason.code == "sow.season_ends":
        assert pair.planned[name] == season.last_day
        return
    if reason.code.startswith("sow.earliest"):  # a day later would break nothing
        assert f"in {own.good} of {season.n} years" in str(reason)
        assert f"and {own.needed} are wanted" in str(reason)
        return
    later = {**pair.planned, name: pair.planned[name] + 1}
    lived = season.simulate(later, pair.wanted, pair.bound)
    broken = values.get("broken", name)
    claim = season.claim(broken, later, pair.wanted, pair.bound, lived)
    what = values.get("broken_claim", "target")
    if what == "harvest":
        had = season.harvest_years(broken, pair.wanted, pair.bound, pair.days)
        kept = had & season.harvest_years(broken, pair.wanted, pair.bound, lived)
        assert (values["needed_years"], values["good_years_one_day_later"]) == (len(had), len(kept))
        assert f"keep only {len(kept)} of the {len(had)} of {season.n} years" in str(reason)
        return
    count, wanted = claim.good, claim.needed
    if what == "links":
        count, wanted = claim.links_kept, claim.links_needed
    assert (values["needed_years"], values["good_years_one_day_later"]) == (wanted, count)
    if reason.code == "sow.most_often_in_harvest":
        assert f"sown a day later, in {count}, and {wanted} are wanted" in str(reason)
        return
    assert count < wanted
    only = f"in {count}" if broken == name else in_only(count, season.n)
    assert f"{only}, and {wanted} are wanted" in str(reason)
    if what == "target":
        ends = breaking(pair, broken, lived)
        assert {k: v for k, v in values.items() if k.startswith("breaks_")} == ends
        for key, years in ends.items():
            more = f" in {years} more year{'s' if years > 1 else ''}"
            assert (more in str(reason)) == (set(ends) != {"breaks_target"}), (key, reason)


def in_only(count, years):
    return f"in only {count} of {years} years" if count else f"in none of {years} years"


def breaking(pair, name, lived):
    """What fails in years that were good, when another sowing is `lived`: the target, each
    `not_after`. One that the target's day keeps is none of its own."""
    season, succession = pair.planning, pair.plan.successions[name]
    by_day = succession.target.kind != "in_harvest"
    lasts = {}
    if by_day:
        lasts["breaks_target"] = (succession.aim, pair.wanted[name])
    for at, last in enumerate(pair.bound[name].after):
        if last != NEVER and not (by_day and at == succession.aim and last >= pair.wanted[name]):
            lasts[f"breaks_not_after_{succession.events[at]}"] = (at, last)
    found = {}
    for year in range(season.n):
        was = [row[year] for row in pair.days[name]]
        if not season.is_good(succession, was, pair.wanted[name], pair.bound[name], year):
            continue
        for key, (at, last) in lasts.items():
            if lived[name][at][year] > last:
                found[key] = found.get(key, 0) + 1
    return found


def recount_planned(pair, name, event, reason):
    """Counts of the reason of a planned day itself."""
    season, plan, values = pair.planning, pair.plan, reason.values
    succession, days = plan.successions[name], pair.days[name]
    at = succession.events.index(event)
    if reason.code == "event.never":
        assert values["reached_years"] == sum(day != NEVER for day in days[at])
        assert in_only(values["reached_years"], season.n) in str(reason)
    planned = pair.calendar.date(name, event)
    if planned is None:
        return
    planned = plan.day(planned)
    if at > 0:
        clock = [
            season.end(succession, at - 1, year, days[at - 1][year]) for year in range(season.n)
        ]
    if "good_years" in values and at > 0:
        claim = season.claim(name, pair.planned, pair.wanted, pair.bound, pair.days)
        assert values["good_years"] == claim.good
        assert f"which holds in {claim.good} of {season.n} years" in str(reason)
    if "by_then_years" in values:
        assert values["by_then_years"] == sum(day <= planned for day in days[at])
        assert f"{values['by_then_years']} of {season.n}" in str(reason) or "early" in values
    if "early" in values:
        assert plan.day(values["early"]) == quantile(days[at], 0.1)
    if reason.code == "outcome.usual":
        late = quantile(days[at], 0.9)
        assert values.get("late") == (None if late == NEVER else plan.date(late))
    if "ready_since" in values:
        since = quantile_of_need(clock, season.need(succession))
        assert plan.day(values["ready_since"]) == since
        assert values["ready_years"] == sum(day <= since for day in clock)
        assert values.get("spare_days", 0) == max(0, planned - since)
    elif at > 0 and (reason.event, event) == (succession.target_event,) * 2:
        is_decision = not season.outcome_target(succession)
        assert not is_decision or quantile_of_need(clock, season.need(succession)) == NEVER
    if "waiting_years" in values:
        allowed_day = [plan.day(values["no_sooner"])] * season.n if "no_sooner" in values else None
        if allowed_day is None:
            allowed_day = link_days(pair, name, event, values)
        waits = {
            sum(c < d != NEVER and a == d for c, d, a in zip(clock, days[at], by_year, strict=True))
            for by_year in ([allowed_day] if "no_sooner" in values else allowed_day)
        }
        assert values["waiting_years"] in waits
        # One that ties need not hold up any year.
        count = f"in {values['waiting_years']} of {season.n} years"
        assert count in str(reason) or (values["waiting_years"] == 0 and "tied" in values)


def link_days(pair, name, event, values):
    """Year by year the day that each link allows which the values can mean."""
    season, found = pair.planning, []
    for link in pair.plan.links:
        if name not in link.then or link.then_event != event or link.after is None:
            continue
        if values["after"] not in link.first or values["after_event"] != link.first_event:
            continue
        row = []
        for year in range(season.n):
            first = season.first_of(link, year, pair.days)
            clock = (link.after, link.after_place, None, year)
            row.append(NEVER if first == NEVER else season.clock_ready(*clock, first))
        found.append(row)
    return found
