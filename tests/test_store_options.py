"""What a loop may do beside moving water: stir the store by its jet, or return to the layer of its own temperature.

How far a jet reaches follows from its Froude number; the height of a fountain in bores and Froude numbers, and the
share exchanged, are assumptions and are not held here. Their laws are: reach grows with speed, falls with lift.
"""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tlib.installation import Store
from tlib.simulation import Coil, Loop, run_store
from tlib.stratification import exergy, mix_number
from tlib.validation import OutOfRange

HOUR = 3600.0

height = st.floats(0, 1)
optioned = st.builds(
    Loop, height, height, st.floats(0, 0.5), st.floats(5, 95), st.floats(0.01, 0.1), st.floats(0, 2), st.booleans()
)


def tank(volume="300 litre", tall="1.26 m", loss="0 W/K"):
    return Store(
        volume=volume, height=tall, wall={"material": "stainless steel", "thickness": "2 mm"}, loss=loss, room="20 degC"
    )


# ---- both ---------------------------------------------------------------------------------------------------


@settings(max_examples=60)
@given(st.lists(optioned, max_size=3), st.integers(2, 100), st.sampled_from([10.0, 60.0]), st.integers(0, 10_000))
def test_books_and_bounds_hold_with_every_option(loops, layers, step, seed):
    start = np.random.default_rng(seed).uniform(5.0, 95.0, layers)
    run = run_store(
        tank(loss="2 W/K"), loops, [Coil(0.0, 0.9, 900.0, 0.05, 10.0)], start=start, duration=20 * step, step=step,
        layers=layers,
    )  # fmt: skip
    known = [*start, 20.0, 10.0, *(loop.inlet for loop in loops)]
    assert run.ledger.closure <= 1e-12
    assert run.layers.min() >= min(known) - 1e-9
    assert run.layers.max() <= max(known) + 1e-9


def test_what_is_not_asked_for_changes_nothing():
    start, plain = np.linspace(20.0, 80.0, 50), Loop(0.05, 0.45, 0.2, 70.0)
    asked = [Loop(0.05, 0.45, 0.2, 70.0, opening=0.02, exchange=0.0), replace(plain, own_level=False)]
    runs = [run_store(tank(), [loop], start=start, duration=HOUR).layers for loop in (plain, *asked)]
    assert np.array_equal(runs[0], runs[1])
    assert np.array_equal(runs[0], runs[2])


@pytest.mark.parametrize(
    ("option", "says"),
    [
        (dict(exchange=0.3), "the opening of a jet must be above 0 m; got 0"),
        (dict(exchange=0.3, opening=0.3), "the opening of a jet must be 0.2 m or less; got 0.3"),
        (dict(exchange=-0.1, opening=0.02), "the exchange of a jet must be 0 or more; got -0.1"),
        (dict(exchange=2.5, opening=0.02), "the exchange of a jet must be 2 or less; got 2.5"),
    ],
)
def test_impossible_jets_are_refused_in_words(option, says):
    with pytest.raises(OutOfRange, match=says):
        run_store(tank(), [Loop(0.0, 1.0, 0.1, 60.0, **option)])


# ---- a jet --------------------------------------------------------------------------------------------------


def mixing(exchange, opening=0.02):
    """MIX number after half a store of cold water has been let in at the bottom."""
    loop = Loop(1.0, 0.0, 0.1, 10.0, opening=opening, exchange=exchange)
    run = run_store(tank(), [loop], start=60.0, duration=1500.0, step=10.0)
    return mix_number(run.layers[-1], cold=10.0, hot=60.0)


def test_a_jet_stirs_and_the_more_it_exchanges_the_more():
    mixed = [mixing(exchange) for exchange in (0.0, 0.1, 0.5, 2.0)]
    assert np.all(np.diff(mixed) > 0.001), f"MIX {mixed}"


def test_a_jet_into_water_of_its_own_temperature_does_nothing():
    run = run_store(tank(), [Loop(1.0, 0.0, 0.3, 60.0, opening=0.02, exchange=1.0)], start=60.0, duration=HOUR)
    assert run.layers == pytest.approx(np.full(run.layers.shape, 60.0), abs=1e-10)


def test_a_jet_at_rest_does_nothing():
    start, jet = np.linspace(20.0, 80.0, 50), Loop(1.0, 0.0, 0.0, 60.0, opening=0.02, exchange=1.0)
    runs = [run_store(tank(), loops, start=start, duration=HOUR).layers for loops in ([jet], [])]
    assert np.array_equal(*runs)


def reach(flow=0.1, opening=0.02, inlet=10.0):
    """How far above its inlet a jet stirs water of 60 °C, in 2 m of five tonnes, from the layers it changes [m]."""
    start, layers = 60.0 + np.linspace(-0.5, 0.5, 400), []
    for exchange in (0.0, 1.0):
        loop = Loop(0.2, 0.2, flow, inlet, opening=opening, exchange=exchange)
        layers.append(
            run_store(tank("5 m3", "2 m"), [loop], start=start, duration=1.0, step=1.0, layers=400).layers[-1]
        )
    return (np.flatnonzero(np.abs(layers[1] - layers[0]) > 1e-6).max() - 80) * 2 / 400


def test_the_reach_of_a_jet_follows_its_froude_number():
    """Bore times speed over the root of bore times lift: twice the flow, twice as far; half the bore, 2.83 times."""
    usual = reach()
    assert 0.1 < usual < 0.3, f"{usual} m"
    assert reach(flow=0.2) / usual == pytest.approx(2.0, rel=0.06)
    assert reach(opening=0.01) / usual == pytest.approx(2**1.5, rel=0.06)
    assert reach(inlet=51.6) / usual == pytest.approx(2.0, rel=0.06)  # a quarter of the density difference


# ---- its own level ------------------------------------------------------------------------------------------


def returned(inlet, returned_to, *, own_level, drawn_from=0.0, hours=1.0, start=None):
    start = np.linspace(20.0, 80.0, 50) if start is None else start
    loop = Loop(drawn_from, returned_to, 0.03, inlet, own_level=own_level)
    return run_store(tank(), [loop], start=start, duration=hours * HOUR).layers[-1]


@pytest.mark.parametrize("inlet", [5.0, 35.0, 50.0, 79.0, 95.0])
def test_at_its_own_level_the_height_of_the_connection_is_no_matter(inlet):
    low, high = (returned(inlet, place, own_level=True) for place in (0.0, 1.0))
    assert np.array_equal(low, high)


@pytest.mark.parametrize(("inlet", "place"), [(95.0, 1.0), (5.0, 0.0)])
def test_water_beyond_all_others_goes_to_the_end(inlet, place):
    """Hotter than the whole store: as if returned at the top. Colder: as if at the bottom."""
    start = np.linspace(20.0, 80.0, 50)
    drawn = 1.0 - place
    own, plain = (
        returned(inlet, place, own_level=flag, drawn_from=drawn, hours=0.1, start=start) for flag in (True, False)
    )
    assert own == pytest.approx(plain, abs=1e-12)


@pytest.mark.parametrize("inlet", [35.0, 50.0, 65.0])
def test_layers_above_its_level_are_left_alone(inlet):
    """Water drawn at the bottom comes back to where it belongs: nothing above that is moved."""
    start = np.linspace(20.0, 80.0, 50)
    still = run_store(tank(), [], start=start, duration=HOUR).layers[-1]
    after = returned(inlet, 1.0, own_level=True)
    above = start > inlet + 5.0
    assert after[above] == pytest.approx(still[above], abs=0.05)
    assert returned(inlet, 1.0, own_level=False)[above][-1] < still[-1] - 1.0, "at the top it stirs what is there"


@given(st.floats(25, 75), height)
def test_at_its_own_level_water_keeps_the_most_worth(inlet, place):
    """No other height of return leaves more exergy, but for what one layer more or less may do."""
    own, plain = (returned(inlet, place, own_level=flag, hours=0.5) for flag in (True, False))
    gain = exergy(own, 300.0, 10.0) - exergy(plain, 300.0, 10.0)
    assert gain >= -2e-4 * exergy(plain, 300.0, 10.0)
