"""Reasons of days that something holds: rules, bounds, clocks, links, and damage beside them."""

from reason_plot import (
    AFTER_PEAS,
    AND_SO_ON,
    CLEAR_BY,
    EARLY_PEAS,
    FROSTS,
    HARD_FROST,
    IN_TUNNEL,
    LATE_PEAS,
    MILD_FROST,
    NO_RISK,
    ON_1_MARCH,
    OUT_FROM,
    TWO_COLD,
    batch,
    link,
    weather,
)

# What is planned, the event asked about, and all that is said.
HELD = {
    "a day from which on": (
        batch("onion", OUT_FROM, NO_RISK),
        ("onion", "transplant"),
        ["rule.from | transplant 15 Feb: not before 15 Feb; ready since 15 Feb in 5 of 5 years"],
    ),
    "a day after the last frost": (
        batch("onion", '{ event = "transplant", weeks_after_last_frost = 1 }', NO_RISK),
        ("onion", "transplant"),
        [
            (
                "rule.frost | transplant 21 Apr: 1 week after the last frost of 14 Apr (0 °C, "
                "later in 5 years of 10); ready since 21 Apr in 5 of 5 years"
            )
        ],
        MILD_FROST,
    ),
    # From 18 April on only the year of the last frost of all has one still to come.
    "a risk": (
        batch("pea", '{ event = "sow", risk = 0.2 }'),
        ("pea", "sow"),
        [
            (
                "rule.risk | sow 18 Apr: before that more than 1 year in 5 still had a night at "
                "or below -3 °C to come in beds"
            )
        ],
        HARD_FROST,
    ),
    "a risk that is small on every day": (
        batch("pea", '{ event = "sow", risk = 0.2, after = 2027-02-01 }'),
        ("pea", "sow"),
        [
            (
                "rule.risk | sow 1 Feb: at most 1 year in 5 has a night at or below -3 °C in beds "
                "in that half of the year"
            )
        ],
        weather([(*FROSTS[0], -4.0)]),
    ),
    # Raised on the mat, where it does not freeze.
    "a bound against cold": (
        batch("onion", OUT_FROM, '[succession.stage.sow]\nwhere = "mat"'),
        ("onion", "transplant"),
        [
            (
                "bound.risk | transplant 19 Apr: wanted 15 Feb (not before 15 Feb); put back to "
                "19 Apr, because before that 1 year or more in 5 still had a night at or below 0 "
                "°C to come in beds; 5 years cannot show 1 in 10; ready since 19 Apr in 5 of 5 "
                "years"
            )
        ],
        HARD_FROST,
    ),
    "a bound against cold of an outcome, kept by the decision before it": (
        batch("leek", '{ event = "sow", from = 2027-03-01 }'),
        ("leek", "sow"),
        [
            (
                "bound.risk.carried | sow 9 Apr: wanted 1 Mar (not before 1 Mar); put back to 9 "
                "Apr, because emerge is to come before 19 Apr in none of 5 years (before that 1 "
                "year or more in 5 still had a night at or below -3 °C to come in beds; 5 years "
                "cannot show 1 in 10)"
            )
        ],
        HARD_FROST,
    ),
    "a place that opens": (
        batch("onion", OUT_FROM, NO_RISK + "\n" + IN_TUNNEL.format("transplant")),
        ("onion", "transplant"),
        [
            (
                "bound.open | transplant 1 Apr: wanted 15 Feb (not before 15 Feb); put back to 1 "
                "Apr, because tunnel opens on 1 Apr; ready since 1 Apr in 5 of 5 years"
            )
        ],
    ),
    "a place that opens to an outcome, kept by the decision before it": (
        batch(
            "leek",
            '{ event = "sow", from = 2027-03-01 }',
            NO_RISK + "\n" + IN_TUNNEL.format("emerge"),
        ),
        ("leek", "sow"),
        [
            (
                "bound.open.carried | sow 22 Mar: wanted 1 Mar (not before 1 Mar); put back to 22 "
                "Mar, because emerge is to come before 1 Apr in none of 5 years (tunnel opens on "
                "1 Apr)"
            )
        ],
    ),
    "a bound that moves a risk": (
        batch(
            "pea",
            '{ event = "sow", risk = 0.4, limit = -3.0 }',
            "not_before = { sow = { weeks_after_last_frost = 1 } }",
        ),
        ("pea", "sow"),
        [
            (
                "rule.frost | sow 21 Apr: wanted 15 Apr (before that more than 2 years in 5 still "
                "had a night at or below -3 °C to come in beds); put back to 21 Apr, because 1 "
                "week after the last frost of 14 Apr (0 °C, later in 5 years of 10)"
            )
        ],
        HARD_FROST,
    ),
    "a plant's own time from the season's start": (
        batch("onion", '{ event = "transplant", from = 2027-01-10 }', NO_RISK),
        ("onion", "transplant"),
        [
            (
                "target.ready | transplant 31 Jan: wanted 10 Jan (not before 10 Jan); sown and "
                "moved as early as allowed, it is ready earlier in none of 5 years, and 4 are "
                "wanted; ready since 31 Jan in 5 of 5 years"
            ),
            'stage.takes | transplant of "onion": the time it takes after sow in house',
            "season.start | sow no earlier: the season starts on 1 Jan",
        ],
    ),
    "the season's start alone": (
        batch("pea", '{ event = "sow", from = 2027-01-01 }'),
        ("pea", "sow"),
        [
            "target.ready | sow 1 Jan: wanted 1 Jan (not before 1 Jan); the season starts on 1 Jan",
            "season.start | sow no earlier: the season starts on 1 Jan",
        ],
    ),
    # Out on 31 March in three years, on 30 April in two; in bud a day later each.
    "an event not planned before the one before it": (
        batch("kale", ON_1_MARCH),
        ("kale", "bud"),
        [
            (
                "planned.order | bud 30 Apr: it comes by then in 3 of 5 years, but is not planned "
                "before transplant, whose day that is"
            ),
            'stage.takes | transplant of "kale": the time it takes after sow in house',
            'target.planned | sow of "kale" is planned for 1 Mar',
            "rule.on | sow 1 Mar: wanted on 1 Mar",
        ],
        TWO_COLD,
    ),
    "a decision that is done when ready": (
        batch("kale", '{ event = "clear", by = 2027-06-01 }'),
        ("kale", "transplant"),
        [
            "decision.ready | transplant 26 May: ready by then in 4 of 5 years",
            'sowing.planned | sow of "kale" is planned for 26 Apr',
            (
                "sow.latest | sow 26 Apr: clear by 1 Jun in 4 of 5 years; sown a day later, in 0, "
                "and 4 are wanted"
            ),
            AND_SO_ON,
        ],
        weather(colder=[2004]),
    ),
    # Some of the colder years wait for the bound no longer than for the plants.
    "a decision that a bound and its own time hold": (
        batch("kale", ON_1_MARCH, "not_before = { transplant = 2027-04-30 }"),
        ("kale", "transplant"),
        [
            (
                "rule.from | transplant 30 Apr: not before 30 Apr; it waits in 3 of 5 years; and "
                "besides, it is ready no earlier; ready since 30 Apr in 5 of 5 "
                "years"
            ),
            (
                'stage.takes | transplant of "kale": the time it takes after sow in house (others '
                "hold it just as long)"
            ),
            'target.planned | sow of "kale" is planned for 1 Mar (others hold it just as long)',
            "rule.on | sow 1 Mar: wanted on 1 Mar",
        ],
        TWO_COLD,
    ),
    "a bound that plants are ready before": (
        batch("onion", ON_1_MARCH, NO_RISK + "\nnot_before = { transplant = 2027-04-10 }"),
        ("onion", "transplant"),
        [
            (
                "rule.from | transplant 10 Apr: not before 10 Apr; it waits in 5 of 5 years; ready "
                "since 31 Mar in 5 of 5 years; 10 days to spare"
            )
        ],
    ),
    "a link": (
        batch("pea", ON_1_MARCH)
        + batch("onion", ON_1_MARCH, NO_RISK)
        + link("pea", "clear", "onion", "transplant"),
        ("onion", "transplant"),
        [
            'link.waits | transplant 20 Apr: it waits for clear of "pea" in 5 of 5 years',
            'stage.takes | clear of "pea": the time it takes after sow in beds',
            'target.planned | sow of "pea" is planned for 1 Mar',
            "rule.on | sow 1 Mar: wanted on 1 Mar",
        ],
    ),
    "a link that ties with the plant's own time": (
        batch("onion", '{ event = "sow", on = 2027-03-21 }', NO_RISK)
        + batch("pea", ON_1_MARCH)
        + link("pea", "clear", "onion", "transplant"),
        ("onion", "transplant"),
        [
            (
                'link.waits | transplant 20 Apr: it waits for clear of "pea"; and besides, it is '
                "ready no earlier"
            ),
            (
                'stage.takes | transplant of "onion": the time it takes after sow in house '
                "(others hold it just as long)"
            ),
            'target.planned | sow of "onion" is planned for 21 Mar (others hold it just as long)',
            (
                'stage.takes | clear of "pea": the time it takes after sow in beds (others hold it '
                "just as long)"
            ),
            'target.planned | sow of "pea" is planned for 1 Mar (others hold it just as long)',
            "rule.on | sow 21 Mar: wanted on 21 Mar",
            "rule.on | sow 1 Mar: wanted on 1 Mar",
        ],
    ),
    # Peas are cleared on 20 April and on 21 May.
    "the first of a wave": (
        LATE_PEAS + EARLY_PEAS + batch("onion", OUT_FROM, NO_RISK) + AFTER_PEAS.format("first"),
        ("onion", "transplant"),
        [
            (
                "target.ready | transplant 20 Apr: wanted 15 Feb (not before 15 Feb); sown and "
                "moved as early as allowed, it is ready earlier in none of 5 years, and 4 are "
                "wanted; ready since 20 Apr in 5 of 5 years"
            ),
            (
                'link.waits | transplant of "onion": it waits for the first clear of "late peas", '
                '"early peas"'
            ),
            'stage.takes | clear of "early peas": the time it takes after sow in beds',
            'rule.on | sow of "early peas": wanted on 1 Mar',
        ],
    ),
    "all of a wave": (
        EARLY_PEAS + LATE_PEAS + batch("onion", OUT_FROM, NO_RISK) + AFTER_PEAS.format("all"),
        ("onion", "transplant"),
        [
            (
                "target.ready | transplant 21 May: wanted 15 Feb (not before 15 Feb); sown and "
                "moved as early as allowed, it is ready earlier in none of 5 years, and 4 are "
                "wanted; ready since 21 May in 5 of 5 years"
            ),
            'link.waits | transplant of "onion": it waits for clear of "late peas"',
            'stage.takes | clear of "late peas": the time it takes after sow in beds',
            'rule.on | sow of "late peas": wanted on 1 Apr',
        ],
    ),
    # Onions aim at half of the years and are sown when four of five let them be: on 30 April.
    "a chain of links": (
        batch("kale", ON_1_MARCH)
        + batch("onion", '{ event = "clear", on = 2027-09-01 }', NO_RISK)
        + batch("squash", OUT_FROM)
        + link("kale", "transplant", "onion", "sow")
        + link("onion", "transplant", "squash", "transplant"),
        ("squash", "transplant"),
        [
            (
                "target.ready | transplant 30 May: wanted 15 Feb (not before 15 Feb); sown and "
                "moved as early as allowed, it is ready earlier in none of 5 years, and 4 are "
                "wanted; ready since 30 May in 5 of 5 years"
            ),
            'link.waits | transplant of "squash": it waits for transplant of "onion"',
            'stage.takes | transplant of "onion": the time it takes after sow in house',
            'link.waits | sow of "onion": it waits for transplant of "kale"',
            'stage.takes | transplant of "kale": the time it takes after sow in house',
            'rule.on | sow of "kale": wanted on 1 Mar',
        ],
        TWO_COLD,
    ),
    "a chain of stages in two places": (
        batch("onion", CLEAR_BY, NO_RISK),
        ("onion", "clear"),
        [
            (
                "rule.by | clear 1 Sep in the usual year: no later than 1 Sep, which holds in 5 of "
                "5 years"
            ),
            'stage.takes | clear of "onion": the time it takes after transplant in beds',
            'stage.takes | transplant of "onion": the time it takes after sow in house',
            'sowing.planned | sow of "onion" is planned for 3 Jun',
            (
                "sow.latest | sow 3 Jun: clear by 1 Sep in 5 of 5 years; sown a day later, in 0, "
                "and 4 are wanted"
            ),
        ],
    ),
    # The two colder years wait for kale, until 30 April, and not for the bound.
    "a bound that holds some years and a link that holds others": (
        batch("kale", ON_1_MARCH)
        + batch(
            "onion",
            ON_1_MARCH,
            NO_RISK + "\nreliability = 0.6\nnot_before = { transplant = 2027-04-10 }",
        )
        + link("kale", "transplant", "onion", "transplant"),
        ("onion", "transplant"),
        [
            (
                "rule.from | transplant 10 Apr: not before 10 Apr; it waits in 3 of 5 years; ready "
                "since 31 Mar in 5 of 5 years; 10 days to spare"
            )
        ],
        TWO_COLD,
    ),
    "damage beyond the risk is told where its stage begins": (
        batch("pea", ON_1_MARCH, "risk = 0.2"),
        ("pea", "clear"),
        [
            (
                "outcome.usual | clear 20 Apr in the usual year, 20 Apr in an early one, 20 Apr in "
                "a late one (1 year in 10 each); all counted as if it lived: lost to cold in 2 of "
                "5 years"
            ),
            'target.planned | sow of "pea" is planned for 1 Mar',
            "rule.on | sow 1 Mar: wanted on 1 Mar",
        ],
        weather([(2001, 3, 10, -4.0), (2003, 3, 12, -4.0)]),
    ),
    "damage beyond the risk": (
        batch("pea", ON_1_MARCH, "risk = 0.2"),
        ("pea", "sow"),
        [
            "rule.on | sow 1 Mar: wanted on 1 Mar",
            (
                "damage.beyond_risk | from sow on, nights at or below -3 °C in beds do damage in 2 "
                "of 5 years (the first on 10 Mar): the bound against cold covers 1 of 5 years up "
                "to the end of its half of the year"
            ),
        ],
        weather([(2001, 3, 10, -4.0), (2003, 3, 12, -4.0)]),
    ),
}
