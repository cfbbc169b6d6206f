"""The sheet of what a plan needs, in full, and its shares and seeds counted again by the words."""

import datetime
import math
import re
from pathlib import Path

import pytest

epicotyl = pytest.importorskip("epicotyl")
stats = pytest.importorskip("scipy.stats")
import numpy as np  # noqa: E402 - the package says what is missing

LITRES_PER_QUART = 0.946352946
METRES_PER_FOOT = 0.3048
GRAMS_PER_OUNCE = 28.349523125


def garden(units="metric"):
    """Stocks in plugs and pots, rocket sown in its bed, dahlias from tubers; all of it invented."""
    us = units == "us"
    litres = LITRES_PER_QUART if us else 1.0
    centimetres = 2.54 if us else 1.0
    metres = METRES_PER_FOOT if us else 1.0

    def bed(rows, in_row):
        return {"rows": rows, "in_row": in_row / centimetres}

    def batch(crop, name, target, **amount):
        day = datetime.date(2027, 5, 20)
        aim = {"event": target, "on": day}
        return {"crop": crop, "name": name, "risk": False, "target": aim, **amount}

    stock = [
        {"begins": "sow", "where": "bench", "container": "plug 104", "takes": {"days": 10},
         "survives": 0.8},
        {"begins": "emerge", "where": "bench", "container": "plug 104", "takes": {"days": 20},
         "survives": 0.95},
        {"begins": "pot_on", "where": "bench", "container": "pot 18", "takes": {"days": 20}},
        {"begins": "transplant", "where": "beds", "spacing": bed(4, 25.0), "takes": {"days": 40}},
        {"begins": "first_harvest", "where": "beds", "spacing": bed(4, 25.0),
         "takes": {"days": 20}},
    ]  # fmt: skip
    rocket = [
        {"begins": "sow", "where": "beds", "spacing": bed(6, 4.0), "takes": {"days": 6},
         "survives": 0.7},
        {"begins": "emerge", "where": "beds", "spacing": bed(6, 4.0), "takes": {"days": 30},
         "survives": 0.9},
        {"begins": "first_harvest", "where": "beds", "spacing": bed(6, 4.0),
         "takes": {"days": 14}},
    ]  # fmt: skip
    dahlia = [
        {"begins": "plant", "where": "bench", "container": "pot 18", "takes": {"days": 30},
         "survives": 0.9},
        {"begins": "transplant", "where": "beds", "spacing": bed(2, 45.0), "takes": {"days": 60}},
    ]  # fmt: skip
    return epicotyl.plan(
        format=1,
        units=units,
        title="Teasel Yard 2027",
        site={"latitude": 51.9, "season_start": datetime.date(2027, 1, 1)},
        places={"bench": {"for": ["germinate", "grow"]}, "beds": {"for": ["field"]}},
        containers={
            "plug 104": {"cells": 104, "medium": 1.6 / litres},
            "pot 18": {"cells": 18, "medium": 9.0 / litres},
        },
        crops={
            "stock": {"stages": stock, "germination_standard": 0.65},
            "rocket": {"stages": rocket},
            "dahlia": {"stages": dahlia, "starts_as": "tuber"},
        },
        succession=[
            batch("stock", "stock 1", "first_harvest", plants=250),
            batch("stock", "stock 2", "transplant", trays=2),
            batch("rocket", "rocket", "first_harvest", bed=10.0 / metres),
            batch("dahlia", "dahlia", "transplant", plants=60),
        ],
    )


LOTS = [
    epicotyl.seeds.SeedLot(
        "rocket",
        germination=0.92,
        seeds_per_gram=500.0,
        packets=[epicotyl.seeds.SeedPacket("ten-gram packet", 5000, 6.5)],
    )
]

METRIC = """\
Teasel Yard 2027
Enough for each succession in 95 sowings of 100.

To sow
  succession                wanted  sow or plant  cells    come up     live on
  stock 1     250 at first harvest     346 seeds    346  80 in 100   95 in 100
  stock 2                 208 sown     208 seeds    208  80 in 100   95 in 100
  rocket                 1500 sown    1500 seeds         92 in 100   90 in 100
  dahlia          60 at transplant     71 tubers     71  90 in 100  100 in 100
  come up: the plan's figure; a test of the lot is better
  live on: of those that come up, how many live to the event wanted

To order
  crop         order  weight           come up   at the standard
  stock    554 seeds          80 in 100 (plan)  640 at 65 in 100
  rocket  1500 seeds  3.00 g   92 in 100 (lot)
  dahlia   71 tubers          90 in 100 (plan)
  at the standard: enough of a lot of which no more come up than it may be sold with

Packets
  crop    price  packets
  rocket   6.50  1 ten-gram packet

Trays and medium
  succession        medium  trays
  stock 1     158.9 litres  4 plug 104, 14 pot 18
  stock 2     101.0 litres  2 plug 104, 9 pot 18
  dahlia       43.2 litres  4 pot 18

Trays in all, if none is used twice
  container  trays        medium
  plug 104       6   11.5 litres
  pot 18        27  291.6 litres
  in all            303.1 litres

Beds
  succession                        bed
  stock 1                        15.6 m
  stock 2                         9.9 m
  rocket                         10.0 m
  dahlia                         13.5 m
  in all, if none is used twice  49.0 m
"""


def test_the_sheet_says_what_to_sow_and_order_and_what_it_fills():
    # By hand. Stocks: 0.8 * 0.95 live, of 346 seeds 250 do in 95 sowings of 100, of 432 at 0.65;
    # two trays are sown full. Rocket: 10 m of 6 rows at 4 cm. Dahlias: 60 of 71 tubers at 0.9.
    assert stats.binom.sf(249, 346, 0.76) >= 0.95 > stats.binom.sf(249, 345, 0.76)
    assert stats.binom.sf(249, 432, 0.6175) >= 0.95 > stats.binom.sf(249, 431, 0.6175)
    assert stats.binom.sf(59, 71, 0.9) >= 0.95 > stats.binom.sf(59, 70, 0.9)
    assert str(epicotyl.seeds.quantities(garden(), lots=LOTS)) == METRIC


def test_a_us_plan_says_the_same_amounts_in_gallons_feet_and_ounces():
    said = str(epicotyl.seeds.quantities(garden("us"), lots=LOTS))
    assert not re.search(r"litres| m$| g ", said, re.MULTILINE)
    sizes = {"gallons": 4.0 * LITRES_PER_QUART, "ft": METRES_PER_FOOT, "oz": GRAMS_PER_OUNCE}
    names = {"gallons": "litres", "ft": "m", "oz": "g"}
    number = re.compile(r"(\d+\.\d+) +(litres|gallons|m|ft|g|oz)\b")
    metric = [(float(value), unit) for value, unit in number.findall(METRIC)]
    us = [(float(value), unit) for value, unit in number.findall(said)]
    assert len(metric) == len(us) > 8
    for (expected, name), (value, unit) in zip(metric, us, strict=True):
        assert name == names[unit]
        assert value * sizes[unit] == pytest.approx(expected, abs=0.05 * sizes[unit] + 0.051)
    assert re.sub(r" +", " ", number.sub("…", said)) == re.sub(r" +", " ", number.sub("…", METRIC))


def test_no_column_is_empty_and_no_key_stands_in_the_sheet():
    said = str(epicotyl.seeds.quantities(garden()))
    assert not re.search("packets|weight|price|_", said)
    long = epicotyl.seeds.SeedPacket("a packet with a very long name " * 2, 10, 1.0)
    wide = str(
        epicotyl.seeds.quantities(garden(), lots=[epicotyl.seeds.SeedLot("stock", packets=[long])])
    )
    assert max(map(len, wide.splitlines())) <= 100


def test_what_is_known_of_a_lot_is_said_to_be_the_lots():
    first = epicotyl.seeds.quantities(garden()).successions
    assert [one.germination_from for one in first] == ["plan"] * 4
    assert [one.starts_as for one in first] == ["seed", "seed", "seed", "tuber"]
    lots = [epicotyl.seeds.SeedLot("stock", germination=0.9)]
    found = epicotyl.seeds.quantities(garden(), lots=lots)
    assert [one.germination for one in found.successions] == [0.9, 0.9, 0.7, 0.9]
    assert found.successions[1].seeds == 208  # two trays are sown full, whatever comes up
    assert found.seed_order[0].germination_from == "lot"
    assert found.seed_order[0].seeds_at_standard is None
    tested = epicotyl.seeds.GerminationSpread.from_test(45, 50)
    found = epicotyl.seeds.quantities(
        garden(), lots=[epicotyl.seeds.SeedLot("stock", germination=tested)]
    )
    assert found.seed_order[0].germination_from == "test"
    assert found.seed_order[0].germination == pytest.approx(46 / 52)


def test_what_is_chilled_first_is_sown_in_the_cells_of_the_next_stage():
    parts = garden().to_dict()
    stages = parts["crops"]["stock"]["stages"]
    chill = {"begins": "chill", "where": "bench", "takes": {"days": 14}, "survives": 0.9}
    parts["crops"]["stock"]["stages"] = [chill, *stages]
    parts["succession"] = parts["succession"][:1]
    (found,) = epicotyl.seeds.quantities(epicotyl.plan(parts)).successions
    seeds = found.seeds
    assert found.germination == pytest.approx(0.72)
    # P(Binomial(n, 0.684) >= 250) >= 0.95; 9 in 10 of them are sown after the cold.
    share = 0.9 * 0.8 * 0.95
    assert stats.binom.sf(249, seeds, share) >= 0.95 > stats.binom.sf(249, seeds - 1, share)
    assert found.cells == math.ceil(0.9 * seeds)
    assert [one.trays for one in found.stages[:3]] == [0.0, math.ceil(found.cells / 104), 3.0]


def counted_again(plan, name, confidence):
    """Shares and seeds by the words: what survives until it is up, and from there on."""
    one = next(each for each in plan["succession"] if each["name"] == name)
    stages = plan["crops"][one["crop"]]["stages"]
    events = [stage["begins"] for stage in stages] + ["clear"]
    survives = [stage.get("survives", 1.0) for stage in stages]
    up = events.index("emerge") if "emerge" in events else 1
    target = events.index(one["target"]["event"])
    if "trays" in one:
        at, plants = 0, one["trays"] * 104
    elif "bed" in one:
        at = next(j for j, stage in enumerate(stages) if "spacing" in stage)
        grid = stages[at]["spacing"]
        plants = math.ceil(one["bed"] * 100.0 / grid["in_row"] * grid["rows"] - 1e-9)
    else:
        at, plants = target, one["plants"]
    until = at if at >= up else max(up, target)
    germination = math.prod(survives[:up])
    usable = math.prod(survives[up:until])
    seeds = plants
    if at >= up:
        while stats.binom.sf(plants - 1, seeds, germination * usable) < confidence:
            seeds += 1
    return germination, usable, seeds


def test_shares_and_seeds_are_those_of_the_words():
    rng = np.random.default_rng(20270914)
    for _ in range(40):
        share = [round(float(value), 3) for value in rng.uniform(0.4, 1.0, 4)]
        events = ["sow", "emerge", "pot_on", "transplant"] if rng.random() < 0.5 else [
            "chill", "sow", "emerge", "transplant"]  # fmt: skip
        if rng.random() < 0.3:
            events = ["plant", "pot_on", "pinch", "transplant"]
        stages = [
            {"begins": event, "where": "bench", "takes": {"days": 5}, "survives": share[k],
             "container": "plug"}
            for k, event in enumerate(events)
        ]  # fmt: skip
        in_bed = int(rng.integers(0, 4))
        for stage in stages[in_bed:]:
            del stage["container"]
            stage["spacing"] = {"rows": 3, "in_row": 20.0}
        kinds = ["plants", "bed"] + (["trays"] if in_bed > 0 else [])
        kind = kinds[int(rng.integers(len(kinds)))]
        decisions = [event for event in events if event != "emerge"]
        parts = {
            "format": 1,
            "units": "metric",
            "site": {"latitude": 51.9, "season_start": datetime.date(2027, 1, 1)},
            "places": {"bench": {"for": ["grow", "field"]}},
            "containers": {"plug": {"cells": 104}},
            "crops": {"stock": {"stages": stages}},
            "succession": [
                {
                    "name": "batch",
                    "crop": "stock",
                    "risk": False,
                    kind: int(rng.integers(1, 90)),
                    "target": {
                        "event": decisions[int(rng.integers(len(decisions)))],
                        "on": datetime.date(2027, 5, 1),
                    },
                }
            ],
        }
        (found,) = epicotyl.seeds.quantities(epicotyl.plan(parts)).successions
        germination, usable, seeds = counted_again(parts, "batch", 0.95)
        assert found.germination == pytest.approx(germination)
        assert found.usable == pytest.approx(usable)
        assert found.seeds == seeds


@pytest.mark.parametrize(
    ("change", "message"),
    [
        (
            {"starts_as": "bulbs"},
            (
                'crops.stock.starts_as: there is no start of a batch "bulbs" (allowed: "seed", '
                '"tuber", "corm", "bulb", "root", "crown", "cutting", "plug"); the nearest is '
                '"bulb"'
            ),
        ),
        ({"germination_standard": 1.5}, "germination_standard must be between 0 and 1, not 1.5"),
        ({"germination_standard": 0.0}, "germination_standard must be between 0 and 1, not 0"),
        (
            {"starts_as": "plug", "germination_standard": 0.8},
            '"stock" starts from a plug: only seed has a germination standard',
        ),
    ],
)
def test_what_a_crop_cannot_start_from_is_refused(change, message):
    parts = garden().to_dict()
    parts["crops"]["stock"].pop("germination_standard")
    parts["crops"]["stock"].update(change)
    with pytest.raises(epicotyl.InvalidInput) as refused:
        epicotyl.plan(parts)
    assert message in str(refused.value)


def test_what_a_crop_starts_from_is_kept_in_files_and_moves_no_day():
    plan = garden()
    again = epicotyl.plan(plan.to_dict())
    assert again == plan
    text = plan.to_toml()
    assert 'starts_as = "tuber"' in text
    assert "germination_standard = 0.65" in text
    plain = plan.to_dict()
    del plain["crops"]["dahlia"]["starts_as"]
    del plain["crops"]["stock"]["germination_standard"]
    without = epicotyl.seeds.quantities(epicotyl.plan(plain))
    assert [one.seeds for one in without.successions] == [
        one.seeds for one in epicotyl.seeds.quantities(plan).successions
    ]
    assert without.successions[3].starts_as == "piece"


def test_the_sheet_of_the_demo_farm_fits_a_page_and_orders_by_what_is_expected():
    demo = Path(__file__).parents[2] / "examples" / "quillet_hollow" / "farm.toml"
    found = epicotyl.seeds.quantities(epicotyl.read_plan(demo))
    said = str(found)
    assert max(map(len, said.splitlines())) <= 100
    assert "_" not in said
    assert "tubers" in said
    standards = [one for one in found.seed_order if one.standard is not None]
    assert standards
    for one in standards:
        assert one.germination > one.standard
        assert one.seeds <= one.seeds_at_standard
