"""What a plan needs and what plants cost, from Python."""

import copy
import datetime
import pickle

import pytest

epicotyl = pytest.importorskip("epicotyl")
stats = pytest.importorskip("scipy.stats")
import numpy as np  # noqa: E402 - the package says what is missing


@pytest.fixture(scope="module")
def farm():
    stages = [
        {
            "begins": "sow",
            "where": "bench",
            "container": "plug 104",
            "takes": {"days": 10},
            "survives": 0.8,
        },
        {"begins": "emerge", "where": "bench", "container": "plug 104", "takes": {"days": 20}},
        {
            "begins": "transplant",
            "where": "beds",
            "spacing": {"rows": 4, "in_row": 25.0},
            "takes": {"days": 40},
        },
    ]
    return epicotyl.plan(
        format=1,
        units="metric",
        site={"latitude": 51.9, "season_start": datetime.date(2027, 1, 1)},
        places={"bench": {"for": ["germinate", "grow"]}, "beds": {"for": ["field"]}},
        containers={"plug 104": {"cells": 104, "medium": 1.6}},
        crops={"stock": {"id": "st", "stages": stages}},
        succession=[
            {
                "name": f"stock {k}",
                "crop": "stock",
                "plants": plants,
                "risk": False,
                "target": {"event": "transplant", "on": datetime.date(2027, 5, 1)},
            }
            for k, plants in enumerate([100, 250], start=1)
        ],
    )


def test_seed_trays_and_medium_of_a_plan(farm):
    found = epicotyl.seeds.quantities(farm)
    assert [one.seeds for one in found.successions] == [135, 327]
    assert [one.cells for one in found.successions] == [135, 327]
    assert [one.average_seeds for one in found.successions] == pytest.approx([125.0, 312.5])
    # 2 and 4 trays are sown; what comes up stands in 1 and 3.
    assert [[s.trays for s in one.stages] for one in found.successions] == [[2, 1, 0], [4, 3, 0]]
    assert found.successions[1].stages[2].bed == pytest.approx(250 * 0.25 / 4)
    (order,) = found.seed_order
    assert order == epicotyl.seeds.SeedOrderLine(
        "stock", "sow", 462, None, None, germination=pytest.approx(0.8)
    )
    (trays,) = found.trays
    assert (trays.container, trays.cells, trays.trays, trays.filled) == ("plug 104", 104, 6, 6)
    assert found.medium == trays.medium == pytest.approx(6 * 1.6 * 1.2)
    assert epicotyl.seeds.alive_counts(farm, "stock 1").tolist() == pytest.approx(
        [125, 100, 100, 100]
    )


def test_what_is_known_of_seed_is_used(farm):
    small = epicotyl.seeds.SeedPacket("small", 250, 3.0)
    lot = epicotyl.seeds.SeedLot("st", seeds_per_gram=700.0, packets=[small], choice="fewest")
    line = epicotyl.seeds.quantities(farm, lots=[lot]).seed_order[0]
    assert line.grams == pytest.approx(462 / 700)
    assert line.bought == epicotyl.seeds.BoughtSeed([(2, small)], 2, 500, 6.0)
    tested = epicotyl.seeds.GerminationSpread.from_test(40, 50)
    found = epicotyl.seeds.quantities(
        farm, lots=[epicotyl.seeds.SeedLot("stock", germination=tested)]
    )
    seeds = found.successions[0].seeds
    assert stats.betabinom.sf(99, seeds, 41, 11) >= 0.95 > stats.betabinom.sf(99, seeds - 1, 41, 11)
    double = epicotyl.seeds.quantities(
        farm, lots=[epicotyl.seeds.SeedLot("stock", seeds_a_cell=2)], compactions={"plug 104": 0.0}
    )
    cells = epicotyl.seeds.cells_needed([100, 250], seeds_a_cell=2, germination=0.8)
    assert [one.cells for one in double.successions] == cells.tolist()
    assert [one.seeds for one in double.successions] == (2 * cells).tolist()
    assert double.medium == pytest.approx(1.6 * double.trays[0].filled)


def test_results_are_values(farm):
    found = epicotyl.seeds.quantities(farm)
    assert pickle.loads(pickle.dumps(found)) == found
    assert copy.deepcopy(found) == found
    landed = epicotyl.cost.landed_cost(200, epicotyl.cost.PlantOffer(84, [(1, 31.5)]))
    assert pickle.loads(pickle.dumps(landed)) == landed


@pytest.mark.parametrize(
    ("options", "refusal"),
    [
        ({"confidence": 1.0}, epicotyl.InvalidInput),
        ({"compaction": -1.0}, epicotyl.InvalidInput),
        ({"compactions": {"plug": 0.1}}, epicotyl.InvalidInput),
        ({"lots": [epicotyl.seeds.SeedLot("leek")]}, epicotyl.InvalidInput),
        ({"lots": [epicotyl.seeds.SeedLot("stock", germination=1.2)]}, epicotyl.InvalidInput),
        ({"lots": [epicotyl.seeds.SeedLot("stock", choice="best")]}, epicotyl.InvalidInput),
        ({"lots": ["stock"]}, TypeError),
        ({"compaction": "0.2"}, TypeError),
    ],
)
def test_options_are_refused(farm, options, refusal):
    with pytest.raises(refusal):
        epicotyl.seeds.quantities(farm, **options)


def test_plants_are_bought_in_whole_trays_and_boxes():
    offer = epicotyl.cost.PlantOffer(84, [(1, 31.5), (9, 27.0)], trays_a_box=4, freight_a_box=18.5)
    plants = np.arange(1, 1200)
    for count in plants.tolist():
        landed = epicotyl.cost.landed_cost(count, offer)
        trays = -(-count // 84)
        assert landed.trays == trays
        assert landed.boxes == -(-trays // 4)
        # A ninth tray would make eight cheaper, 243 against 252, but for the box it comes in.
        assert landed.total == trays * (31.5 if trays < 9 else 27.0) + 18.5 * landed.boxes
    assert "10 trays at 27.00" in str(epicotyl.cost.landed_cost(800, offer))
    with pytest.raises(epicotyl.InvalidInput, match="whole number of plants"):
        epicotyl.cost.landed_cost(-1, offer)
    with pytest.raises(TypeError, match="PlantOffer"):
        epicotyl.cost.landed_cost(1, (84, 31.5))


def test_raising_costs_the_same_as_buying_at_the_break_even_share():
    cost = epicotyl.cost.cost_of_raising(160, usable=0.75, seed=12.0, heat=31.0, currency="EUR")
    share = epicotyl.cost.break_even_usable(cost.total, 160, 0.5)
    at = epicotyl.cost.cost_of_raising(160, usable=share, seed=12.0, heat=31.0)
    assert at.per_usable_plant == pytest.approx(0.5)
    assert epicotyl.cost.break_even_usable(cost.total, 160, 0.2) is None
    assert "EUR" in str(cost)
