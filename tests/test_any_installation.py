"""Whatever is built and however it is set: the books balance, the water stays in order, nothing runs without leave."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tlib import installation, tables
from tlib.installation import OffRise, OnRise
from tlib.simulation import Conditions, Day, Start, installed, simulate
from tlib.solar_radiation import invented_year

HOUR, DAY = 3600.0, 86_400.0
SITES = [installation.load(tables.shipped("workbooks") / "sites" / f"{name}.toml")
         for name in ("larkrigg", "quillbeck", "tansy")]  # fmt: skip
YEAR = invented_year()
PORTS = ("burner_flow", "burner_return", "boiler_flow", "boiler_return", "heating_flow", "heating_return")


def off_rise(draw, low, high):
    breaks = draw(st.floats(low, high))
    return OffRise.model_construct(breaks=breaks, makes=breaks - draw(st.floats(1.0, 15.0)))


def on_rise(draw, low, high):
    makes = draw(st.floats(low, high))
    return OnRise.model_construct(makes=makes, breaks=makes - draw(st.floats(1.0, 15.0)))


@st.composite
def installations(draw):
    """One of our places, with its volume, heights, settings, areas and flows set anew."""
    site = draw(st.sampled_from(SITES))
    store = site.store.model_copy(update=dict(
        volume=draw(st.floats(0.12, 1.0)), height=draw(st.floats(0.8, 2.2)), room=draw(st.floats(0.0, 30.0)),
        loss=draw(st.floats(0.0, 5.0)), connections={port: draw(st.floats(0.0, 1.0)) for port in PORTS},
        sensors={name: draw(st.floats(0.0, 1.0)) for name in site.store.sensors},
        stratifiers=draw(st.sampled_from([(), ("heating_return",), ("burner_flow", "boiler_flow")])),
    ))  # fmt: skip
    changed = {"store": store}
    if site.burner:
        pump = site.burner.pump.model_copy(update=dict(flow=draw(st.floats(0.02, 0.4))))
        valve = site.burner.loading_valve.model_copy(update=dict(opens=draw(st.floats(40.0, 70.0)),
                                                                 lag=draw(st.floats(5.0, 120.0))))  # fmt: skip
        changed["burner"] = site.burner.model_copy(update=dict(pump=pump, loading_valve=valve))
    if site.boiler:
        changed["boiler"] = site.boiler.model_copy(update=dict(
            thermostat=off_rise(draw, 50.0, 78.0), output=draw(st.floats(10e3, 30e3)), pump=draw(st.floats(0.05, 0.5)),
        ))  # fmt: skip
    if site.solar:
        changed["solar"] = site.solar.model_copy(update=dict(
            area=draw(st.floats(1.0, 12.0)), flow=draw(st.floats(0.005, 0.1)), non_return=draw(st.booleans()),
        ))  # fmt: skip
    if site.immersions:
        changed["immersions"] = site.immersions.model_copy(update=dict(
            control=draw(st.sampled_from(["on/off", "matched"])), together=draw(st.booleans()),
        ))  # fmt: skip
    house = site.heating.house.model_copy(update=dict(loss=draw(st.floats(50.0, 800.0))))
    changed["heating"] = site.heating.model_copy(update=dict(house=house, enough_heat=on_rise(draw, 30.0, 60.0)))
    safety = site.safety.model_copy(update=dict(high_limit=on_rise(draw, 70.0, 95.0)))
    changed["safety"] = draw(st.sampled_from([None, safety]))
    return site.model_copy(update=changed)


@st.composite
def days(draw, site):
    """A day of weather, fires, draws, heating and boiler hours."""
    hours = st.floats(0.0, 23.0)
    room, power = (20.0, None) if draw(st.booleans()) else (None, 5000.0)
    programme = [(h * HOUR, (h + 3) * HOUR, power, room) for h in draw(st.lists(hours, max_size=3))]
    return Conditions(
        start=Start(draw(st.floats(10.0, 85.0)), draw(st.floats(5.0, 85.0)), draw(st.floats(5.0, 30.0))),
        begins=draw(st.floats(0.0, 86_000.0)), day=draw(st.integers(0, 364)),
        weather=draw(st.sampled_from([4.0, Day(-8.0, 3.0, 300.0), Day(12.0, 30.0, 1000.0), YEAR])),
        draws=[(h * HOUR, 0.06, 45.0, 0.15) for h in draw(st.lists(hours, max_size=4))],
        firing=[(h * HOUR, draw(st.floats(0.5, 12.0)), 0.25) for h in draw(st.lists(hours, max_size=3))]
        if site.burner else (),
        air=[(6 * HOUR, draw(st.floats(0.3, 1.2)))] if site.burner else (),
        programme=programme, boiler=[(h * HOUR, (h + 4) * HOUR) for h in draw(st.lists(hours, max_size=2))],
    )  # fmt: skip


@settings(max_examples=120, deadline=None)
@given(st.data(), st.sampled_from([10, 50, 100]), st.sampled_from([15.0, 60.0]))
def test_the_books_balance_whatever_is_built(data, layers, step):
    site = data.draw(installations())
    day = simulate(site, data.draw(days(site)), step, layers)
    assert day.ledger.closure <= 1e-12
    assert np.all(np.diff(day.layers, axis=1) >= -1e-9), "a merged store is in order"
    for name, flow in day.flows.items():
        assert np.all(np.isfinite(flow)), name
        assert name == "solar" or flow.min() >= 0.0, name
    for name in ("boiler to store", "immersions", "fire to water", "PV bought", "PV left over"):
        assert np.all(np.isfinite(day.powers[name])), name
    assert day.powers["immersions"].min() >= 0.0


@settings(max_examples=60, deadline=None)
@given(st.data())
def test_nothing_runs_without_leave(data):
    site = data.draw(installations())
    day = simulate(site, data.draw(days(site)))
    dumping, heating = day.states["high limit"], day.states["heating pump"]
    assert np.all(heating[dumping == 1] == 1), "a dump runs the heating at any hour"
    assert np.all(day.flows["heating"][heating == 0] == 0.0)
    assert np.all(day.flows["boiler to store"][day.states["boiler pump"] == 0] == 0.0)
    assert np.all(day.flows["burner to store"][day.states["charge pump"] == 0] == 0.0)
    assert np.all(day.powers["boiler to store"][day.states["boiler pump"] == 0] == 0.0)
    if site.burner:
        assert day.flows["burner to store"].max() <= site.burner.pump.flow * (1.0 + 1e-9)


@pytest.mark.parametrize("site", SITES, ids=lambda site: site.name)
def test_compiled_and_uncompiled_agree(monkeypatch, site):
    hours = Conditions(
        start=Start(70.0, 60.0, 17.0), begins=11 * HOUR, duration=2 * HOUR, weather=Day(2.0, 9.0, 800.0),
        draws=[(600.0, 0.06, 45.0, 0.15)], firing=[(300.0, 4.0, 0.25)] if site.burner else (),
        programme=[(0.0, 2 * HOUR, None, 20.0)], boiler=[(0.0, 2 * HOUR)],
    )  # fmt: skip
    fast = simulate(site, hours, layers=20)
    monkeypatch.setattr(installed, "_ENGINE", installed._ENGINE.plain)
    slow = simulate(site, hours, layers=20)
    assert slow.layers == pytest.approx(fast.layers, abs=1e-9)
    assert slow.ledger.heats == pytest.approx(fast.ledger.heats, rel=1e-9, abs=1e-3)
    assert str(slow.events) == str(fast.events)
