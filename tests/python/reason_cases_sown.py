"""Reasons of sowings and targets: how late, how early, and which claim a day more would break."""

from reason_plot import (
    AND_SO_ON,
    CLEAR_BY,
    NO_RISK,
    ON_1_MARCH,
    TWO_COLD,
    WINDOW,
    YEARS,
    batch,
    link,
    weather,
)

# What is planned, the event asked about, and all that is said.
SOWN = {
    "a day asked for": (
        batch("pea", ON_1_MARCH),
        ("pea", "sow"),
        ["rule.on | sow 1 Mar: wanted on 1 Mar"],
    ),
    "an outcome of a sowing that is the target": (
        batch("pea", ON_1_MARCH),
        ("pea", "clear"),
        [
            (
                "outcome.usual | clear 20 Apr in the usual year, 20 Apr in an early one, 20 Apr in "
                "a late one (1 year in 10 each)"
            ),
            'target.planned | sow of "pea" is planned for 1 Mar',
            "rule.on | sow 1 Mar: wanted on 1 Mar",
        ],
    ),
    "an event that no year reaches": (
        batch("pea", '{ event = "sow", on = 2027-09-20 }'),
        ("pea", "clear"),
        [
            (
                "event.never | clear has no planned day: it is reached within the season in none "
                "of 5 years"
            ),
            "rule.on | sow 20 Sep: wanted on 20 Sep",
        ],
    ),
    "an outcome aimed at, and the latest sowing for it": (
        batch("pea", CLEAR_BY),
        ("pea", "clear"),
        [
            (
                "rule.by | clear 1 Sep in the usual year: no later than 1 Sep, which holds in 5 of "
                "5 years"
            ),
            'stage.takes | clear of "pea": the time it takes after sow in beds',
            'sowing.planned | sow of "pea" is planned for 13 Jul',
            (
                "sow.latest | sow 13 Jul: clear by 1 Sep in 5 of 5 years; sown a day later, in 0, "
                "and 4 are wanted"
            ),
        ],
    ),
    # The target alone would let it be sown until 23 July, 40 days before 1 September.
    "a latest sowing that an end behind the target holds": (
        batch(
            "bean",
            '{ event = "first_harvest", by = 2027-09-01 }',
            "not_after = { clear = 2027-09-10 }",
        ),
        ("bean", "sow"),
        [
            (
                "sow.latest | sow 12 Jul: first harvest by 1 Sep and clear no later than 10 Sep in "
                "5 of 5 years; sown a day later, in 0, and 4 are wanted: clear would be later than "
                "10 Sep in 5 more years"
            ),
            'bound.not_after | clear of "bean" no later than 10 Sep',
            (
                "rule.by | first harvest 21 Aug in the usual year: no later than 1 Sep, which "
                "holds in 5 of 5 years"
            ),
            'stage.takes | first harvest of "bean": the time it takes after sow in beds',
            'sowing.planned | sow of "bean" is planned for 12 Jul',
        ],
    ),
    "a latest sowing whose end and target both break": (
        batch(
            "bean",
            '{ event = "first_harvest", by = 2027-09-01 }',
            "not_after = { clear = 2027-09-21 }",
        ),
        ("bean", "sow"),
        [
            (
                "sow.latest | sow 23 Jul: first harvest by 1 Sep and clear no later than 21 Sep in "
                "5 of 5 years; sown a day later, in 0, and 4 are wanted: first harvest would be "
                "later than 1 Sep in 5 more years, clear would be later than 21 Sep in 5 more years"
            ),
            'bound.not_after | clear of "bean" no later than 21 Sep',
            (
                "rule.by | first harvest 1 Sep in the usual year: no later than 1 Sep, which holds "
                "in 5 of 5 years"
            ),
            'stage.takes | first harvest of "bean": the time it takes after sow in beds',
            'sowing.planned | sow of "bean" is planned for 23 Jul',
        ],
    ),
    # Cleared by 7 September, as the middle of the five first frosts is on the 14th.
    "an end by a rule": (
        batch(
            "bean",
            '{ event = "first_harvest", by = 2027-09-01 }',
            "not_after = { clear = { weeks_before_first_frost = 1 } }",
        ),
        ("bean", "sow"),
        [
            (
                "sow.latest | sow 9 Jul: first harvest by 1 Sep and clear no later than 7 Sep in 5 "
                "of 5 years; sown a day later, in 0, and 4 are wanted: clear would be later than 7 "
                "Sep in 5 more years"
            ),
            (
                'bound.not_after | clear of "bean" no later than 7 Sep: 1 week before the first '
                "frost of 14 Sep (0 °C, earlier in 5 years of 10)"
            ),
            (
                "rule.by | first harvest 18 Aug in the usual year: no later than 1 Sep, which "
                "holds in 5 of 5 years"
            ),
            'stage.takes | first harvest of "bean": the time it takes after sow in beds',
            'sowing.planned | sow of "bean" is planned for 9 Jul',
        ],
        weather([(2001 + k, 9, 10 + 2 * k, -1.0) for k in range(YEARS)]),
    ),
    "a harvest in a window that must end": (
        batch("bean", WINDOW.format(0.8), "not_after = { clear = 2027-07-25 }"),
        ("bean", "sow"),
        [
            (
                "sow.latest | sow 26 May: in harvest from 10 Jul until 20 Jul and clear no later "
                "than 25 Jul in 5 of 5 years; sown a day later, in 0, and 4 are wanted: clear "
                "would be later than 25 Jul in 5 more years"
            ),
            'bound.not_after | clear of "bean" no later than 25 Jul',
            (
                "rule.in_harvest | first harvest 5 Jul in the usual year: in harvest from 10 Jul "
                "until 20 Jul, which holds in 5 of 5 years"
            ),
            'stage.takes | first harvest of "bean": the time it takes after sow in beds',
            'sowing.planned | sow of "bean" is planned for 26 May',
        ],
    ),
    # Sown on 7 to 11 May all five years will do, from 12 May on only the four warmer ones.
    "the most harvest years there are": (
        batch("chard", WINDOW.format(0.4)),
        ("chard", "sow"),
        [
            (
                "sow.most_often_in_harvest | sow 11 May: in harvest from 10 Jul until 20 Jul in 5 "
                "of 5 years, the most there are; sown a day later, in 4, and 2 are wanted"
            ),
            (
                "rule.in_harvest | first harvest 10 Jun in the usual year: in harvest from 10 Jul "
                "until 20 Jul, which holds in 5 of 5 years"
            ),
            'stage.takes | first harvest of "chard": the time it takes after sow in beds',
            'sowing.planned | sow of "chard" is planned for 11 May',
        ],
        weather(colder=[2005]),
    ),
    "a sowing as early as its bound allows": (
        batch("pea", CLEAR_BY, 'prefer = "early"\nnot_before = { sow = 2027-03-10 }'),
        ("pea", "sow"),
        [
            (
                "sow.earliest | sow 10 Mar, as early as it can be: clear by 1 Sep in 5 of 5 "
                "years, and 4 are wanted; its target would let it wait until 13 Jul"
            ),
            AND_SO_ON,
        ],
    ),
    # As above, from 7 May on.
    "the first day with the most harvest years there are": (
        batch("chard", WINDOW.format(0.4), 'prefer = "early"'),
        ("chard", "sow"),
        [
            (
                "sow.earliest_in_harvest | sow 7 May, as early as it can be: in harvest from 10 "
                "Jul until 20 Jul in 5 of 5 years, the most there are, and 2 are wanted; its "
                "target would let it wait until 11 May"
            ),
            AND_SO_ON,
        ],
        weather(colder=[2005]),
    ),
    # 50 days before 1 March is 11 January, of the second spring.
    "a sowing as early as its spring": (
        batch("pea", '{ event = "clear", by = 2028-03-01 }', 'prefer = "early"'),
        ("pea", "sow"),
        [
            (
                "sow.earliest | sow 1 Jan 2028, as early as it can be: clear by 1 Mar 2028 in 5 "
                "of 5 years, and 4 are wanted; its target would let it wait until 11 Jan 2028"
            ),
            (
                'sow.spring | sow of "pea" no earlier than 1 Jan 2028: the spring begins in which '
                "it could be sown last, on 11 Jan 2028"
            ),
            AND_SO_ON,
        ],
        weather(),
        700,
    ),
    "a sowing on the season's last day": (
        batch(
            "pea",
            '{ event = "clear", by = 2027-10-28 }',
            "[succession.stage.sow]\ntakes = { days = 0 }",
        ),
        ("pea", "sow"),
        [
            (
                "sow.season_ends | sow 28 Oct: clear by 28 Oct in 5 of 5 years, and 4 are wanted; "
                "the season ends on that day"
            ),
            (
                "rule.by | clear 28 Oct in the usual year: no later than 28 Oct, which holds in 5 "
                "of 5 years"
            ),
            'sowing.planned | sow of "pea" is planned for 28 Oct',
        ],
    ),
    "another's target that a later sowing breaks": (
        batch("pea", CLEAR_BY)
        + batch("onion", '{ event = "transplant", on = 2027-04-20 }', NO_RISK)
        + link("pea", "clear", "onion", "transplant"),
        ("pea", "sow"),
        [
            (
                'sow.others_wait | sow 1 Mar: clear by 1 Sep in 5 of 5 years; a day later "onion", '
                "which waits for it, would be in time in none of 5 years, and 4 are wanted"
            ),
            "rule.on | transplant 20 Apr: wanted on 20 Apr; ready since 20 Apr in 5 of 5 years",
            (
                "rule.by | clear 20 Apr in the usual year: no later than 1 Sep, which holds in 5 "
                "of 5 years"
            ),
            'stage.takes | clear of "pea": the time it takes after sow in beds',
            'sowing.planned | sow of "pea" is planned for 1 Mar',
        ],
    ),
    # Beans are sown on 11 May, as they must be gone 60 days later; peas stand 50 days before.
    "another's end that a later sowing breaks": (
        batch("pea", CLEAR_BY)
        + batch(
            "bean",
            '{ event = "first_harvest", by = 2027-07-01 }',
            "not_after = { clear = 2027-07-10 }",
        )
        + link("pea", "clear", "bean", "sow"),
        ("pea", "sow"),
        [
            (
                'sow.others_wait | sow 22 Mar: clear by 1 Sep in 5 of 5 years; a day later "bean", '
                "which waits for it, would be in time in none of 5 years, and 4 are wanted: "
                "clear would be later than 10 Jul in 5 more years"
            ),
            'bound.not_after | clear of "bean" no later than 10 Jul',
            AND_SO_ON,
        ],
    ),
    # Onions are sown on 3 June. From 4 April kale is out by then in all years, a day later it is
    # not in the two colder ones; half of the years would do for the onions' target.
    "another's planned sowing day that a later sowing takes": (
        batch("kale", '{ event = "clear", by = 2027-10-01 }')
        + batch("onion", '{ event = "clear", on = 2027-09-01 }', NO_RISK)
        + link("kale", "transplant", "onion", "sow"),
        ("kale", "sow"),
        [
            (
                'sow.others_wait | sow 4 Apr: clear by 1 Oct in 5 of 5 years; a day later "onion", '
                "which waits for it, would have its planned sowing day free in only 3 of 5 years, "
                "and 4 are wanted"
            ),
            (
                "sow.latest | sow 3 Jun: clear by 1 Sep in 5 of 5 years; sown a day later, in 0, "
                "and 3 are wanted"
            ),
            AND_SO_ON,
        ],
        TWO_COLD,
    ),
    # Squash is planted out on 10 June, and kale, sown 60 days before, is out by then.
    "another's harvest years that a later sowing takes": (
        batch("kale", '{ event = "clear", by = 2027-10-01 }')
        + batch("squash", WINDOW.format(0.2))
        + link("kale", "transplant", "squash", "transplant"),
        ("kale", "sow"),
        [
            (
                "sow.others_wait | sow 11 Apr: clear by 1 Oct in 5 of 5 years; a day later "
                '"squash", which waits for it, would keep only 3 of the 5 of 5 years in which it '
                "is in harvest when it is wanted"
            ),
            AND_SO_ON,
        ],
        TWO_COLD,
    ),
    "a repeat": (
        batch(
            "bean",
            '{ event = "first_harvest", by = 2027-07-10 }',
            "repeat = { times = 2, harvest_every = 14 }",
        ),
        ("bean 2", "first_harvest"),
        [
            (
                "rule.repeat | first harvest 24 Jul in the usual year: wanted 14 days after the "
                'first harvest of "bean 1", which holds in 5 of 5 years'
            ),
            'stage.takes | first harvest of "bean 2": the time it takes after sow in beds',
            'sowing.planned | sow of "bean 2" is planned for 14 Jun',
            (
                "sow.latest | sow 14 Jun: first harvest by 24 Jul in 5 of 5 years; sown a day "
                "later, in 0, and 3 are wanted"
            ),
        ],
    ),
}
