"""How many seeds: against scipy's distributions, what the trade prints, and refusals."""

import copy
import pickle

import pytest

epicotyl = pytest.importorskip("epicotyl")
stats = pytest.importorskip("scipy.stats")
import numpy as np  # noqa: E402 - the package says what is missing


def test_values_that_are_known():
    assert epicotyl.seeds_needed(100, germination=0.80) == 135
    assert epicotyl.seeds_needed(250, germination=0.80) == 327
    assert stats.binom.sf(249, 327, 0.8) >= 0.95 > stats.binom.sf(249, 326, 0.8)
    assert epicotyl.seeds_needed(100, germination=0.55) == 203
    assert epicotyl.seeds_needed(10, germination=0.70, confidence=0.90) == 18
    assert epicotyl.seeds_needed(1, germination=0.70) == 3


def test_seeds_are_the_fewest_by_the_binomial_distribution():
    rng = np.random.default_rng(20270101)
    plants = np.exp(rng.uniform(0.0, np.log(20_000.0), 5000)).astype(np.int64)
    germination = rng.uniform(0.05, 1.0, plants.size)
    usable = rng.uniform(0.3, 1.0, plants.size)
    confidence = np.where(rng.random(plants.size) < 0.5, 0.95, rng.uniform(0.01, 0.9999, 5000))
    seeds = epicotyl.seeds_needed(
        plants, germination=germination, usable=usable, confidence=confidence
    )
    assert seeds.dtype == np.int64
    share = germination * usable
    assert np.all(stats.binom.sf(plants - 1, seeds, share) >= confidence)
    fewer = stats.binom.sf(plants - 1, seeds - 1, share)
    assert np.all(np.where(seeds > plants, fewer < confidence, True))
    assert np.all(seeds >= plants)
    chances = epicotyl.seeds.chance_of_plants(plants, seeds, germination=germination, usable=usable)
    np.testing.assert_allclose(chances, stats.binom.sf(plants - 1, seeds, share), rtol=1e-9)


def test_seeds_of_an_uncertain_lot_are_the_fewest_by_the_beta_binomial_distribution():
    rng = np.random.default_rng(20270102)
    for _ in range(200):
        plants = int(np.exp(rng.uniform(0.0, np.log(500.0))))
        a, b = rng.uniform(2.0, 120.0), rng.uniform(0.3, 40.0)
        confidence = rng.uniform(0.05, 0.99)
        lot = epicotyl.seeds.GerminationSpread(a, b)
        seeds = epicotyl.seeds_needed(plants, germination=lot, confidence=confidence)
        assert stats.betabinom.sf(plants - 1, seeds, a, b) >= confidence - 1e-9
        if seeds > plants:
            assert stats.betabinom.sf(plants - 1, seeds - 1, a, b) < confidence + 1e-9
        chance = epicotyl.seeds.chance_of_plants(plants, seeds, germination=lot)
        assert chance == pytest.approx(stats.betabinom.sf(plants - 1, seeds, a, b), abs=1e-9)


def test_usable_ones_of_an_uncertain_lot_are_a_mixture_of_binomials():
    rng = np.random.default_rng(20270103)
    for _ in range(100):
        plants, seeds = int(rng.integers(1, 120)), int(rng.integers(100, 400))
        a, b, usable = rng.uniform(0.5, 60.0), rng.uniform(0.5, 60.0), rng.uniform(0.1, 1.0)
        up = np.arange(seeds + 1)
        mixture = stats.betabinom.pmf(up, seeds, a, b) @ stats.binom.sf(plants - 1, up, usable)
        lot = epicotyl.seeds.GerminationSpread(a, b)
        chance = epicotyl.seeds.chance_of_plants(plants, seeds, germination=lot, usable=usable)
        assert chance == pytest.approx(mixture, abs=1e-9)


def test_two_seeds_a_cell_fill_it_unless_both_fail():
    cells = epicotyl.seeds.cells_needed([10, 100], seeds_a_cell=2, germination=0.7, usable=0.9)
    filled = (1.0 - 0.3**2) * 0.9
    assert cells.tolist() == epicotyl.seeds_needed([10, 100], germination=filled).tolist()


def test_arrays_are_broadcast_and_one_number_gives_one():
    table = epicotyl.seeds_needed([[100], [250]], germination=[0.8, 0.9, 1.0])
    assert table.shape == (2, 3)
    assert table[1, 0] == 327
    assert table[0, 2] == 100
    assert type(epicotyl.seeds_needed(100, germination=0.8)) is int
    assert type(epicotyl.seeds.chance_of_plants(100, 135, germination=0.8)) is float
    assert type(epicotyl.seeds.cells_needed(np.int32(9), seeds_a_cell=2, germination=0.8)) is int
    assert epicotyl.seeds_needed([], germination=0.8).shape == (0,)
    with pytest.raises(ValueError, match="broadcast"):
        epicotyl.seeds_needed([1, 2, 3], germination=[0.1, 0.2])


@pytest.mark.parametrize(
    ("change", "code", "field"),
    [
        ({"germination": 55}, "chance.out_of_range", "germination"),
        ({"germination": 0.0}, "seeds.germination", "germination"),
        ({"germination": float("nan")}, "chance.out_of_range", "germination"),
        ({"usable": 1.01}, "chance.out_of_range", "usable"),
        ({"usable": 0.0}, "seeds.usable", "usable"),
        ({"confidence": 1.0}, "seeds.confidence", "confidence"),
        ({"confidence": 95.0}, "chance.out_of_range", "confidence"),
        ({"plants": -1}, "seeds.plants", "plants"),
        ({"plants": 2**70}, "number.too_large", "plants"),
        ({"plants": np.uint64(2**63)}, "number.too_large", "plants"),
    ],
)
def test_values_out_of_range_are_refused_by_name(change, code, field):
    arguments = {"plants": 10, "germination": 0.8} | change
    with pytest.raises(epicotyl.InvalidInput) as refused:
        epicotyl.seeds_needed(arguments.pop("plants"), **arguments)
    assert refused.value.code == code
    assert refused.value.field == field
    assert refused.value.remedy


@pytest.mark.parametrize("plants", [10.0, "10", True, None, [1.5]])
def test_plants_are_whole_numbers(plants):
    with pytest.raises(TypeError, match="plants"):
        epicotyl.seeds_needed(plants, germination=0.8)


def test_a_spread_is_a_value():
    lot = epicotyl.seeds.GerminationSpread.from_test(40, 50)
    assert lot == epicotyl.seeds.GerminationSpread(41.0, 11.0)
    assert lot != epicotyl.seeds.GerminationSpread(41.0, 12.0)
    assert lot != "Beta"
    assert hash(lot) == hash(epicotyl.seeds.GerminationSpread(41.0, 11.0))
    assert pickle.loads(pickle.dumps(lot)) == lot
    assert copy.deepcopy(lot) is lot
    assert eval(repr(lot), {"GerminationSpread": epicotyl.seeds.GerminationSpread}) == lot  # noqa: S307
    assert lot.concentration == 52.0
    assert lot.mean == stats.beta(41, 11).mean()


def test_packets_are_told_by_their_kinds():
    small = epicotyl.seeds.SeedPacket("small", 100, 2.5)
    large = epicotyl.seeds.SeedPacket("large", 500, 9.0)
    bought = epicotyl.seeds.buy_seed(817, [small, large])
    assert bought.packets == [(2, large)]
    assert (bought.count, bought.seeds, bought.price) == (2, 1000, 18.0)
    assert str(epicotyl.seeds.buy_seed(0, [small])) == "none"
    assert pickle.loads(pickle.dumps(bought)) == bought
    with pytest.raises(epicotyl.InvalidInput, match="cheapest"):
        epicotyl.seeds.buy_seed(1, [small], choice="cheap")
    with pytest.raises(TypeError, match="SeedPacket"):
        epicotyl.seeds.buy_seed(1, [("small", 100, 2.5)])
    with pytest.raises(epicotyl.InvalidInput, match=r"packets\[1\]"):
        epicotyl.seeds.buy_seed(1, [epicotyl.seeds.SeedPacket("none", 0, 1.0)])


def test_seed_by_weight():
    a_gram = epicotyl.seeds.seeds_per_gram_of_ounce(4000.0)
    assert a_gram == pytest.approx(4000.0 / 28.349523125)
    assert epicotyl.seeds.seeds_in(28.349523125, seeds_per_gram=a_gram) == 4000
    assert epicotyl.seeds.grams_of(4000, seeds_per_gram=a_gram) == pytest.approx(28.349523125)
