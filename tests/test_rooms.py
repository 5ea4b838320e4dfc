"""What warms the rooms, each on its own: radiators, a heated floor, and the house that cools.

Outside checks here: EN 442's characteristic, written out by hand; EN 1264's, through tlib.heat_transfer, which is held
to it; the mixing balance; Incropera's lumped capacitance (equations 5.6 and 5.25).
"""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tlib import installation, tables
from tlib.compiled import records
from tlib.heat_loads import floor_of, house_of, radiator_loop, radiators_of, settle_floor, step_floor, step_house
from tlib.heat_transfer import floor_output_from_water
from tlib.heat_transfer.layered_coil import SPECIFIC_HEAT
from tlib.simulation import Conditions, Start, simulate
from tlib.thermal_store import Loop

HOUR = 3600.0
SITES = {name: installation.load(tables.shipped("workbooks") / "sites" / f"{name}.toml")
         for name in ("larkrigg", "quillbeck", "tansy")}  # fmt: skip
LARKRIGG, QUILLBECK, TANSY = SITES.values()
EACH = pytest.mark.parametrize("site", SITES.values(), ids=SITES)


# ---- radiators -------------------------------------------------------------------------------------------------


def by_characteristic(radiators, supply, back, room):
    """EN 442: output = rating at 50 K x (logarithmic mean excess / 50) ^ 1.3 [W]."""
    hot, cool = supply - room, back - room
    mean = (hot - cool) / math.log(hot / cool) if hot > cool * (1 + 1e-9) else hot
    return radiators.rated * (mean / 50) ** 1.3


@EACH
def test_radiators_give_their_rating_at_their_rating(site):
    """All that they can at the flow temperature they are rated at: their return, and their output, are the rated."""
    rated = site.heating.radiators
    radiators = radiators_of(rated)
    flow, back = radiator_loop(rated.flow, 1e9, rated.room, radiators)
    assert back == pytest.approx(rated.back, abs=1e-9)
    assert flow * SPECIFIC_HEAT * (rated.flow - rated.back) == pytest.approx(rated.output, rel=1e-12)
    assert by_characteristic(radiators, rated.flow, back, rated.room) == pytest.approx(rated.output, rel=1e-9)


@pytest.mark.parametrize("supply", [35.0, 50.0, 70.0, 85.0])
@pytest.mark.parametrize("demand", [500.0, 3000.0, 8000.0])
@pytest.mark.parametrize("room", [8.0, 20.0])
def test_radiators_obey_their_characteristic_and_the_heat_balance(supply, demand, room):
    """The water gives exactly what the characteristic says: the demand, or all that full flow can."""
    radiators = radiators_of(LARKRIGG.heating.radiators)
    flow, back = radiator_loop(supply, demand, room, radiators)
    emitted = by_characteristic(radiators, supply, back, room)
    assert flow * SPECIFIC_HEAT * (supply - back) == pytest.approx(emitted, rel=1e-6)
    assert emitted <= demand * (1 + 1e-6)
    assert emitted == pytest.approx(demand, rel=1e-6) or flow == radiators.most_flow


def test_a_hotter_store_gives_the_same_heat_with_less_water():
    radiators = radiators_of(LARKRIGG.heating.radiators)
    flows, backs = zip(*(radiator_loop(supply, 3000.0, 20.0, radiators) for supply in (45.0, 60.0, 80.0)), strict=True)
    assert flows[0] > flows[1] > flows[2]
    assert backs[0] > backs[1] > backs[2]


def test_cool_water_or_no_demand_heats_no_room():
    radiators = radiators_of(LARKRIGG.heating.radiators)
    assert radiator_loop(19.0, 5000.0, 20.0, radiators) == (0.0, 19.0)
    assert radiator_loop(20.0, 5000.0, 20.0, radiators) == (0.0, 20.0)
    assert radiator_loop(60.0, 0.0, 20.0, radiators) == (0.0, 60.0)


@given(st.floats(5.0, 110.0), st.one_of(st.floats(1e-3, 3e4), st.just(1e9)), st.floats(-5.0, 35.0))
def test_radiators_never_do_the_impossible(supply, demand, room):
    radiators = radiators_of(QUILLBECK.heating.radiators)
    flow, back = radiator_loop(supply, demand, room, radiators)
    assert 0.0 <= flow <= radiators.most_flow
    assert min(room, supply) <= back <= supply
    assert 0.0 <= flow * SPECIFIC_HEAT * (supply - back) <= demand * (1 + 1e-6)


def test_rooms_with_a_set_power_get_just_that():
    run = simulate(LARKRIGG, Conditions(start=70.0, programme=[(0.0, HOUR, 2000.0)], duration=HOUR))
    assert -run.powers["heating"] == pytest.approx(2000.0, rel=1e-6)


# ---- floor -----------------------------------------------------------------------------------------------------


def floor_and_loop(room=20.0, **fields):
    """Return Tansy's floor, fields of it set as given, and its loop with the store."""
    floor = floor_of(TANSY.heating.underfloor, room)[0]
    for name, value in fields.items():
        setattr(floor, name, value)
    return floor, records(Loop, [Loop(0, 0)])[0]


def mixture(floor, loop, supply):
    """Return what enters the pipes: store water and the floor's own return by the mixing balance [°C]."""
    store = loop.flow * SPECIFIC_HEAT
    return (store * supply + (floor.rate - store) * loop.inlet) / floor.rate


@pytest.mark.parametrize("supply", [41.0, 55.0, 85.0])
@pytest.mark.parametrize("slab", [15.0, 25.0, 38.0])
def test_the_mixing_valve_never_passes_more_than_its_setting(supply, slab):
    floor, loop = floor_and_loop(temperature=slab)
    step_floor(floor, loop, supply, 1, 20.0, 60.0)
    assert mixture(floor, loop, supply) == pytest.approx(40.0, abs=1e-9)


def test_a_cooler_store_is_passed_on_as_it_is():
    floor, loop = floor_and_loop(temperature=22.0)
    step_floor(floor, loop, 35.0, 1, 20.0, 60.0)
    assert loop.flow * SPECIFIC_HEAT == pytest.approx(floor.rate, rel=1e-12)
    assert mixture(floor, loop, 35.0) == pytest.approx(35.0, abs=1e-12)


@pytest.mark.parametrize("supply", [30.0, 36.0, 70.0])
@pytest.mark.parametrize("room", [12.0, 20.0])
@pytest.mark.parametrize("covering", [0.0, 0.05, 0.15])
def test_settled_it_gives_what_the_standard_says_of_its_water(supply, room, covering):
    """EN 1264's curve behind pipes and covering in series, at the logarithmic mean of the water over the slab."""
    floor, loop = floor_and_loop(temperature=25.0, covering=covering)
    for _ in range(36 * 60):
        step_floor(floor, loop, supply, 1, room, 60.0)
    entry = min(supply, 40.0)
    hot, cool = entry - floor.temperature, loop.inlet - floor.temperature
    water = floor.temperature + (hot - cool) / math.log(hot / cool)
    expected = floor_output_from_water(water, room, TANSY.heating.underfloor.pipes + covering)
    assert floor.to_room / 60.0 / floor.area == pytest.approx(expected, rel=1e-6)
    assert floor.planned == pytest.approx(floor.to_room, rel=1e-6)


def test_a_bare_floor_cools_by_the_closed_form():
    """x^-0.1 grows evenly in time where x' = -8.92 x^1.1 / capacity: Euler's error shrinks with the step."""
    start, slab, end = 10.0, TANSY.heating.underfloor.slab, 3 * HOUR
    by_hand = (start**-0.1 + 0.1 * 8.92 * end / slab) ** -10.0

    def left(step):
        floor, loop = floor_and_loop(temperature=30.0, covering=0.0)
        for _ in range(round(end / step)):
            step_floor(floor, loop, 60.0, 0, 20.0, step)
        return floor.temperature - 20.0

    coarse, fine = abs(left(60.0) - by_hand), abs(left(6.0) - by_hand)
    assert coarse < 0.02
    assert coarse / fine == pytest.approx(10.0, rel=0.05)


def test_a_floor_gives_nothing_to_a_warmer_room():
    floor, loop = floor_and_loop(temperature=18.0)
    step_floor(floor, loop, 60.0, 0, 22.0, 60.0)
    assert (floor.to_room, floor.temperature, loop.flow) == (0.0, 18.0, 0.0)


@pytest.mark.parametrize(
    ("fields", "supply", "is_on"),
    [
        (dict(temperature=30.0), 28.0, 1),
        (dict(temperature=25.0), 60.0, 0),
        (dict(temperature=25.0, limit=38.0), 60.0, 1),
    ],
    ids=["store cooler than the floor", "pump off", "mixed water at the floor limit"],
)
def test_nothing_flows(fields, supply, is_on):
    floor, loop = floor_and_loop(**fields)
    step_floor(floor, loop, supply, is_on, 20.0, 60.0)
    assert (loop.flow, floor.planned) == (0.0, 0.0)
    assert floor.to_room > 0.0


steps = st.lists(st.tuples(st.floats(5.0, 95.0), st.integers(0, 1), st.floats(-5.0, 35.0)), min_size=1, max_size=10)


@given(
    steps, st.floats(5.0, 50.0), st.floats(5e3, 200e3), st.floats(0.0, 0.3), st.floats(0.02, 0.3), st.floats(1.0, 2e3),
    st.sampled_from([1.0, 60.0]),
)  # fmt: skip
def test_a_floor_never_does_the_impossible(steps, start, slab, covering, pipes, rate, step):
    """Books to the last digit: drawn = to the room + held; flow within the pump's; never hotter than its water."""
    floor, loop = floor_and_loop(temperature=start, covering=covering, rate=rate)
    floor.capacity, floor.exchange = slab * floor.area, floor.area / pipes
    for supply, is_on, room in steps:
        was = floor.temperature
        step_floor(floor, loop, supply, is_on, room, step)
        scale = floor.planned + floor.to_room + floor.capacity * was
        change = floor.capacity * (floor.temperature - was)
        assert change == pytest.approx(floor.planned - floor.to_room, abs=1e-12 * scale)
        drawn = loop.flow * SPECIFIC_HEAT * (supply - loop.inlet) * step if loop.flow else 0.0
        assert drawn == pytest.approx(floor.planned, abs=1e-12 * scale)
        assert 0.0 <= loop.flow * SPECIFIC_HEAT <= rate * (1 + 1e-9)
        assert floor.to_room >= 0.0
        assert min(was, room) - 1e-9 <= floor.temperature <= max(was, min(supply, floor.mixed)) + 1e-9


def test_what_the_store_did_not_give_is_missing_in_the_slab():
    floor, loop = floor_and_loop(temperature=25.0)
    step_floor(floor, loop, 60.0, 1, 20.0, 60.0)
    before, loop.heat = floor.temperature, -0.9 * floor.planned
    settle_floor(floor, loop)
    assert before - floor.temperature == pytest.approx(0.1 * floor.planned / floor.capacity, rel=1e-9)


def test_a_day_on_the_floor_balances_and_warms_the_house():
    """From a hot store, on a mild day: the room rises to its thermostat and no further than the slab carries it."""
    day = Conditions(start=Start(80.0, room=18.5), weather=12.0, boiler=[(0.0, 24 * HOUR)],
                     programme=[(0.0, 24 * HOUR, None, 20.0)])  # fmt: skip
    run = simulate(TANSY, day)
    assert run.ledger.closure <= 1e-12
    assert run.flows["floor"].max() <= TANSY.heating.underfloor.pump * (1 + 1e-9)
    assert not np.any(run.flows["floor"][run.states["heating pump"] == 0])
    assert run.powers["floor"].min() < -1000.0
    assert 18.5 < run.readings["room"].max() < 21.0


def test_a_heating_circuit_without_a_floor_has_none():
    assert floor_of(None, 20.0).size == 0


# ---- house -----------------------------------------------------------------------------------------------------


def house(room=20.0, site=LARKRIGG, is_kept=False, **fields):
    one = house_of(site.heating, room, is_kept)[0]
    for name, value in fields.items():
        setattr(one, name, value)
    return one


@pytest.mark.parametrize("step", [10.0, 60.0, 600.0, 8 * HOUR])
def test_a_house_without_heat_cools_as_a_lump(step):
    """Incropera 5.6: 200 W/K, 20 MJ/K, 0 °C outside: 20 exp(-0.288) = 14.995 °C after eight hours, by any step."""
    one = house(loss=200.0, capacity=20e6, gains=0.0)
    for _ in range(round(8 * HOUR / step)):
        step_house(one, 0.0, 0.0, step)
    assert one.temperature == pytest.approx(20.0 * math.exp(-0.288), rel=1e-12)
    assert one.temperature == pytest.approx(14.995, abs=0.0005)


@pytest.mark.parametrize("step", [60.0, 600.0])
def test_a_house_with_heat_warms_as_a_lump(step):
    """Incropera 5.25: it tends to outside + (heat + gains) / loss."""
    one = house(room=12.0, gains=300.0)
    for _ in range(round(6 * HOUR / step)):
        step_house(one, 5000.0 * step, -3.0, step)
    settled = -3.0 + 5300.0 / 375.0
    gone = math.exp(-6 * HOUR * 375.0 / 22e6)
    assert one.temperature == pytest.approx(settled + (12.0 - settled) * gone, rel=1e-12)


@given(
    st.lists(st.tuples(st.floats(-5e3, 3e4), st.floats(-20.0, 35.0)), min_size=1, max_size=12), st.floats(-10.0, 35.0),
    st.floats(20.0, 5000.0), st.floats(1e5, 1e8), st.floats(0.0, 5e3), st.sampled_from([1.0, 60.0, 600.0]),
)  # fmt: skip
def test_a_houses_books_balance(steps, start, loss, capacity, gains, step):
    """What comes in = what goes outside + what it holds; with no heat it stays between itself and the weather."""
    one = house(start, loss=loss, capacity=capacity, gains=gains)
    for power, outside in steps:
        was = one.temperature
        step_house(one, power * step, outside, step)
        held, scale = capacity * (one.temperature - was), abs(power) * step + capacity * abs(was) + gains * step
        assert held == pytest.approx((power + gains) * step - one.lost, abs=1e-12 * max(scale, abs(one.lost)) + 1e-9)
        settled = outside + (power + gains) / loss
        assert min(was, settled) - 1e-9 <= one.temperature <= max(was, settled) + 1e-9


def test_rooms_that_are_kept_pass_on_whatever_comes():
    one = house(is_kept=True)
    step_house(one, 1234.5, -10.0, 60.0)
    assert (one.temperature, one.lost) == (20.0, 1234.5)
    assert (one.holds_burner, one.holds_store, one.holds_boiler) == (0, 0, 0)


def test_a_house_warms_by_what_it_holds():
    """Larkrigg's burner stands in its rooms; at Tansy Wharf store and boiler do."""
    assert [(one.holds_burner, one.holds_store, one.holds_boiler) for one in (house(), house(site=TANSY))] == [
        (1, 0, 0), (0, 1, 1),
    ]  # fmt: skip


@pytest.mark.parametrize("step", [15.0, 60.0])
def test_in_an_installation_an_unheated_house_cools_by_the_same_exponential(step):
    """Nothing stands in it, and its thermostat at 5 °C never calls: 375 W/K and 22 MJ/K from 20 towards 0 °C."""
    heating = LARKRIGG.heating.model_copy(update={"house": LARKRIGG.heating.house.model_copy(update={"holds": ()})})
    site = LARKRIGG.model_copy(update={"heating": heating})
    run = simulate(site, Conditions(start=40.0, weather=0.0, programme=[(0.0, 24 * HOUR, None, 5.0)]), step=step)
    by_hand = 20.0 * np.exp(-run.time * 375.0 / 22e6)
    assert run.readings["room"] == pytest.approx(by_hand, rel=1e-10)
