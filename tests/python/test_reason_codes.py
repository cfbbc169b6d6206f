"""Every code that a reason of a calendar can have, in full text, in cases reckoned by hand.

All happens in five season years of 5 to 15 °C on every day, but for what a case says; farms are
invented. The codes are those that stand in the library's sources: one that is added there without a
case here fails the last test.
"""

import datetime
import re
import tomllib
from pathlib import Path

import numpy as np
import pytest

epicotyl = pytest.importorskip("epicotyl")

SOURCES = Path(__file__).resolve().parents[2] / "src"
YEARS = 5  # season years 2001 ... 2005

PLOT = """
format = 1
units = "metric"
year = 2027
events = ["bud"]
site = { latitude = 45.0, season_days = 300 }
[places]
house = { for = ["grow"] }
mat = { for = ["germinate"], day = 20.0, night = 15.0 }
beds = { for = ["field"] }
tunnel = { for = ["harden"], open = [2027-04-01, 2027-10-01] }
[crops.onion]
limit_tender = 0.0
limit_hardened = -3.0
stages = [
  { begins = "sow", where = "grow", takes = { days = 30 } },
  { begins = "transplant", where = "field", takes = { days = 60 } },
]
[crops.pea]
risk = false
limit_hardened = -3.0
stages = [ { begins = "sow", where = "field", takes = { days = 50 } } ]
[crops.bean]
risk = false
limit_hardened = -3.0
stages = [
  { begins = "sow", where = "field", takes = { days = 40 } },
  { begins = "first_harvest", where = "field", takes = { days = 20 } },
]
# 30 days under the weather of most years, 60 where it is colder.
[crops.kale]
risk = false
stages = [
  { begins = "sow", where = "grow", takes = { heat = 300.0, base = 0.0, method = "average" } },
  { begins = "transplant", where = "beds", takes = { days = 1 } },
  { begins = "bud", who = "plant", where = "beds", takes = { days = 5 } },
]
[crops.chard]
risk = false
limit_hardened = -3.0
stages = [
  { begins = "sow", where = "beds", takes = { heat = 300.0, base = 0.0, method = "average" } },
  { begins = "first_harvest", where = "beds", takes = { days = 45 } },
]
[crops.squash]
risk = false
stages = [
  { begins = "sow", where = "grow", takes = { days = 10 } },
  { begins = "transplant", where = "field", takes = { days = 30 } },
  { begins = "first_harvest", where = "field", takes = { days = 20 } },
]
# It comes up where it stands, in the field or in the tunnel.
[crops.leek]
limit_hardened = -3.0
limit_tender = -3.0
stages = [
  { begins = "sow", where = "grow", takes = { days = 10 } },
  { begins = "emerge", where = "field", takes = { days = 60 } },
]
"""


def weather(cold=(), colder=()):
    """Five years and one more. `cold` are nights, (year, month, day, degC); `colder` years in which
    every day has 0 to 10 degC."""
    first, days = datetime.date(2001, 1, 1), 6 * 366
    low, high = np.full(days, 5.0), np.full(days, 15.0)
    for year in colder:
        begin = (datetime.date(year, 1, 1) - first).days
        low[begin : begin + 365], high[begin : begin + 365] = 0.0, 10.0
    for *date, temperature in cold:
        low[(datetime.date(*date) - first).days] = temperature
    return epicotyl.DailyRecord(first, low, high)


def calendar(text, *, record=None, season_days=300):
    document = tomllib.loads(PLOT + text)
    document["site"]["season_days"] = season_days
    climate = epicotyl.Climate(
        record or weather(), latitude=45.0, season_days=season_days, years=(2001, 2005)
    )
    assert len(climate.years) == YEARS
    return epicotyl.schedule(epicotyl.plan(document), climate)


def batch(crop, target, rest="", name=None):
    return f"""
[[succession]]
name = "{name or crop}"
crop = "{crop}"
plants = 50
target = {target}
{rest}
"""


def link(first, event, then, then_event, days=0):
    return f"""
[[link]]
first = {{ succession = "{first}", event = "{event}" }}
then = {{ succession = "{then}", event = "{then_event}" }}
after = {{ days = {days} }}
"""


def told(of, name, event):
    """Each reason with its code; with hyphens for minus signs."""
    reasons = epicotyl.explain(of, name, event)
    return [f"{one.code} | {one}".replace("\N{MINUS SIGN}", "-") for one in reasons]


FROSTS = [(2001 + k, 4, 10 + 2 * k) for k in range(YEARS)]  # of 2004, a leap year: 17 April
MILD_FROST = weather([(*date, -1.0) for date in FROSTS])
HARD_FROST = weather([(*date, -4.0) for date in FROSTS])
TWO_COLD = weather(colder=[2004, 2005])
LOSSES = weather([(2001, 8, 9, -4.0), (2003, 8, 12, -4.0)])
IN_TUNNEL = '[succession.stage.{}]\nwhere = "tunnel"'

ON_1_MARCH = '{ event = "sow", on = 2027-03-01 }'
WINDOW = """{{ event = "first_harvest", in_harvest = {{ from = 2027-07-10, until = 2027-07-20,
chance = {} }} }}""".replace("\n", " ")
OUT_FROM = '{ event = "transplant", from = 2027-02-15 }'
CLEAR_BY = '{ event = "clear", by = 2027-09-01 }'
NO_RISK = "risk = false"

EARLY_PEAS = batch("pea", ON_1_MARCH, 'wave = "peas"', name="early peas")
LATE_PEAS = batch("pea", '{ event = "sow", on = 2027-04-01 }', 'wave = "peas"', name="late peas")
AFTER_PEAS = """
[[link]]
first = {{ wave = "peas", event = "clear", of = "{}" }}
then = {{ succession = "onion", event = "transplant" }}
after = {{ days = 0 }}
"""

AND_SO_ON = "..."  # with reasons that another case has in full

# What is planned, the event asked about, and all that is said.
CASES = {
    "a day asked for": (
        batch("pea", ON_1_MARCH),
        ("pea", "sow"),
        ["rule.on | sow 1 Mar: asked on 1 Mar"],
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
            "rule.on | sow 1 Mar: asked on 1 Mar",
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
            "rule.on | sow 20 Sep: asked on 20 Sep",
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
            'stage.takes | clear of "pea": what must pass after sow in beds',
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
            'stage.takes | first harvest of "bean": what must pass after sow in beds',
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
            'stage.takes | first harvest of "bean": what must pass after sow in beds',
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
                "frost of 14 Sep (0 °C, chance 0.5)"
            ),
            (
                "rule.by | first harvest 18 Aug in the usual year: no later than 1 Sep, which "
                "holds in 5 of 5 years"
            ),
            'stage.takes | first harvest of "bean": what must pass after sow in beds',
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
            'stage.takes | first harvest of "bean": what must pass after sow in beds',
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
            'stage.takes | first harvest of "chard": what must pass after sow in beds',
            'sowing.planned | sow of "chard" is planned for 11 May',
        ],
        weather(colder=[2005]),
    ),
    "a sowing as early as its bound allows": (
        batch("pea", CLEAR_BY, 'prefer = "early"\nnot_before = { sow = 2027-03-10 }'),
        ("pea", "sow"),
        [
            (
                "sow.earliest | sow 10 Mar, as early as may be: clear by 1 Sep in 5 of 5 years, "
                "and 4 are wanted; its target would let it wait until 13 Jul"
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
                "sow.earliest_in_harvest | sow 7 May, as early as may be: in harvest from 10 Jul "
                "until 20 Jul in 5 of 5 years, the most there are, and 2 are wanted; its target "
                "would let it wait until 11 May"
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
                "sow.earliest | sow 1 Jan 2028, as early as may be: clear by 1 Mar 2028 in 5 of 5 "
                "years, and 4 are wanted; its target would let it wait until 11 Jan 2028"
            ),
            (
                'sow.spring | sow of "pea" no sooner than 1 Jan 2028: the spring begins in which '
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
            "rule.on | transplant 20 Apr: asked on 20 Apr; ready since 20 Apr in 5 of 5 years",
            (
                "rule.by | clear 20 Apr in the usual year: no later than 1 Sep, which holds in 5 "
                "of 5 years"
            ),
            'stage.takes | clear of "pea": what must pass after sow in beds',
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
                "rule.repeat | first harvest 24 Jul in the usual year: asked 14 days after the "
                'first harvest of "bean 1", which holds in 5 of 5 years'
            ),
            'stage.takes | first harvest of "bean 2": what must pass after sow in beds',
            'sowing.planned | sow of "bean 2" is planned for 14 Jun',
            (
                "sow.latest | sow 14 Jun: first harvest by 24 Jul in 5 of 5 years; sown a day "
                "later, in 0, and 3 are wanted"
            ),
        ],
    ),
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
                "chance 0.5); ready since 21 Apr in 5 of 5 years"
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
                "rule.risk | sow 18 Apr: on any earlier day more than 1 of 5 years had a night at "
                "or below -3 °C still to come in beds"
            )
        ],
        HARD_FROST,
    ),
    "a risk that is small on every day": (
        batch("pea", '{ event = "sow", risk = 0.2, after = 2027-02-01 }'),
        ("pea", "sow"),
        [
            (
                "rule.risk | sow 1 Feb: at most 1 of 5 years have a night at or below -3 °C in "
                "beds in that half of the year"
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
                "bound.risk | transplant 19 Apr: asked 15 Feb (not before 15 Feb); later, because "
                "on any earlier day more than 0 of 5 years had a night at or below 0 °C still to "
                "come in beds; 5 years cannot show 1 in 10; ready since 19 Apr in 5 of 5 years"
            )
        ],
        HARD_FROST,
    ),
    "a bound against cold of an outcome, kept by the decision before it": (
        batch("leek", '{ event = "sow", from = 2027-03-01 }'),
        ("leek", "sow"),
        [
            (
                "bound.risk.carried | sow 9 Apr: asked 1 Mar (not before 1 Mar); later, because "
                "emerge is to come before 19 Apr in at most 0 of 5 years (on any earlier day more "
                "than 0 of 5 years had a night at or below -3 °C still to come in beds; 5 years "
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
                "bound.open | transplant 1 Apr: asked 15 Feb (not before 15 Feb); later, because "
                "tunnel opens on 1 Apr; ready since 1 Apr in 5 of 5 years"
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
                "bound.open.carried | sow 22 Mar: asked 1 Mar (not before 1 Mar); later, because "
                "emerge is to come before 1 Apr in at most 0 of 5 years (tunnel opens on 1 Apr)"
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
                "rule.frost | sow 21 Apr: asked 15 Apr (on any earlier day more than 2 of 5 years "
                "had a night at or below -3 °C still to come in beds); later, because 1 week after "
                "the last frost of 14 Apr (0 °C, chance 0.5)"
            )
        ],
        HARD_FROST,
    ),
    "a plant's own time from the season's start": (
        batch("onion", '{ event = "transplant", from = 2027-01-10 }', NO_RISK),
        ("onion", "transplant"),
        [
            (
                "target.ready | transplant 31 Jan: asked 10 Jan (not before 10 Jan); sown and "
                "moved as early as allowed, it is ready sooner in none of 5 years, and 4 are "
                "wanted; "
                "ready since 31 Jan in 5 of 5 years"
            ),
            'stage.takes | transplant of "onion": what must pass after sow in house',
            "season.start | sow no sooner: the season starts on 1 Jan",
        ],
    ),
    "the season's start alone": (
        batch("pea", '{ event = "sow", from = 2027-01-01 }'),
        ("pea", "sow"),
        [
            "target.ready | sow 1 Jan: asked 1 Jan (not before 1 Jan); the season starts on 1 Jan",
            "season.start | sow no sooner: the season starts on 1 Jan",
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
            'stage.takes | transplant of "kale": what must pass after sow in house',
            'target.planned | sow of "kale" is planned for 1 Mar',
            "rule.on | sow 1 Mar: asked on 1 Mar",
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
                "besides, it is ready no sooner; ready since 30 Apr in 5 of 5 "
                "years"
            ),
            (
                'stage.takes | transplant of "kale": what must pass after sow in house (tied with '
                "others)"
            ),
            'target.planned | sow of "kale" is planned for 1 Mar (tied with others)',
            "rule.on | sow 1 Mar: asked on 1 Mar",
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
            'stage.takes | clear of "pea": what must pass after sow in beds',
            'target.planned | sow of "pea" is planned for 1 Mar',
            "rule.on | sow 1 Mar: asked on 1 Mar",
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
                "ready no sooner"
            ),
            (
                'stage.takes | transplant of "onion": what must pass after sow in house (tied with '
                "others)"
            ),
            'target.planned | sow of "onion" is planned for 21 Mar (tied with others)',
            'stage.takes | clear of "pea": what must pass after sow in beds (tied with others)',
            'target.planned | sow of "pea" is planned for 1 Mar (tied with others)',
            "rule.on | sow 21 Mar: asked on 21 Mar",
            "rule.on | sow 1 Mar: asked on 1 Mar",
        ],
    ),
    # Peas are cleared on 20 April and on 21 May.
    "the first of a wave": (
        LATE_PEAS + EARLY_PEAS + batch("onion", OUT_FROM, NO_RISK) + AFTER_PEAS.format("first"),
        ("onion", "transplant"),
        [
            (
                "target.ready | transplant 20 Apr: asked 15 Feb (not before 15 Feb); sown and "
                "moved as early as allowed, it is ready sooner in none of 5 years, and 4 are "
                "wanted; "
                "ready since 20 Apr in 5 of 5 years"
            ),
            (
                'link.waits | transplant of "onion": it waits for the first clear of "late peas", '
                '"early peas"'
            ),
            'stage.takes | clear of "early peas": what must pass after sow in beds',
            'rule.on | sow of "early peas": asked on 1 Mar',
        ],
    ),
    "all of a wave": (
        EARLY_PEAS + LATE_PEAS + batch("onion", OUT_FROM, NO_RISK) + AFTER_PEAS.format("all"),
        ("onion", "transplant"),
        [
            (
                "target.ready | transplant 21 May: asked 15 Feb (not before 15 Feb); sown and "
                "moved as early as allowed, it is ready sooner in none of 5 years, and 4 are "
                "wanted; "
                "ready since 21 May in 5 of 5 years"
            ),
            'link.waits | transplant of "onion": it waits for clear of "late peas"',
            'stage.takes | clear of "late peas": what must pass after sow in beds',
            'rule.on | sow of "late peas": asked on 1 Apr',
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
                "target.ready | transplant 30 May: asked 15 Feb (not before 15 Feb); sown and "
                "moved as early as allowed, it is ready sooner in none of 5 years, and 4 are "
                "wanted; "
                "ready since 30 May in 5 of 5 years"
            ),
            'link.waits | transplant of "squash": it waits for transplant of "onion"',
            'stage.takes | transplant of "onion": what must pass after sow in house',
            'link.waits | sow of "onion": it waits for transplant of "kale"',
            'stage.takes | transplant of "kale": what must pass after sow in house',
            'rule.on | sow of "kale": asked on 1 Mar',
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
            'stage.takes | clear of "onion": what must pass after transplant in beds',
            'stage.takes | transplant of "onion": what must pass after sow in house',
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
            "rule.on | sow 1 Mar: asked on 1 Mar",
        ],
        weather([(2001, 3, 10, -4.0), (2003, 3, 12, -4.0)]),
    ),
    "damage beyond the risk": (
        batch("pea", ON_1_MARCH, "risk = 0.2"),
        ("pea", "sow"),
        [
            "rule.on | sow 1 Mar: asked on 1 Mar",
            (
                "damage.beyond_risk | from sow on, nights at or below -3 °C in beds do damage in 2 "
                "of 5 years (the first on 10 Mar): the bound against cold covers 1 of 5 years up "
                "to the end of its half of the year"
            ),
        ],
        weather([(2001, 3, 10, -4.0), (2003, 3, 12, -4.0)]),
    ),
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
            "rule.on | sow 1 Aug: asked on 1 Aug",
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
                "month: there is no day after which at most 0 of 5 years still have one; 5 years "
                "cannot show 1 in 10; ask for a date: from 1 Aug or later"
            )
        ],
        weather([(2001, 7, 20, -4.0)]),
    ),
    "no frost to count from": (
        batch("onion", '{ event = "transplant", weeks_after_last_frost = 1 }', NO_RISK),
        ("onion", "transplant"),
        [
            (
                "frost.none | transplant: there is no last frost here at chance 0.5: 0 of 5 years "
                "have a night at or below 0 °C in that half of the year; ask for a date: from 1 "
                "Jan or later"
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
                "target.after_season | first harvest is asked on 3 Nov 2027 (asked 40 days after "
                'the first harvest of "bean 1"), when the season of 300 days is over; give '
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
                'season_days = 342, or ask for sow of "pea" 42 days sooner'
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
                "bound.after_target | transplant is asked on 1 Mar, but tunnel opens on 1 Apr; ask "
                "for 1 Apr or later"
            )
        ],
    ),
    "a target too early for the season": (
        batch("pea", '{ event = "clear", by = 2027-02-01 }'),
        ("pea", "sow"),
        [
            (
                "target.too_early | clear by 1 Feb is met in none of 5 years, even sown on 1 "
                "Jan; 4 are wanted; ask for 20 Feb or later, or sow before the season starts: give "
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
                "when all is as early as allowed, and everything asked in 0 of 5 years; 4 are "
                "wanted; ask for transplant from 2 Apr, or allow clear until 30 Jun"
            )
        ],
    ),
    "a window longer than the harvest": (
        batch("bean", WINDOW.replace("07-20", "08-20").format(0.8)),
        ("bean", "sow"),
        [
            (
                "in_harvest.too_seldom | the best single sowing is in harvest from 10 Jul until 20 "
                "Aug in none of 5 years; 4 are wanted; no set of sowings serves any year: ask for "
                "less, or for a crop that stands longer in harvest"
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
        ['repeat.unresolved | it repeats "bean 1", which has no days itself; first help "bean 1"'],
    ),
    "a wait for what has no days": (
        batch("pea", '{ event = "clear", by = 2027-02-01 }', name="pea 1")
        + batch("pea", '{ event = "clear", by = 2027-02-01 }', name="pea 2")
        + batch("onion", OUT_FROM, NO_RISK)
        + link("pea 2", "clear", "onion", "sow")
        + link("pea 1", "clear", "onion", "transplant"),
        ("onion", "transplant"),
        ['link.unresolved | it waits for "pea 1", which has no days itself; first help "pea 1"'],
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


@pytest.mark.parametrize("case", CASES)
def test_what_is_said_is_so_in_full(case):
    text, asked, said, *weather_and_days = CASES[case]
    keywords = dict(zip(("record", "season_days"), weather_and_days, strict=False))
    found = told(calendar(text, **keywords), *asked)
    if said[-1] == AND_SO_ON:
        assert found[: len(said) - 1] == said[:-1]
    else:
        assert found == said


def test_years_that_are_not_a_stations_are_said_to_be_so():
    document = tomllib.loads(PLOT + batch("pea", ON_1_MARCH))
    climate = epicotyl.Climate(weather(), latitude=45.0, season_days=300, years=(2001, 2005))
    warmer = epicotyl.schedule(epicotyl.plan(document), climate.shifted(2.0))
    assert told(warmer, "pea", "sow") == [
        "rule.on | sow 1 Mar: asked on 1 Mar",
        (
            "years.origin | counted in season years that are not simply those of a station: "
            "shifted by +2 K"
        ),
    ]


# Codes of errors, windows and other answers begin with these.
ELSEWHERE = (
    r"(conflict|coverage|crop|day|day_length|days|defaults|file|network|normals|plan|site|stagger"
    r"|succession|sweep|threads|weather|window|windows|yield)\."
)


def test_every_code_in_the_sources_is_asserted_by_a_case():
    found = set()
    for path in (SOURCES / "season").rglob("*.cpp"):
        found |= set(re.findall(r'"([a-z_]+\.[a-z_.]+)"', path.read_text(encoding="utf-8")))
    found = {code for code in found if not code.endswith(".hpp")}
    found = {code for code in found if not re.match(ELSEWHERE, code)}
    found -= {"season.climate_differs"}
    found |= {"bound.open.carried", "bound.risk.carried"}  # put together from two parts
    said = {line.split(" | ")[0] for _, _, lines, *_ in CASES.values() for line in lines}
    said.remove(AND_SO_ON)
    said.add("years.origin")
    assert said <= found
    assert found - said <= asserted_elsewhere()


def asserted_elsewhere():
    """Codes that other tests of the package compare a reason's code with."""
    compared = re.compile(r'\bcodes?\b.* == \[?("[a-z_]+\.[a-z_.]+"(?:, )?)+')
    found = set()
    for path in Path(__file__).parent.glob("test_*.py"):
        for line in path.read_text(encoding="utf-8").splitlines():
            if compared.search(line):
                found |= set(re.findall(r'"([a-z_]+\.[a-z_.]+)"', line))
    return found
