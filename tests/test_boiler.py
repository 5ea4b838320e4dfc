"""The boiler on its own: least run and rest, overrun, modulation, its own limit, efficiency, and the fire's precedence.

Outside checks here: Incropera's lumped capacitance (equations 5.6 and 5.25), which also gives the times of a cycle
between two settings; the heat balance of a through-flow; combustion.boiler_efficiency, held to sources of its own.
"""

import math

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from tlib import installation, tables
from tlib.combustion import boiler_efficiency
from tlib.compiled import records
from tlib.heat_sources import boiler_of, decide_firing, settle_boiler, step_boiler
from tlib.heat_transfer.layered_coil import SPECIFIC_HEAT
from tlib.simulation import Conditions, simulate
from tlib.thermal_store import Loop

HOUR = 3600.0
ROOM = 15.0
SITES = {name: installation.load(tables.shipped("workbooks") / "sites" / f"{name}.toml")
         for name in ("larkrigg", "quillbeck", "tansy")}  # fmt: skip
LARKRIGG, QUILLBECK, TANSY = SITES.values()
EACH = pytest.mark.parametrize("site", SITES.values(), ids=SITES)


def boiler_and_loop(site=LARKRIGG, temperature=ROOM, **fields):
    """Return a boiler's record, fields of it set as given, and its loop with the store."""
    boiler = boiler_of(site.boiler, temperature)[0]
    for name, value in fields.items():
        setattr(boiler, name, value)
    return boiler, records(Loop, [Loop(0, 0)])[0]


def run(boiler, loop, demanded, cold, seconds, step=60.0, limit_ok=1):
    """Step on with all that meets it held; return firing, pumping and water temperature, step by step."""
    rows = []
    for _ in range(round(seconds / step)):
        decide_firing(boiler, demanded, limit_ok, step)
        step_boiler(boiler, loop, cold, ROOM, step)
        rows.append((boiler.firing, boiler.pumping, boiler.temperature))
    return np.array(rows)


# ---- when it fires ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize("step", [1.0, 15.0, 60.0])
def test_once_lit_it_runs_its_least_time(step):
    """Called for one step only, Larkrigg's boiler still fires for its 240 s."""
    boiler, loop = boiler_and_loop()
    lit = run(boiler, loop, 1, 40.0, step, step)[:, 0].sum()
    lit += run(boiler, loop, 0, 40.0, 600.0, step)[:, 0].sum()
    assert lit * step == 240.0


@pytest.mark.parametrize("step", [1.0, 15.0, 60.0])
def test_once_out_it_rests_its_least_time(step):
    """Called again the moment it went out, and cold enough, it waits its 180 s."""
    boiler, loop = boiler_and_loop(firing=1)
    decide_firing(boiler, 0, 1, step)
    assert not boiler.firing
    rest = run(boiler, loop, 1, 40.0, 600.0, step)[:, 0]
    assert (np.argmax(rest) + 1) * step == 180.0
    assert np.all(np.diff(rest) >= 0.0)


def test_its_own_limit_puts_it_out_before_its_least_run_and_keeps_it_out():
    boiler, loop = boiler_and_loop()
    assert run(boiler, loop, 1, 40.0, 60.0)[0, 0]
    assert not np.any(run(boiler, loop, 1, 40.0, HOUR, limit_ok=0)[:, 0])


def test_nothing_asked_is_nothing_burnt():
    boiler, loop = boiler_and_loop()
    assert not np.any(run(boiler, loop, 0, 40.0, HOUR)[:, :2])
    assert (boiler.fuel, boiler.given, loop.flow) == (0.0, 0.0, 0.0)
    assert boiler.temperature == pytest.approx(ROOM, abs=1e-12)


@EACH
@pytest.mark.parametrize("step", [5.0, 60.0])
def test_overrun_carries_the_rest_of_its_heat_away(site, step):
    """Its pump goes on for the overrun; by Incropera 5.6 its water has then come down to the store's."""
    boiler, loop = boiler_and_loop(site, 78.0, firing=1)
    cold, rate = 50.0, boiler.pump_flow * SPECIFIC_HEAT
    after = run(boiler, loop, 0, cold, 900.0, step)
    assert after[:, 1].sum() * step == site.boiler.overrun
    settled = (rate * cold + boiler.standing * ROOM) / (rate + boiler.standing)
    fall = math.exp(-site.boiler.overrun * (rate + boiler.standing) / boiler.capacity)
    end = after[round(site.boiler.overrun / step) - 1, 2]
    assert end == pytest.approx(settled + (78.0 - settled) * fall, rel=1e-12)
    assert end - cold < 0.5


# ---- how hard it fires -----------------------------------------------------------------------------------------


@EACH
@pytest.mark.parametrize("share", [0.55, 0.8, 0.99])
def test_between_least_and_most_it_holds_its_flow_temperature(site, share):
    """Heat balance: power to the store = flow x specific heat x (flow temperature - return)."""
    boiler, loop = boiler_and_loop(site)
    rate = boiler.pump_flow * SPECIFIC_HEAT
    cold = boiler.aim - share * boiler.most / rate
    run(boiler, loop, 1, cold, HOUR)
    assert boiler.temperature == pytest.approx(boiler.aim, abs=1e-9)
    assert boiler.planned / 60.0 == pytest.approx(share * boiler.most, rel=1e-9)
    assert boiler.given / 60.0 == pytest.approx(share * boiler.most + boiler.standing * (boiler.aim - ROOM), rel=1e-9)
    assert loop.inlet == pytest.approx(boiler.aim, abs=1e-9)


@EACH
def test_it_never_gives_more_than_its_most(site):
    """A cold store asks for more than it has: it then falls short of its flow temperature by the heat balance."""
    boiler, loop = boiler_and_loop(site)
    run(boiler, loop, 1, 20.0, HOUR)
    rate = boiler.pump_flow * SPECIFIC_HEAT
    assert boiler.given / 60.0 == boiler.most
    by_hand = (boiler.most + rate * 20.0 + boiler.standing * ROOM) / (rate + boiler.standing)
    assert boiler.temperature == pytest.approx(by_hand, rel=1e-12)


def cycling(site, **fields):
    """Return a boiler on a pump so slow that its least output would warm the water 12 K, from 6 K below its aim."""
    boiler, loop = boiler_and_loop(site, **fields)
    boiler.pump_flow = boiler.least / 12.0 / SPECIFIC_HEAT
    return boiler, loop, boiler.aim - 6.0


def spans_of(states, step):
    """Return how long each state lasted, the first and the last left out: times on, and times off [s]."""
    switched = np.flatnonzero(np.diff(states))
    spans, begins_on = np.diff(switched) * step, states[switched[:-1] + 1] == 1
    return spans[begins_on], spans[~begins_on]


def test_below_its_least_it_goes_on_and_off_by_the_closed_form():
    """Between two settings a lump of time constant tau takes tau ln((end - low) / (end - high)) to rise, and
    tau ln((high - base) / (low - base)) to fall (Incropera 5.25, solved for time): here without least times.
    """
    boiler, loop, cold = cycling(LARKRIGG, least_run=0.0, least_rest=0.0, capacity=1e6)
    step = 5.0
    on, off = spans_of(run(boiler, loop, 1, cold, 8 * HOUR, step)[:, 0], step)
    lost = boiler.pump_flow * SPECIFIC_HEAT + boiler.standing
    tau, base = boiler.capacity / lost, cold - boiler.standing * (cold - ROOM) / lost
    end, low, high = base + boiler.least / lost, boiler.aim - 5.0, boiler.aim + 5.0
    assert min(on.size, off.size) >= 3
    assert on == pytest.approx(tau * math.log((end - low) / (end - high)), abs=3 * step)
    assert off == pytest.approx(tau * math.log((high - base) / (low - base)), abs=3 * step)


@EACH
def test_a_cycling_boiler_keeps_its_least_times(site):
    boiler, loop, cold = cycling(site, capacity=5e3)
    on, off = spans_of(run(boiler, loop, 1, cold, 3 * HOUR, 15.0)[:, 0], 15.0)
    assert min(on.size, off.size) >= 3
    assert set(on) == {site.boiler.least_run}
    assert set(off) == {site.boiler.least_rest}


# ---- fuel and books --------------------------------------------------------------------------------------------

LINES = {
    "heating oil": dict(gain=0.003, dew_point=47.0, greatest=0.95),
    "bottled gas": dict(gain=0.004, dew_point=53.0, greatest=0.96),
    "natural gas": dict(gain=0.004, dew_point=55.0, greatest=0.97),
}
"""Teaching lines: common practice, no source. The dew points stand in order, as those of the flue gases do."""


@EACH
@pytest.mark.parametrize("cold", [20.0, 35.0, 45.0, 50.0, 60.0])
def test_fuel_is_heat_over_the_efficiency_at_its_return(site, cold):
    boiler, loop = boiler_and_loop(site)
    run(boiler, loop, 1, cold, 600.0)
    by_return = boiler_efficiency(cold, dry=site.boiler.efficiency, **LINES[site.boiler.fuel])
    assert boiler.firing
    assert boiler.given / boiler.fuel == pytest.approx(by_return, rel=1e-12)


steps = st.lists(
    st.tuples(st.integers(0, 1), st.integers(0, 1), st.floats(5.0, 95.0), st.sampled_from([1.0, 15.0, 60.0])),
    min_size=1, max_size=15,
)  # fmt: skip


@given(steps, st.floats(5.0, 95.0), st.sampled_from([5e3, 35e3, 500e3]), st.floats(0.02, 1.0), st.floats(0.0, 50.0))
@example([(0, 1, 5.0, 1.0)], 5.0, 5e3, 1.0, 5e-324)
def test_a_boiler_never_does_the_impossible(steps, start, capacity, flow, standing):
    """Books to the last digit: heat from the fuel goes to the store, to the room, or stays in its water."""
    boiler, loop = boiler_and_loop(temperature=start, capacity=capacity, pump_flow=flow, standing=standing)
    for demanded, limit_ok, cold, step in steps:
        was = boiler.temperature
        decide_firing(boiler, demanded, limit_ok, step)
        step_boiler(boiler, loop, cold, ROOM, step)
        heat = loop.flow * SPECIFIC_HEAT * (loop.inlet - cold) * step
        scale = boiler.given + abs(boiler.planned) + capacity * abs(was)
        assert heat == pytest.approx(boiler.planned, abs=1e-12 * scale)
        assert capacity * (boiler.temperature - was) == pytest.approx(
            boiler.given - boiler.shed - boiler.planned, abs=1e-12 * scale
        )
        assert loop.flow == (pytest.approx(flow, rel=1e-12) if boiler.pumping else 0.0)
        assert boiler.given == 0.0 or (boiler.firing and boiler.pumping)
        assert boiler.given == 0.0 or boiler.least * step <= boiler.given <= boiler.most * step
        assert boiler.fuel >= boiler.given >= 0.0
        assert min(was, cold, ROOM) - 1e-9 <= boiler.temperature
        assert boiler.firing or boiler.temperature <= max(was, cold, ROOM) + 1e-9


def test_what_the_store_did_not_take_stays_in_its_water():
    boiler, loop = boiler_and_loop(temperature=70.0)
    run(boiler, loop, 1, 50.0, 60.0)
    after, loop.heat = boiler.temperature, 0.9 * boiler.planned
    settle_boiler(boiler, loop)
    assert boiler.temperature - after == pytest.approx(0.1 * boiler.planned / boiler.capacity, rel=1e-9)


# ---- in an installation ----------------------------------------------------------------------------------------


def test_the_boiler_waits_while_the_fire_charges():
    """Quillbeck: it is called and the store is cool, but it lights only once the pipe thermostat has let go."""
    evening = Conditions(start=40.0, firing=[(600.0, 3.0, 0.2)], boiler=[(1800.0, 12 * HOUR)], duration=12 * HOUR)
    run = simulate(QUILLBECK, evening)
    charging, firing = run.states["charge pump"], run.states["boiler"]
    last = np.flatnonzero(charging)[-1]
    assert last > 60
    assert np.any(firing[last:])
    assert not np.any(firing[charging == 1])
    assert run.ledger.closure <= 1e-12


def test_its_own_limit_locks_it_out_until_somebody_resets_it():
    """Below its least output it overshoots; a limit too near its flow temperature trips, and nobody comes."""
    near = LARKRIGG.model_copy(update={"boiler": LARKRIGG.boiler.model_copy(
        update={"limit": 82.0, "thermostat": LARKRIGG.boiler.thermostat.model_copy(
            update={"breaks": 90.0, "makes": 85.0})})})  # fmt: skip
    day = simulate(near, Conditions(start=65.0, boiler=[(0.0, 24 * HOUR)]))
    trips = [event for event in day.events if event.name.startswith("boiler's own limit")]
    assert [event.name for event in trips] == ["boiler's own limit trips"]
    assert trips[0].temperature >= 82.0
    after = round(trips[0].time / 60.0)
    assert day.states["boiler"][:after].any()
    assert not day.states["boiler"][after:].any()
    assert day.readings["boiler flow"][-1] < 72.0, "it has long been cool enough"


@EACH
def test_in_a_day_its_fuel_is_heat_and_flue_and_nothing_is_lost(site):
    day = simulate(site, Conditions(start=40.0, boiler=[(0.0, 6 * HOUR)], draws=[(HOUR, 0.06, 40.0, 0.1)]))
    fuel, flue, water = (day.ledger[name] for name in ("boiler fuel", "boiler flue", "boiler"))
    assert fuel == pytest.approx(flue + water, rel=1e-12)
    assert site.boiler.efficiency <= water / fuel <= LINES[site.boiler.fuel]["greatest"]
    assert day.ledger.closure <= 1e-12
