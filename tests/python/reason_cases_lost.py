"""Reasons of what cold takes, and of what has no days at all."""

from reason_plot import (
    AND_SO_ON,
    CLEAR_BY,
    IN_TUNNEL,
    LOSSES,
    NO_RISK,
    OUT_FROM,
    WINDOW,
    batch,
    link,
    weather,
)

# What is planned, the event asked about, and all that is said.
LOST = {
    # Sown on 1 August and picked from 10 September on, but for the two years that freeze before.
    "a harvest that cold takes": (
        batch("bean", '{ event = "sow", on = 2027-08-01 }'),
        ("bean", "first_harvest"),
        [
            (
                "outcome.usual | first harvest 10 Sep in the usual year, 10 Sep in an early one, "
                "10 Sep in a late one (1 year in 10 each); all counted as if it lived: lost to "
                "cold in 2 of 5 years"
            ),
            'target.planned | sow of "bean" is planned for 1 Aug',
            "rule.on | sow 1 Aug: wanted on 1 Aug",
        ],
        LOSSES,
    ),
    "a sowing for a harvest that cold takes": (
        batch("bean", '{ event = "first_harvest", by = 2027-09-01 }'),
        ("bean", "sow"),
        [
            (
                "sow.latest | sow 23 Jul: first harvest by 1 Sep in 5 of 5 years; sown a day "
                "later, in 0, and 4 are wanted; all counted as if it lived: lost to cold in 2 of 5 "
                "years"
            ),
            AND_SO_ON,
        ],
        LOSSES,
    ),
    "a harvest aimed at that cold takes": (
        batch("bean", '{ event = "first_harvest", by = 2027-09-01 }'),
        ("bean", "first_harvest"),
        [
            (
                "rule.by | first harvest 1 Sep in the usual year: no later than 1 Sep, which holds "
                "in 5 of 5 years; all counted as if it lived: lost to cold in 2 of 5 years"
            ),
            AND_SO_ON,
        ],
        LOSSES,
    ),
    # What is lost is in harvest in no year: three of five are left.
    "harvest years that cold takes": (
        batch("bean", WINDOW.format(0.4)),
        ("bean", "sow"),
        [
            (
                "sow.latest | sow 31 May: in harvest from 10 Jul until 20 Jul in 3 of 5 years; "
                "sown a day later, in 0, and 2 are wanted"
            ),
            AND_SO_ON,
        ],
        weather([(2001, 6, 9, -4.0), (2003, 6, 12, -4.0)]),
    ),
    "a season too short for a risk": (
        batch("onion", '{ event = "transplant", risk = 0.1 }'),
        ("onion", "transplant"),
        [
            (
                "risk.season_too_short | the season ends before the half of the year with its cold "
                "nights does; give season_days = 182"
            )
        ],
        weather(),
        150,
    ),
    "cold in every month": (
        batch("onion", '{ event = "transplant", risk = 0.1 }'),
        ("onion", "transplant"),
        [
            (
                "risk.every_month | transplant: nights at or below 0 °C in beds come in every "
                "month: there is no day after which none of 5 years still have one; 5 years "
                "cannot show 1 in 10; aim for a date: from 1 Aug or later"
            )
        ],
        weather([(2001, 7, 20, -4.0)]),
    ),
    "no frost to count from": (
        batch("onion", '{ event = "transplant", weeks_after_last_frost = 1 }', NO_RISK),
        ("onion", "transplant"),
        [
            (
                "frost.none | transplant: there is no last frost here to count from (5 years of "
                "10): 0 of 5 years have a night at or below 0 °C in that half of the year; aim "
                "for a date: from 1 Jan or later"
            )
        ],
    ),
    "a target that is never ready": (
        batch(
            "onion",
            OUT_FROM,
            NO_RISK + "\n[succession.stage.sow]\ntakes = { heat = 300, base = 20 }",
        ),
        ("onion", "transplant"),
        [
            (
                "target.never_ready | transplant is reached within the season in none of 5 "
                "years, even when all is as early as allowed; 4 are wanted; give the stage before "
                "transplant a warmer place or a smaller amount"
            )
        ],
    ),
    "a target after the season": (
        batch(
            "bean",
            '{ event = "first_harvest", by = 2027-09-24 }',
            "repeat = { times = 2, harvest_every = 40 }",
        ),
        ("bean 2", "sow"),
        [
            (
                "target.after_season | first harvest is wanted on 3 Nov 2027 (wanted 40 days "
                'after the first harvest of "bean 1"), when the season of 300 days is over; give '
                "season_days = 306"
            )
        ],
    ),
    "a link that never lets it be sown": (
        batch("pea", '{ event = "sow", on = 2027-09-20 }')
        + batch("onion", OUT_FROM, NO_RISK)
        + link("pea", "clear", "onion", "sow"),
        ("onion", "transplant"),
        [
            (
                "link.never | its links let it be sown in none of 5 years; 4 are wanted; give "
                'season_days = 342, or aim for sow of "pea" 42 days earlier'
            )
        ],
    ),
    "a bound after the day asked for": (
        batch(
            "onion",
            '{ event = "transplant", on = 2027-03-01 }',
            NO_RISK + "\n" + IN_TUNNEL.format("transplant"),
        ),
        ("onion", "transplant"),
        [
            (
                "bound.after_target | transplant is wanted on 1 Mar, but can be no earlier than 1 "
                "Apr: tunnel opens on 1 Apr; aim for 1 Apr or later"
            )
        ],
    ),
    "a target too early for the season": (
        batch("pea", '{ event = "clear", by = 2027-02-01 }'),
        ("pea", "sow"),
        [
            (
                "target.too_early | clear by 1 Feb is met in none of 5 years, even sown on 1 Jan; "
                "4 are wanted; aim for 20 Feb or later, or sow before the season starts: give "
                "season_start = 2026-12-13 and season_days = 319"
            )
        ],
    ),
    "an end that cannot be kept": (
        batch(
            "onion",
            '{ event = "transplant", from = 2027-05-01 }',
            NO_RISK + "\nnot_after = { clear = 2027-06-01 }",
        ),
        ("onion", "transplant"),
        [
            (
                "not_after.broken | clear no later than 1 Jun is met in none of 5 years, even "
                "when all is as early as allowed, and all that is wanted in 0 of 5 years; 4 are "
                "wanted; aim for transplant from 2 Apr, or allow clear until 30 Jun"
            )
        ],
    ),
    "a window longer than the harvest": (
        batch("bean", WINDOW.replace("07-20", "08-20").format(0.8)),
        ("bean", "sow"),
        [
            (
                "in_harvest.too_seldom | the best single sowing is in harvest from 10 Jul until "
                "20 Aug in none of 5 years; 4 are wanted; no set of sowings serves any year: aim "
                "for less, or grow a crop that stands longer in harvest"
            )
        ],
    ),
    "a repeat of what is never picked": (
        batch(
            "bean",
            '{ event = "sow", on = 2027-09-20 }',
            "repeat = { times = 2, harvest_every = 14 }",
        ),
        ("bean 2", "sow"),
        [
            (
                'repeat.never | it repeats "bean 1", whose first harvest is not reached within the '
                "season in the usual year; give season_days = 316"
            )
        ],
    ),
    "a repeat of what has no days": (
        batch(
            "bean",
            '{ event = "first_harvest", by = 2027-01-10 }',
            "repeat = { times = 2, harvest_every = 14 }",
        ),
        ("bean 2", "sow"),
        ['repeat.unresolved | it repeats "bean 1", which has no date; fix "bean 1" first'],
    ),
    "a wait for what has no days": (
        batch("pea", '{ event = "clear", by = 2027-02-01 }', name="pea 1")
        + batch("pea", '{ event = "clear", by = 2027-02-01 }', name="pea 2")
        + batch("onion", OUT_FROM, NO_RISK)
        + link("pea 2", "clear", "onion", "sow")
        + link("pea 1", "clear", "onion", "transplant"),
        ("onion", "transplant"),
        ['link.unresolved | it waits for "pea 1", which has no date; fix "pea 1" first'],
    ),
    "links in a circle": (
        batch("pea", CLEAR_BY)
        + batch("onion", OUT_FROM, NO_RISK)
        + link("pea", "clear", "onion", "sow")
        + link("onion", "clear", "pea", "sow"),
        ("onion", "transplant"),
        ["links.cycle | its links go in a circle: pea → onion → pea; take one of these links away"],
    ),
}
