"""The burner's water side on its own: jacket, loading valve, bypass and lining.

Outside checks here: the mixing balance; Incropera's lumped capacitance (equations 5.6 and 5.25); bores of EN 1057
tube; the taught sum of 1.163 Wh per litre and kelvin.
"""

import math
from functools import cache

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tlib import installation, tables
from tlib.compiled import records
from tlib.heat_sources import burner_of, rest_element, settle_burner, step_burner, warm_lining
from tlib.heat_transfer.layered_coil import SPECIFIC_HEAT
from tlib.thermal_store import Loop

HOUR = 3600.0
ROOM = 15.0
FREE = -1.0
"""A loading valve that is not stuck."""
SITES = tables.shipped("workbooks") / "sites"
BURNERS = {name: installation.load(SITES / f"{name}.toml").burner for name in ("larkrigg", "quillbeck")}
LARKRIGG, QUILLBECK = BURNERS.values()
BOTH = pytest.mark.parametrize("site", BURNERS.values(), ids=BURNERS)


def burner_and_loop(site=LARKRIGG, temperature=60.0, **fields):
    """Return a burner's record, fields of it set as given, and its loop with the store."""
    burner = burner_of(site, temperature, ROOM)[0]
    for name, value in fields.items():
        setattr(burner, name, value)
    return burner, records(Loop, [Loop(0, 0)])[0]


def run(burner, loop, power, cold, minutes, step=60.0, pumping=1):
    """Step on with all that meets it held; return what comes back to the burner, step by step [°C]."""
    returns = []
    for _ in range(round(60 * minutes / step)):
        step_burner(burner, loop, power, pumping, FREE, cold, ROOM, step)
        returns.append(burner.back)
    return np.array(returns)


def share_new(burner, loop):
    return loop.flow / burner.pump_flow


# ---- loading valve and bypass ----------------------------------------------------------------------------------


def test_the_loading_valve_shares_as_the_mixing_balance():
    """Flow 80, store 30, return held at 60: (60 - 30) / (80 - 30) = 0.6 goes round again.

    A valve that begins to open at 56 and is open at 66 stands at four tenths when its return is 60.
    """
    burner, loop = burner_and_loop(temperature=80.0, capacity=1e20, opens=56.0, band=10.0, bypass=0.0)
    run(burner, loop, 0.0, 30.0, 30)
    assert burner.back == pytest.approx(60.0, abs=1e-9)
    assert 1 - share_new(burner, loop) == pytest.approx(0.6, rel=1e-10)


@BOTH
@pytest.mark.parametrize("power", [4e3, 10e3, 16e3])
@pytest.mark.parametrize("cold", [12.0, 35.0, 50.0])
def test_whatever_it_settles_at_is_a_mixture_inside_the_valves_band(site, power, cold):
    burner, loop = burner_and_loop(site)
    run(burner, loop, power, cold, 240)
    new = share_new(burner, loop)
    assert burner.back == pytest.approx((1 - new) * burner.temperature + new * cold, rel=1e-12)
    assert burner.opens <= burner.back <= burner.opens + burner.band
    assert burner.element == pytest.approx(burner.back, abs=1e-6), "the element stands in what comes back"


@BOTH
@pytest.mark.parametrize("power", [4e3, 10e3, 16e3])
def test_it_settles_at_the_drop_that_carries_its_heat(site, power):
    """Drop = power / (1.163 x litres an hour), the power less what its case gives to the room."""
    burner, loop = burner_and_loop(site)
    run(burner, loop, power, 35.0, 240)
    carried = power - site.standing * (burner.temperature - ROOM)
    litres = 3600 * site.pump.flow
    assert burner.temperature - burner.back == pytest.approx(carried / (1.163 * litres), rel=1e-6)
    assert loop.flow * 3600 * 1.163 * (burner.temperature - 35.0) == pytest.approx(carried, rel=1e-6)


def test_the_bypass_takes_its_share_by_its_bore():
    """EN 1057: 8 x 0.6 and 28 x 0.9 mm. At equal drop in rough flow the flow goes as the bore to the power 2.5."""
    narrow, wide = 6.8**2.5, 26.2**2.5
    assert burner_and_loop()[0].bypass == pytest.approx(narrow / (narrow + wide), rel=1e-12)
    assert burner_and_loop(LARKRIGG.model_copy(update={"bypass": None}))[0].bypass == 0.0


def test_a_shut_valve_sends_everything_round():
    burner, loop = burner_and_loop(temperature=58.0, element=20.0)
    step_burner(burner, loop, 0.0, 1, FREE, 30.0, ROOM, 60.0)
    assert (loop.flow, loop.inlet, burner.planned) == (0.0, 30.0, 0.0)
    assert 57.0 < burner.back <= 58.0


def test_a_valve_fully_open_sends_round_the_bypass_alone():
    """More fire than it can cool: the element is past its band, and only the bypass goes round."""
    burner, loop = burner_and_loop(temperature=95.0)
    run(burner, loop, 40e3, 75.0, 240)
    assert burner.element > burner.opens + burner.band
    assert 1 - share_new(burner, loop) == pytest.approx(burner.bypass, rel=1e-12)
    assert burner.back == pytest.approx(burner.bypass * burner.temperature + (1 - burner.bypass) * 75.0, rel=1e-12)


@pytest.mark.parametrize("step", [1.0, 5.0, 15.0, 60.0])
def test_the_element_of_a_shut_valve_follows_the_burners_water_with_its_lag(step):
    """Incropera 5.6: 80 - 60 exp(-t / 30 s) while it is shut; it passes 60 °C after 30 ln 3 = 33 s, and opens."""
    burner, loop = burner_and_loop(temperature=80.0, capacity=1e15, element=20.0)
    for k in range(1, int(30 // step) + 1):
        step_burner(burner, loop, 0.0, 1, FREE, 30.0, ROOM, step)
        assert burner.element == pytest.approx(80 - 60 * math.exp(-k * step / 30), rel=1e-12)
        assert loop.flow == 0.0
    run(burner, loop, 0.0, 30.0, 1.0, step)
    assert loop.flow > 0.0


def followed_closely(hot, cold, element, burner, seconds, part=0.005):
    """Let the element follow its mixture in tiny steps, straight from its equation."""
    for _ in range(round(seconds / part)):
        opening = (1 - burner.bypass) * min(max((element - burner.opens) / burner.band, 0.0), 1.0)
        element += part * (hot - opening * (hot - cold) - element) / burner.lag
    return element


@pytest.mark.parametrize(("hot", "cold", "element"), [(80.0, 30.0, 20.0), (80.0, 30.0, 69.0), (62.0, 20.0, 15.0)])
def test_the_element_follows_its_mixture(hot, cold, element):
    burner, loop = burner_and_loop(temperature=hot, capacity=1e15, element=element)
    for seconds in (15, 30, 45, 60):
        close = followed_closely(hot, cold, element, burner, seconds)
        step_burner(burner, loop, 0.0, 1, FREE, cold, ROOM, 15.0)
        assert burner.element == pytest.approx(close, abs=0.02)


@given(*[st.floats(5.0, 110.0)] * 3, st.sampled_from([1.0, 15.0, 60.0]), st.floats(1.0, 120.0))
def test_the_element_never_leaves_the_span_of_what_it_stands_in(hot, cold, element, step, lag):
    burner, loop = burner_and_loop(temperature=hot, capacity=1e15, element=element, lag=lag)
    step_burner(burner, loop, 0.0, 1, FREE, cold, ROOM, step)
    assert min(hot, cold, element) - 1e-9 <= burner.element <= max(hot, cold, element) + 1e-9


def test_the_element_cools_to_the_room_while_the_pump_rests():
    """Incropera 5.6, in any number of steps; twenty minutes of time constant: common practice, no source."""
    for step in (15.0, 60.0, 600.0):
        burner, _ = burner_and_loop(element=65.0)
        for _ in range(round(600 / step)):
            rest_element(burner, ROOM, step)
        assert burner.element == pytest.approx(ROOM + 50.0 * math.exp(-0.5), rel=1e-12)


# ---- what a change does ----------------------------------------------------------------------------------------


@cache
def changes(name, step):
    """Return what comes back after each of three changes: a cold start, a warmer store, a smaller fire."""
    burner, loop = burner_and_loop(BURNERS[name], 50.0, element=50.0)
    return [run(burner, loop, power, cold, 40, step) for power, cold in ((12e3, 30.0), (12e3, 50.0), (5e3, 50.0))]


def overshoot(returns):
    """Return how far a series goes past where it ends, beyond where it began [K]."""
    first, last = returns[0], returns[-1]
    return max(returns.max() - max(first, last), min(first, last) - returns.min())


@pytest.mark.parametrize("name", BURNERS)
@pytest.mark.parametrize("step", [60.0, 15.0, 1.0])
def test_the_return_settles_without_ringing(name, step):
    for returns in changes(name, step):
        assert overshoot(returns) < 1.0
        turns = np.diff(np.sign(np.diff(returns[np.abs(returns - returns[-1]) > 0.05])))
        assert np.count_nonzero(turns) <= 2
        assert abs(returns[-1] - returns[-2]) < 0.01


@pytest.mark.parametrize("name", BURNERS)
def test_ten_minutes_after_a_change_the_steps_agree(name):
    by_step = [[returns[round(600 / step) - 1] for returns in changes(name, step)] for step in (60.0, 15.0, 1.0)]
    assert np.ptp(by_step, axis=0).max() < 1.0


@BOTH
def test_the_heat_of_half_an_hour_hardly_depends_on_the_step(site):
    def carried(step):
        burner, loop = burner_and_loop(site, 50.0)
        heat = 0.0
        for _ in range(round(1800 / step)):
            step_burner(burner, loop, 12e3, 1, FREE, 30.0, ROOM, step)
            heat += burner.planned
        return heat

    coarse, middle, fine = (carried(step) for step in (60.0, 15.0, 1.0))
    assert coarse == pytest.approx(fine, rel=0.01)
    assert middle == pytest.approx(fine, rel=0.01)


# ---- jacket ----------------------------------------------------------------------------------------------------


@BOTH
@pytest.mark.parametrize("step", [10.0, 60.0, 600.0])
def test_a_dead_burner_cools_as_a_lump(site, step):
    """Incropera 5.6: room + (start - room) exp(-t standing / capacity), by any step, with the pump off."""
    burner, loop = burner_and_loop(site, 80.0)
    shed, capacity = 0.0, 1000 * site.water * SPECIFIC_HEAT + 470.0 * site.body
    for _ in range(round(2 * HOUR / step)):
        step_burner(burner, loop, 0.0, 0, FREE, 30.0, ROOM, step)
        shed += burner.shed
    fall = math.exp(-2 * HOUR * site.standing / capacity)
    assert burner.temperature == pytest.approx(ROOM + 65.0 * fall, rel=1e-11)
    assert shed == pytest.approx(capacity * 65.0 * (1 - fall), rel=1e-10)
    assert loop.flow == 0.0


@pytest.mark.parametrize("step", [15.0, 60.0, 600.0])
def test_a_burner_without_its_pump_warms_as_a_lump_with_heat_of_its_own(step):
    """Incropera 5.25: it tends to room + power / standing."""
    burner, loop = burner_and_loop(temperature=20.0)
    run(burner, loop, 200.0, 30.0, 60, step, pumping=0)
    settled = ROOM + 200.0 / 3.0
    gone = math.exp(-HOUR * 3.0 / burner.capacity)
    assert burner.temperature == pytest.approx(settled + (20.0 - settled) * gone, rel=1e-11)


fires = st.lists(
    st.tuples(st.floats(0.0, 40e3), st.integers(0, 1), st.floats(5.0, 100.0), st.sampled_from([1.0, 15.0, 60.0])),
    min_size=1, max_size=12,
)  # fmt: skip
small = st.sampled_from([4186.8, 20e3, 130e3])


@given(fires, st.floats(5.0, 100.0), st.floats(5.0, 100.0), small, st.floats(0.02, 1.0), st.floats(1.0, 120.0))
def test_a_burner_never_does_the_impossible(steps, start, element, capacity, flow, lag):
    """Books to the last digit; flow within the pump's; water no colder than all that it meets, whatever its size."""
    burner, loop = burner_and_loop(temperature=start, element=element, capacity=capacity, pump_flow=flow, lag=lag)
    coldest = min(start, ROOM, *(cold for _, _, cold, _ in steps))
    for power, pumping, cold, step in steps:
        was = burner.temperature
        step_burner(burner, loop, power, pumping, FREE, cold, ROOM, step)
        heat = loop.flow * SPECIFIC_HEAT * (loop.inlet - cold) * step
        scale = power * step + abs(heat) + capacity * abs(was)
        assert heat == pytest.approx(burner.planned, abs=1e-12 * scale)
        assert capacity * (burner.temperature - was) == pytest.approx(
            power * step - burner.shed - burner.planned, abs=1e-12 * scale
        )
        assert 0.0 <= loop.flow <= flow * (1 - burner.bypass) * (1 + 1e-12)
        assert loop.flow == 0.0 or pumping
        assert np.isfinite([burner.element, burner.back, loop.inlet]).all()
        assert burner.temperature >= coldest - 1e-9
        assert power > 0.0 or burner.temperature <= max(was, cold, ROOM) + 1e-9


def test_what_the_store_did_not_take_stays_in_the_jacket():
    burner, loop = burner_and_loop(temperature=75.0, element=65.0)
    step_burner(burner, loop, 10e3, 1, FREE, 40.0, ROOM, 60.0)
    after, loop.heat = burner.temperature, 0.9 * burner.planned
    settle_burner(burner, loop)
    assert burner.temperature - after == pytest.approx(0.1 * burner.planned / burner.capacity, rel=1e-9)
    loop.heat, after = burner.planned, burner.temperature
    settle_burner(burner, loop)
    assert burner.temperature == after


# ---- lining ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("step", [15.0, 60.0, 600.0])
def test_warm_bricks_release_their_heat_as_a_lump(step):
    """Incropera 5.6: 60 kg of 840 J/(kg K) through 10 W/K, from 200 °C; what they lose is what the room gets."""
    burner, _ = burner_and_loop(QUILLBECK, lining=200.0)
    released = sum(warm_lining(burner, 0.0, ROOM, step) for _ in range(round(3 * HOUR / step)))
    fall = math.exp(-3 * HOUR * 10.0 / (60 * 840))
    assert burner.lining == pytest.approx(ROOM + 185.0 * fall, rel=1e-12)
    assert released == pytest.approx(60 * 840 * 185.0 * (1 - fall), rel=1e-11)


@given(st.lists(st.floats(0.0, 5e3), min_size=1, max_size=30), st.sampled_from([15.0, 60.0]))
def test_bricks_pass_on_all_that_they_do_not_hold(powers, step):
    burner, _ = burner_and_loop(QUILLBECK)
    released = sum(warm_lining(burner, power * step, ROOM, step) for power in powers)
    held = burner.lining_capacity * (burner.lining - ROOM)
    assert released + held == pytest.approx(sum(powers) * step, rel=1e-10, abs=1e-6)
    assert released >= 0.0


def test_bricks_in_a_steady_fire_pass_everything_on():
    burner, _ = burner_and_loop(QUILLBECK)
    given_off = [warm_lining(burner, 4e3 * 60.0, ROOM, 60.0) for _ in range(24 * 60)]
    assert given_off[0] < 0.05 * 4e3 * 60.0
    assert given_off[-1] == pytest.approx(4e3 * 60.0, rel=1e-6)
    assert burner.lining == pytest.approx(ROOM + 4e3 / 10.0, rel=1e-6)


def test_a_burner_without_bricks_passes_its_heat_on_at_once():
    burner, _ = burner_and_loop(LARKRIGG)
    assert warm_lining(burner, 1234.5, ROOM, 60.0) == 1234.5
