"""The plot on which every code of a reason is told, and how its plans are written.

Five season years of 5 to 15 °C on every day, but for what a case says; the farm is invented.
"""

import datetime
import tomllib

import numpy as np

import epicotyl

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
