"""Immersion heaters on surplus PV: who takes how much, what is bought, thermostats and cut-outs.

Outside checks here: sums of power and time by hand; a lump between two settings (Incropera 5.25, solved for time).
"""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tlib import installation, tables
from tlib.compiled import records
from tlib.heat_sources import Element, Sharing, elements_of, share_surplus, sharing_of
from tlib.heat_transfer.layered_coil import SPECIFIC_HEAT
from tlib.installation import Immersion, Immersions, OffRise
from tlib.simulation import Conditions, Day, simulate
from tlib.simulation.moments import moments_of, outside_of
from tlib.thermal_store import FILL_DENSITY

HOUR, KWH = 3600.0, 3.6e6
SITES = tables.shipped("workbooks") / "sites"
QUILLBECK, TANSY = (installation.load(SITES / f"{name}.toml") for name in ("quillbeck", "tansy"))
LOW, HIGH = 0, 1


def share(surplus, elements=((3000.0, 0), (3000.0, 1)), high_first=0, calls=(1, 1), taking=(0, 0), **rule):
    """Share a surplus among elements; return what each is given [W]."""
    both = [Element(*element, calls[k], taking[k]) for k, element in enumerate(elements)]
    table, powers = records(Element, both), np.zeros(len(both))
    defaults = dict(matched=1, starts=0.0, margin=0.0, together=0)
    total = share_surplus(table, powers, records(Sharing, [Sharing(**defaults | rule)])[0], surplus, high_first)
    assert table.given.tolist() == powers.tolist()
    assert table.taking.tolist() == [int(power > 0.0) for power in powers]
    assert total == pytest.approx(powers.sum(), abs=1e-9)
    return powers.tolist()


# ---- who takes how much ----------------------------------------------------------------------------------------


def test_matched_takes_what_is_left_over_up_to_its_power():
    assert share(1800.0) == [1800.0, 0.0]
    assert share(3500.0) == [3000.0, 0.0]
    assert share(0.0) == share(-700.0) == [0.0, 0.0]


def test_a_margin_is_left_to_the_grid():
    assert share(1800.0, margin=200.0) == [1600.0, 0.0]
    assert share(150.0, margin=200.0) == [0.0, 0.0]
    assert share(3100.0, matched=0, margin=200.0) == [0.0, 0.0]
    assert share(3200.0, matched=0, margin=200.0) == [3000.0, 0.0]


def test_matched_may_wait_for_a_least_surplus():
    assert share(499.0, starts=500.0) == [0.0, 0.0]
    assert share(500.0, starts=500.0) == [500.0, 0.0]


def test_on_off_takes_all_or_nothing():
    """Without a starting surplus written, it waits for its whole power."""
    assert share(2999.0, matched=0) == [0.0, 0.0]
    assert share(3000.0, matched=0) == [3000.0, 0.0]
    assert share(2000.0, matched=0, starts=2000.0) == [3000.0, 0.0]
    assert share(1999.0, matched=0, starts=2000.0) == [0.0, 0.0]


def test_on_off_lets_go_a_fifth_below_where_it_starts():
    """Common practice, no source: so that a passing cloud does not switch it to and fro."""
    assert share(1601.0, matched=0, starts=2000.0, taking=(1, 0)) == [3000.0, 0.0]
    assert share(1599.0, matched=0, starts=2000.0, taking=(1, 0)) == [0.0, 0.0]


@pytest.mark.parametrize(("high_first", "first"), [(0, LOW), (1, HIGH)])
@pytest.mark.parametrize("matched", [0, 1])
def test_one_goes_first_and_alone_unless_both_may(high_first, first, matched):
    """5 kW left over, two of 3 kW: the second gets none, or what is left: 2 kW matched, 3 kW on/off from 1 kW up."""
    alone = share(5000.0, high_first=high_first, matched=matched, starts=1000.0)
    both = share(5000.0, high_first=high_first, matched=matched, starts=1000.0, together=1)
    assert (alone[first], alone[1 - first]) == (3000.0, 0.0)
    assert (both[first], both[1 - first]) == (3000.0, 2000.0 if matched else 3000.0)


def test_one_that_does_not_call_leaves_its_turn_to_the_other():
    assert share(1800.0, calls=(0, 1)) == [0.0, 1800.0]
    assert share(1800.0, calls=(1, 0), high_first=1) == [1800.0, 0.0]
    assert share(1800.0, calls=(0, 0)) == [0.0, 0.0]


watts = st.floats(0.0, 6000.0)


@given(
    st.floats(-5000.0, 12_000.0), st.lists(st.floats(100.0, 6000.0), min_size=1, max_size=2), st.integers(0, 1),
    st.tuples(*[st.integers(0, 1)] * 2), st.tuples(*[st.integers(0, 1)] * 2), st.integers(0, 1), watts,
    st.floats(0.0, 500.0), st.integers(0, 1),
)  # fmt: skip
def test_no_rule_ever_gives_less_than_nothing_or_more_than_there_is(
    surplus, sizes, high_first, calls, taking, matched, starts, margin, together
):
    elements = [(power, place) for place, power in enumerate(sizes)]
    powers = share(surplus, elements, high_first, calls, taking,
                   matched=matched, starts=starts, margin=margin, together=together)  # fmt: skip
    for power, size, call in zip(powers, sizes, calls, strict=False):
        assert 0.0 <= power <= size
        assert power == 0.0 or call
        assert matched or power in (0.0, size)
    if matched:
        assert sum(powers) <= max(surplus - margin, 0.0) * (1 + 1e-12), "matched never buys"
    if not together:
        assert np.count_nonzero(powers) <= 1


def test_elements_and_their_rule_are_read_as_written():
    elements, shares = elements_of(QUILLBECK.immersions, 50)
    assert [(e.power, e.is_high) for e in elements] == [(3000.0, 0), (3000.0, 1)]
    assert shares.sum(axis=1) == pytest.approx([1.0, 1.0], rel=1e-12)
    centres = shares @ ((np.arange(50) + 0.5) / 50)
    assert centres == pytest.approx([0.11, 0.69], abs=1e-9), "the middle of 0.08 to 0.14, and of 0.66 to 0.72"
    assert tuple(sharing_of(TANSY.immersions)[0]) == (0, 2000.0, 0.0, 0)
    assert tuple(sharing_of(QUILLBECK.immersions)[0]) == (1, 0.0, 0.0, 0)
    assert elements_of(None, 50)[0].size == 0
    assert tuple(sharing_of(None)[0]) == (0, 0.0, 0.0, 0)


# ---- in an installation: PV stands for a steady surplus ----------------------------------------------------------


def bench(surplus, low=None, high=None, hot_water=False, **rule):
    """Quillbeck with nothing but its store, immersion heaters as given and a steady surplus, day and night.

    The surplus is written as what the house takes, less than nothing: a sun that never sets.
    """
    return QUILLBECK.model_copy(update=dict(
        burner=None, heat_leak=None, boiler=None, heating=None, safety=None,
        hot_water=QUILLBECK.hot_water if hot_water else None,
        pv=QUILLBECK.pv.model_copy(update={"house": -surplus}),
        immersions=Immersions.model_construct(low=low, high=high, **dict(control="matched") | rule),
    ))  # fmt: skip


def element(bottom, top, breaks=80.0, makes=70.0, cut_out=95.0):
    thermostat = OffRise.model_construct(breaks=breaks, makes=makes)
    return Immersion.model_construct(bottom=bottom, top=top, power=3000.0, thermostat=thermostat, cut_out=cut_out)


FOUR_HOURS = Conditions(start=25.0, duration=4 * HOUR)


@pytest.mark.parametrize(
    ("rule", "stored", "bought", "left"),
    [
        (dict(control="on/off", starts=1500.0), 12.0, 4.8, 0.0),
        (dict(control="matched"), 7.2, 0.0, 0.0),
        (dict(control="on/off"), 0.0, 0.0, 7.2),
    ],
)
def test_four_hours_of_1800_watts_by_hand(rule, stored, bought, left):
    """3 kW on/off takes 12 kWh and buys 1.2 kW x 4 h; matched takes 7.2 kWh; on/off that waits for 3 kW takes none."""
    run = simulate(bench(1800.0, low=element(0.08, 0.14), **rule), FOUR_HOURS)
    books = [run.powers[name].sum() * 60.0 / KWH for name in ("immersions", "PV bought", "PV left over")]
    assert books == pytest.approx([stored, bought, left], rel=1e-9, abs=1e-12)
    assert run.ledger.closure <= 1e-12
    held = FILL_DENSITY * 0.5 * SPECIFIC_HEAT * (run.layers[-1].mean() - 25.0)
    assert held / KWH == pytest.approx(stored + run.ledger["standing loss"] / KWH, rel=1e-9)


SUNNY = Day(8.0, 18.0, 900.0)


@pytest.mark.parametrize("control", ["matched", "on/off"])
@pytest.mark.parametrize("together", [False, True])
def test_in_a_day_of_sun_every_watt_is_accounted_for(control, together):
    """Taken = own + bought, surplus = own + left over: minute by minute."""
    immersions = QUILLBECK.immersions.model_copy(
        update=dict(control=control, starts=1000.0, together=together, margin=50.0)
    )
    site = QUILLBECK.model_copy(update={"immersions": immersions})
    day = Conditions(start=40.0, begins=0.0, weather=SUNNY)
    run = simulate(site, day)
    surplus = np.maximum(moments_of(day, outside_of(site, day), 0, 1440, 60.0).surplus, 0.0)
    taken, bought, left = (run.powers[name] for name in ("immersions", "PV bought", "PV left over"))
    own = taken - bought
    assert own + left == pytest.approx(surplus, abs=1e-9)
    assert own.min() >= -1e-9
    assert taken.max() <= (6000.0 if together else 3000.0) * (1 + 1e-12)
    assert (bought.max() > 0.0) == (control == "on/off")
    assert taken.sum() > 0.0
    assert run.ledger.closure <= 1e-12


def test_the_upper_goes_first_while_a_draw_is_due_and_the_top_is_cool():
    """A draw of 500 s in three hours: due from two hours before it until it is over; cool is below 50 °C."""
    site = bench(2000.0, element(0.08, 0.14), element(0.66, 0.72), hot_water=True)
    run = simulate(site, Conditions(start=40.0, duration=4 * HOUR, draws=[(3 * HOUR, 0.05, 40.0, 0.1)]))
    low, high = run.states["low immersion heater"], run.states["high immersion heater"]
    due = (np.arange(240) >= 60) & (np.arange(240) < 188)
    cool = run.readings["store top"][:-1] < 50.0
    assert high.tolist() == (due & cool).tolist()
    assert low.tolist() == (~(due & cool)).tolist()
    assert np.any(due & cool)
    assert np.any(due & ~cool)


def test_a_cut_out_trips_at_its_setting_and_stays():
    """The thermostat is stuck; cold water then cools the store far below the setting, and nobody resets it."""
    site = bench(3000.0, low=element(0.08, 0.14, breaks=150.0, makes=149.0, cut_out=50.0), hot_water=True)
    run = simulate(site, Conditions(start=47.0, draws=[(6 * HOUR, 1.0, 35.0, 0.2)]))
    trips = [event for event in run.events if "cut-out" in event.name]
    assert [event.name for event in trips] == ["low immersion cut-out trips"]
    assert 50.0 <= trips[0].temperature < 50.5
    after = round(trips[0].time / 60.0)
    taking = run.states["low immersion heater"]
    assert taking[:after].all()
    assert not taking[after:].any()
    assert run.layers[-1].max() < 40.0


# ---- a thermostat's cycle --------------------------------------------------------------------------------------

LOSS, POWER, ROOM = 4.0, 3000.0, 18.0
CAPACITY = 0.5 * 985 * 4181
"""Of 500 l at 985 kg/m3 and 4181 J/(kg K) [J/K]; the store's volume is set so that it holds the same."""


def well_mixed(start=59.0):
    """One lump: an element from bottom to top, a wall that conducts far better than any."""
    wall = QUILLBECK.store.wall.model_copy(update={"thickness": 20.0})
    store = QUILLBECK.store.model_copy(update=dict(
        volume=CAPACITY / (FILL_DENSITY * SPECIFIC_HEAT), loss=LOSS, room=ROOM, wall=wall,
        connections={}, sensors={"top": 0.9},
    ))  # fmt: skip
    site = bench(4000.0, low=element(0.0, 1.0, breaks=60.0, makes=55.0)).model_copy(update={"store": store})
    return site, Conditions(start=start, duration=42 * HOUR, weather=ROOM)


@pytest.fixture(scope="module")
def cycle():
    site, conditions = well_mixed()
    events = simulate(site, conditions, step=2.0, layers=10, every=HOUR).events
    return [event for event in events if event.name.startswith("low immersion heater")]


def test_an_element_and_its_thermostat_go_round_by_the_closed_form(cycle):
    """On for tau ln((end - 55) / (end - 60)) = 3622.7 s, off for tau ln((60 - 18) / (55 - 18)) = 65 250 s.

    A step of 2 s passes the upper setting by up to 3 mK, which takes 40 s longer to lose.
    """
    tau, end = CAPACITY / LOSS, ROOM + POWER / LOSS
    on = tau * math.log((end - 55.0) / (end - 60.0))
    off = tau * math.log((60.0 - ROOM) / (55.0 - ROOM))
    assert (on, off) == (pytest.approx(3622.7, abs=0.05), pytest.approx(65_250, abs=0.5))
    names = [event.name.rsplit(" ", 1)[1] for event in cycle]
    starts = names.index("starts")
    first, stop, again = cycle[starts : starts + 3]
    assert names[starts : starts + 3] == ["starts", "stops", "starts"]
    assert stop.time - first.time == pytest.approx(on, abs=4.0)
    assert again.time - stop.time == pytest.approx(off, abs=45.0)


def test_the_time_off_is_exact_from_what_the_thermostat_felt(cycle):
    starts = next(k for k, event in enumerate(cycle) if event.name.endswith("starts"))
    stop, again = cycle[starts + 1], cycle[starts + 2]
    assert stop.temperature >= 60.0
    assert again.temperature <= 55.0
    by_hand = CAPACITY / LOSS * math.log((stop.temperature - ROOM) / (again.temperature - ROOM))
    assert again.time - stop.time == pytest.approx(by_hand, abs=4.0)


def test_inside_its_gap_at_power_up_the_element_rests(cycle):
    """It starts at 59 °C, between its settings: it waits until 55 °C, tau ln(41 / 37)."""
    assert cycle[0].name == "low immersion heater starts"
    assert cycle[0].time == pytest.approx(CAPACITY / LOSS * math.log(41 / 37), abs=20.0)
