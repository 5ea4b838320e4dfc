"""The solar loop on its own: the collector's test report, stagnation, cooling, books, its control, and gravity.

Outside checks here: EN ISO 9806's steady-state efficiency, through tlib.solar_radiation, which is held to it; the
positive root of its quadratic worked by hand; Incropera's lumped capacitance (5.6); Bernoulli for gravity's flow.
"""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tlib import installation, tables
from tlib.heat_sources import step_solar
from tlib.heat_sources.solar import gravity_rate
from tlib.heat_transfer.layered_coil import SPECIFIC_HEAT
from tlib.simulation import Conditions, Day, Start, simulate
from tlib.simulation.plant import plant_of
from tlib.solar_radiation import collector_gain, stagnation_excess
from tlib.water_properties import density, specific_heat

HOUR = 3600.0
SITES = {
    name: installation.load(tables.shipped("workbooks") / "sites" / f"{name}.toml") for name in ("larkrigg", "tansy")
}
LARKRIGG, TANSY = SITES.values()
EACH = pytest.mark.parametrize("site", SITES.values(), ids=SITES)
SUNNY = Day(12.0, 26.0, 1000.0)


class Bench:
    """A collector on a store of its own, stepped by hand; the store's layers are held, or left to warm."""

    def __init__(self, site=LARKRIGG, store=40.0, air=20.0, layers=50, held=False, **fields):
        plant = plant_of(site, Conditions(start=store), layers, air)
        self.solar, self.layers, self.coil, self.ends = (
            plant.solars[0],
            plant.layers,
            plant.solar_coil,
            plant.solar_ends,
        )
        self.capacity, self.air = 1e15 if held else plant.tank.capacity, air
        for name, value in fields.items():
            setattr(self.solar, name, value)

    def run(self, sun, seconds, step=60.0, pumping=1):
        for _ in range(round(seconds / step)):
            step_solar(self.solar, self.layers, self.coil, *self.ends, sun, self.air, pumping, step, self.capacity)
        return self.solar


# ---- the test report -------------------------------------------------------------------------------------------


@EACH
@pytest.mark.parametrize("sun", [300.0, 700.0, 1000.0])
@pytest.mark.parametrize(("store", "air"), [(20.0, 25.0), (45.0, 15.0), (70.0, 0.0)])
def test_settled_it_makes_what_its_test_report_says(site, sun, store, air):
    """EN ISO 9806 at the mean of its fluid, less air, for each square metre; all of it passes through the coil."""
    bench = Bench(site, store, air, held=True)
    solar = bench.run(sun, 6 * HOUR)
    per_area = collector_gain(sun, solar.temperature - air, site.solar.eta0, site.solar.a1, site.solar.a2)
    assert solar.to_store / 60.0 == pytest.approx(site.solar.area * per_area, rel=1e-9, abs=1e-6)


@EACH
def test_its_mean_is_the_middle_of_what_enters_and_leaves(site):
    """Heat = rate x (out - in), and the store held at one temperature cools the stream by the coil's effectiveness."""
    bench = Bench(site, 45.0, 15.0, held=True)
    solar = bench.run(800.0, 6 * HOUR)
    power = solar.to_store / 60.0
    back = solar.outlet - power / solar.rate
    assert 0.5 * (solar.outlet + back) == pytest.approx(solar.temperature, abs=1e-9)
    reach = -math.expm1(-site.solar.coil.conductance / solar.rate)
    assert power == pytest.approx(solar.rate * reach * (solar.outlet - 45.0), rel=1e-9)


def test_its_rate_is_that_of_its_litres_of_fluid():
    """120 l/h, each litre as heavy and as warm to heat as 40 % glycol at 50 °C."""
    litre, heat = density(50.0, glycol=0.4) / 1000.0, specific_heat(50.0, glycol=0.4)
    assert Bench().solar.rate == pytest.approx(120 / 3600 * litre * heat, rel=1e-12)


def test_without_flow_it_warms_to_its_stagnation():
    """Positive root of 0.012 x^2 + 3.5 x = 0.78 x 1000: 147.88 K above the air."""
    bench = Bench(air=20.0, eta0=0.78, a1=3.5, a2=0.012)
    by_hand = (-3.5 + math.sqrt(3.5**2 + 4 * 0.012 * 780)) / (2 * 0.012)
    assert by_hand == pytest.approx(147.88, abs=0.005)
    excess = bench.run(1000.0, 24 * HOUR, pumping=0).temperature - 20.0
    assert excess == pytest.approx(by_hand, abs=1e-9)
    assert excess == pytest.approx(stagnation_excess(1000.0, 0.78, 3.5, 0.012), abs=1e-9)


@pytest.mark.parametrize("step", [5.0, 60.0, 600.0])
@pytest.mark.parametrize("sun", [0.0, 600.0])
def test_at_rest_it_follows_the_exponential_of_a_lump(step, sun):
    """Incropera 5.6 and 5.25, a2 left out: 6.5 kJ/(m2 K) against 3.9 W/(m2 K), by any step."""
    bench = Bench(air=5.0, a2=0.0, temperature=60.0)
    solar = bench.run(sun, HOUR, step, pumping=0)
    settled = 5.0 + 0.78 * sun / 3.9
    assert solar.temperature == pytest.approx(settled + (60.0 - settled) * math.exp(-HOUR * 3.9 / 6500), rel=1e-12)
    assert solar.outlet == solar.temperature


def test_the_step_hardly_moves_what_an_hour_stores():
    def stored(step):
        bench = Bench(store=35.0, air=15.0)
        was = bench.layers.sum()
        bench.run(700.0, HOUR, step)
        return (bench.layers.sum() - was) * bench.capacity

    assert stored(60.0) == pytest.approx(stored(2.0), rel=5e-3)
    assert stored(15.0) == pytest.approx(stored(2.0), rel=2e-3)


moments = st.lists(
    st.tuples(st.floats(0.0, 1300.0), st.integers(0, 1), st.sampled_from([1.0, 15.0, 60.0])), min_size=1, max_size=10
)


@given(
    moments, st.floats(5.0, 95.0), st.floats(-20.0, 180.0), st.floats(-20.0, 40.0), st.integers(0, 1),
    st.floats(1.0, 12.0), st.floats(1.0, 500.0), st.sampled_from([10, 50]),
)  # fmt: skip
def test_a_collector_never_does_the_impossible(steps, store, start, air, non_return, area, rate, layers):
    """Books to the last digit: light = loss + what the store gains + what it holds, however hot or cold it begins."""
    site = LARKRIGG.model_copy(update={"solar": LARKRIGG.solar.model_copy(update={"area": area})})
    bench = Bench(site, store, air, layers, temperature=start, non_return=non_return, rate=rate)
    solar, capacity = bench.solar, bench.capacity
    for sun, pumping, step in steps:
        was, held = solar.temperature, bench.layers.copy()
        bench.run(sun, step, step, pumping)
        scale = solar.absorbed + abs(solar.lost) + abs(solar.to_store) + capacity * np.abs(held).sum()
        change = solar.capacity * (solar.temperature - was)
        assert change == pytest.approx(solar.absorbed - solar.lost - solar.to_store, abs=1e-12 * scale)
        assert (bench.layers - held).sum() * capacity == pytest.approx(solar.to_store, abs=1e-12 * scale)
        assert solar.absorbed == pytest.approx(area * solar.eta0 * sun * step, rel=1e-12)
        assert np.isfinite([solar.outlet, solar.temperature, *bench.layers]).all()
        assert (solar.flow >= 0.0) if pumping or non_return else (solar.flow <= 0.0)
        hottest = air + stagnation_excess(1300.0, solar.eta0, solar.a1, solar.a2)
        for one in (solar.temperature, *bench.layers):
            assert min(was, air, held.min()) - 1e-9 <= one <= max(was, hottest, held.max()) + 1e-9


# ---- gravity ---------------------------------------------------------------------------------------------------


def test_gravitys_flow_is_where_push_meets_drop():
    """Push g (density difference) rise against drop (sum of resistances) density speed^2 / 2, for one kelvin.

    A coefficient of one a fitting and a friction factor of 0.04: common practice, no source.
    """
    solar = LARKRIGG.solar
    bore = 13.6e-3  # EN 1057: 15 x 0.7 mm
    heavy, light = (float(density(t, glycol=solar.glycol)) for t in (49.5, 50.5))
    rate = gravity_rate(solar)
    speed = rate / (heavy * math.pi / 4 * bore**2)
    push = 9.80665 * (heavy - light) * solar.rise
    drop = (solar.pipes.fittings + 0.04 * solar.pipes.length / bore) * heavy * speed**2 / 2
    assert drop == pytest.approx(push, rel=0.01)


def test_gravity_carries_the_stores_heat_to_the_roof_unless_a_valve_stops_it():
    def night(non_return):
        site = LARKRIGG.model_copy(update={"solar": LARKRIGG.solar.model_copy(update={"non_return": non_return})})
        return simulate(site, Conditions(start=70.0, begins=22 * HOUR, duration=8 * HOUR, weather=0.0))

    kept, lost = night(True), night(False)
    assert not np.any(kept.powers["solar to store"])
    assert not np.any(kept.flows["solar"])
    assert lost.ledger["solar to store"] < -1.0 * 3.6e6
    assert np.all(lost.flows["solar"] <= 0.0)
    assert np.all(lost.readings["collector"][1:] > 0.0), "the collector is warmer than the night"
    assert lost.layers[-1].mean() < kept.layers[-1].mean() - 1.0
    assert lost.ledger.closure <= 1e-12


def test_gravity_takes_nothing_from_a_store_cooler_than_the_collector():
    bench = Bench(store=30.0, air=35.0, non_return=0, temperature=35.0)
    solar = bench.run(0.0, HOUR, pumping=0)
    assert solar.flow == 0.0
    assert np.all(bench.layers == 30.0)


# ---- control ---------------------------------------------------------------------------------------------------


def by_rule(differences, allowed, starts, stops):
    """Return the pump's state by its rule in words: starts at so much, stops at so little, never without leave."""
    state, states = 0, []
    for difference, leave in zip(differences, allowed, strict=True):
        if not leave or difference <= stops:
            state = 0
        elif difference >= starts:
            state = 1
        states.append(state)
    return states


def limited(felt, upper, gap):
    """Return whether a limit allows: it breaks at its setting, and makes again a gap below."""
    leave, leaves = 1, []
    for one in felt:
        leave = 0 if one >= upper else 1 if one <= upper - gap else leave
        leaves.append(leave)
    return np.array(leaves)


def sunny_day(store_limit=85.0, collector_limit=120.0, start=25.0, days=1):
    control = LARKRIGG.solar.control.model_copy(update={"store_limit": store_limit, "collector_limit": collector_limit})
    site = LARKRIGG.model_copy(update={"solar": LARKRIGG.solar.model_copy(update={"control": control})})
    return simulate(site, Conditions(start=start, begins=0.0, duration=days * 24 * HOUR, weather=SUNNY))


@pytest.mark.parametrize(("store_limit", "collector_limit"), [(85.0, 120.0), (50.0, 120.0), (85.0, 45.0)])
def test_the_pump_starts_at_seven_stops_at_three_and_obeys_both_limits(store_limit, collector_limit):
    """Collector's outlet less the store below; the store's limit lets go 5 K below, the collector's 10 K below."""
    day = sunny_day(store_limit, collector_limit)
    collector, lower = day.readings["collector"][:-1], day.readings["store lower"][:-1]
    allowed = limited(lower, store_limit, 5.0) * limited(collector, collector_limit, 10.0)
    expected = by_rule(collector - lower, allowed, 7.0, 3.0)
    assert day.states["solar pump"].tolist() == expected
    assert 0 < sum(expected) < 720
    assert day.powers["solar to store"].min() > -100.0, "a running pump hardly ever cools the store"
    assert day.ledger.closure <= 1e-12


def test_a_store_at_its_limit_leaves_the_collector_to_stagnate():
    """The store stays near its limit; the collector goes to within reach of its stagnation, and then cools."""
    day = sunny_day(store_limit=50.0, start=45.0)
    breaks = next(event for event in day.events if event.name == "solar store limit breaks")
    assert breaks.temperature == pytest.approx(50.0, abs=0.5)
    assert day.readings["store lower"].max() < 51.0
    assert day.readings["collector"].max() > 120.0
    assert day.readings["collector"][-1] < 30.0
    limit = [event for event in day.events if event.name.startswith("collector limit")]
    assert limit[0].name == "collector limit breaks"
    assert limit[0].temperature >= 120.0
    makes = next(event for event in limit if event.name == "collector limit makes")
    assert makes.temperature <= 110.0


def test_the_sensor_is_at_the_outlet():
    """While the fluid moves it feels what leaves, hotter than the mean by half the rise; at rest it feels the mean."""
    bench = Bench(store=40.0, air=15.0)
    solar = bench.run(800.0, HOUR)
    assert solar.outlet - solar.temperature == pytest.approx(0.5 * solar.to_store / 60.0 / solar.rate, rel=0.02)
    bench.run(800.0, 60.0, pumping=0)
    assert solar.outlet == solar.temperature


def test_its_flow_is_told_as_water_of_the_same_rate():
    solar = Bench().run(500.0, 60.0)
    assert solar.flow * SPECIFIC_HEAT == pytest.approx(solar.rate, rel=1e-12)


@EACH
def test_a_day_of_sun_balances(site):
    day = simulate(site, Conditions(start=Start(30.0), begins=0.0, weather=SUNNY))
    light, loss, gain = (day.ledger[name] for name in ("sun on collector", "collector loss", "solar to store"))
    assert light > gain > 0.3 * light
    held = site.solar.capacity * site.solar.area * (day.readings["collector"][-1] - day.readings["collector"][0])
    assert light + loss - gain == pytest.approx(held, rel=1e-6, abs=1e-3)
    assert day.ledger.closure <= 1e-12
