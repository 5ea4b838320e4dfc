"""The log fire on its own: an exact burn ledger, air, damp wood, and batches that do not meddle with each other.

Outside checks here: Weibull's distribution, written out again; sums over stretches of time by hand.
"""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tlib import installation, tables
from tlib.heat_sources import batches_of, burn, fire_clock
from tlib.installation.fire import DampWood
from tlib.simulation import Conditions, simulate
from tlib.validation import OutOfRange

HOUR = 3600.0
SITES = tables.shipped("workbooks") / "sites"
LARKRIGG, QUILLBECK = (installation.load(SITES / f"{name}.toml").burner for name in ("larkrigg", "quillbeck"))
BATCH = [(0.0, 8.0, 0.20)]
LET_GO = 40 * HOUR
"""Long after the last ember of any batch here."""


def burnt(batches, clock, air=1.0):
    """Burn through the times of a clock; return what each stretch gave and how much of it was useful [J]."""
    alive, steps = 0, []
    for now in clock:
        given, useful, alive = burn(batches, alive, now, air)
        steps.append((given, useful))
    return np.array(steps)


def share_by_hand(age, scale, embers):
    """Two terms of Weibull's form: flames of shape 1.8, and embers of shape 1.2 that take twice as long."""
    flames, glow = -math.expm1(-((age / scale) ** 1.8)), -math.expm1(-((age / (2 * scale)) ** 1.2))
    return (1 - embers) * flames + embers * glow


@pytest.mark.parametrize("step", [7.0, 60.0, 300.0, 3600.0])
def test_the_burn_ledger_is_exact_at_any_step(step):
    """What the steps give adds up to the heat of the batch times its burnt share at the end."""
    batches = batches_of(BATCH, (), LARKRIGG)
    clock = np.arange(step, 4 * HOUR, step)
    share = share_by_hand(clock[-1], batches.time_scale[0], LARKRIGG.embers)
    assert math.fsum(burnt(batches, clock)[:, 0]) == pytest.approx(batches.heat[0] * share, rel=1e-13)


@given(st.lists(st.floats(1.0, LET_GO), min_size=1, max_size=40, unique=True))
def test_the_burn_ledger_is_exact_however_the_time_is_cut(times):
    batches, at_once = (batches_of(BATCH, (), QUILLBECK) for _ in range(2))
    steps = burnt(batches, sorted(times))
    assert math.fsum(steps[:, 0]) == pytest.approx(burnt(at_once, [max(times)])[0, 0], rel=1e-13)
    assert np.all(steps[:, 0] >= 0.0)


def test_at_the_burn_time_a_twentieth_is_left():
    """Our definition of burn time: 95 % is burnt."""
    batches = batches_of(BATCH, (), LARKRIGG)
    assert burnt(batches, [LARKRIGG.burn_time])[0, 0] == pytest.approx(0.95 * batches.heat[0], rel=1e-12)


airs = st.lists(st.tuples(st.floats(0.0, 9e4), st.floats(0.3, 1.2)), max_size=6, unique_by=lambda row: row[0])


@given(airs.map(sorted), st.floats(0.0, 1e5))
def test_the_fires_clock_is_the_integral_of_the_air(air, end):
    """Setting times time, stretch by stretch; 1 before the first."""
    begins = [0.0, *(row[0] for row in air), math.inf]
    settings = [1.0, *(row[1] for row in air)]
    by_hand = sum(
        a * max(min(stop, end) - start, 0.0) for (start, stop), a in zip(pairwise(begins), settings, strict=True)
    )
    assert fire_clock(air, end) == pytest.approx(by_hand, rel=1e-12, abs=1e-9)


def time_to_burn_half(air):
    low, high = 0.0, 12 * HOUR
    for _ in range(60):
        middle = 0.5 * (low + high)
        batches = batches_of(BATCH, air, LARKRIGG)
        half = burnt(batches, [fire_clock(air, middle)])[0, 0] > 0.5 * batches.heat[0]
        low, high = (low, middle) if half else (middle, high)
    return low


def test_half_the_air_takes_twice_as_long_to_burn_half():
    assert time_to_burn_half([(0.0, 0.5)]) == pytest.approx(2 * time_to_burn_half([]), rel=1e-9)


rows = st.tuples(st.floats(0.0, 6 * HOUR), st.floats(0.0, 20.0), st.floats(0.0, 0.5))
CLOCK = np.arange(HOUR, 12 * HOUR, HOUR)


@given(st.lists(rows, min_size=1, max_size=5))
def test_batches_together_are_the_sum_of_each_alone(firing):
    together = burnt(batches_of(firing, (), QUILLBECK), CLOCK)
    alone = sum(burnt(batches_of([row], (), QUILLBECK), CLOCK) for row in firing)
    assert together == pytest.approx(alone, rel=1e-12, abs=1e-6)


@given(
    st.lists(rows, min_size=2, max_size=4).flatmap(lambda firing: st.tuples(st.just(firing), st.permutations(firing)))
)
def test_it_does_not_matter_in_which_order_batches_are_written_down(both):
    one, other = (burnt(batches_of(firing, (), QUILLBECK), CLOCK) for firing in both)
    assert np.array_equal(one, other)


def test_damp_wood_burns_worse_and_slower_as_its_key_says():
    """Quillbeck's key: at 35 %, 0.15 above 20 %, seven and a half points worse and 30 % slower."""
    dry, damp = (batches_of([(0.0, 8.0, w)], (), QUILLBECK) for w in (0.20, 0.35))
    assert damp.useful[0] == pytest.approx(0.75 - 0.075, rel=1e-12)
    assert damp.time_scale[0] / dry.time_scale[0] == pytest.approx(1.30, rel=1e-12)


def test_wood_drier_than_rated_and_a_burner_without_the_key_change_nothing():
    drier, rated = (batches_of([(0.0, 8.0, w)], (), QUILLBECK) for w in (0.12, 0.20))
    assert (drier.useful[0], drier.time_scale[0]) == (rated.useful[0], rated.time_scale[0])
    damp, rated = (batches_of([(0.0, 8.0, w)], (), LARKRIGG) for w in (0.35, 0.20))
    assert (damp.useful[0], damp.time_scale[0]) == (rated.useful[0], rated.time_scale[0])


def test_nothing_is_lost_when_a_batch_is_let_go():
    """A dry batch, lit after a damp one, burns out first; the damp one is let go first, and both give all."""
    batches = batches_of([(0.0, 8.0, 0.5), (60.0, 3.0, 0.15)], (), QUILLBECK)
    alive, given_by_then = 0, 0.0
    for now in np.arange(600.0, LET_GO, 600.0):
        was = alive
        given, _, alive = burn(batches, alive, now, 1.0)
        given_by_then += given
        assert given < 1e-3 * batches.heat.sum() or now < 12 * HOUR, "no burst of heat as a batch is let go"
        assert alive >= was
    assert alive == 2
    assert batches.given.tolist() == batches.heat.tolist()
    assert given_by_then == pytest.approx(batches.heat.sum(), rel=1e-13)


def test_air_off_the_rated_setting_costs_heat():
    """Eight points for each unit of air, too much or too little: common practice, no source."""
    for air, useful in ((1.0, 0.75), (0.5, 0.71), (1.2, 0.734)):
        steps = burnt(batches_of(BATCH, (), LARKRIGG), CLOCK, air)
        assert steps[:, 1].sum() / steps[:, 0].sum() == pytest.approx(useful, rel=1e-12)


@given(st.floats(0.0, 2.0), st.floats(0.0, 10.0), st.floats(0.0, 0.6), st.lists(rows, max_size=4), st.floats(0.3, 1.2))
def test_a_fire_never_gives_less_than_nothing_or_more_than_it_has(lost, slower, embers, firing, air):
    """Every reachable set of keys, however badly the damp wood burns."""
    damp = DampWood.model_construct(efficiency_lost=lost, slower=slower)
    burner = QUILLBECK.model_copy(update={"damp_wood": damp, "embers": embers})
    batches = batches_of(firing, (), burner)
    steps = burnt(batches, air * CLOCK, air)
    assert np.all(np.isfinite(steps))
    assert np.all((steps[:, 1] >= 0.0) & (steps[:, 1] <= steps[:, 0]))
    assert steps[:, 0].sum() <= batches.heat.sum() * (1 + 1e-12)


def test_no_firing_is_no_fire():
    assert burn(batches_of((), (), LARKRIGG), 0, HOUR, 1.0) == (0.0, 0.0, 0)
    assert burn(batches_of(BATCH, (), LARKRIGG), 0, 0.0, 1.0) == (0.0, 0.0, 0)
    day = simulate(installation.load(SITES / "quillbeck.toml"), Conditions(start=20.0, duration=HOUR))
    assert [day.ledger[name] for name in ("fuel", "fire to water", "fire to room", "flue")] == [0.0] * 4


@pytest.mark.parametrize(
    ("batch", "says"),
    [((0.0, -1.0, 0.2), "logs must be 0 kg or more; got -1"), ((0.0, 1.0, 0.9), "moisture must be"),
     ((0.0, 201.0, 0.2), "logs must be 200 kg or less; got 201")],
)  # fmt: skip
def test_impossible_logs_are_refused_in_words(batch, says):
    with pytest.raises(OutOfRange, match=says):
        batches_of([batch], (), LARKRIGG)
