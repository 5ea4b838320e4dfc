"""What the taps ask and get: draws that overlap, days by the regulation's profiles, coil and blending valve.

Outside checks here: the mixing balance; Incropera's exchanger with one side at one temperature (11.35a).
"""

import math
import time
from itertools import pairwise
from typing import NamedTuple

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tlib import installation, tables
from tlib.compiled import records
from tlib.heat_loads import Tap, coil_flow, hot_water_of, serve_taps
from tlib.heat_loads.draw_offs import draw_off_profile, every_day
from tlib.heat_loads.taps import taps_of
from tlib.heat_transfer.layered_coil import SPECIFIC_HEAT
from tlib.simulation.logbook import Row
from tlib.simulation.overrides import Override
from tlib.validation import OutOfRange

NAMES = ("S", "M", "L", "XL")
LARKRIGG = installation.load(tables.shipped("workbooks") / "sites" / "larkrigg.toml")


class Period(NamedTuple):
    begins: float
    ends: float
    power: float


def heat(rows, cold=10.0):
    """1.163 Wh for each litre and kelvin [kWh]."""
    return sum(1.163 * volume * (temperature - cold) for _, volume, temperature, _ in rows)


# ---- draws that overlap ---------------------------------------------------------------------------------------

draw = st.tuples(
    st.one_of(st.integers(0, 40).map(lambda minute: 60.0 * minute), st.floats(0.0, 2400.0)),
    st.one_of(st.just(0.0), st.floats(1e-4, 0.2), st.sampled_from([0.006, 0.012, 0.03])),
    st.floats(10.5, 50.0),
    st.sampled_from([0.05, 0.1, 0.15, 0.2]),
)


def looked_up(draws):
    """Ask every draw about every piece of time: slow, and plain to see."""
    spans = [(at, at + 1000.0 * volume / flow, flow, wanted) for at, volume, wanted, flow in draws if volume > 0]
    marks = sorted({mark for begin, end, _, _ in spans for mark in (begin, end)})
    pieces = []
    for begin, end in pairwise(marks):
        on = [(flow, wanted) for starts, stops, flow, wanted in spans if starts <= begin and stops >= end]
        flow = sum(flow for flow, _ in on)
        if flow > 0:
            pieces.append((begin, end, flow, sum(flow * wanted for flow, wanted in on) / flow))
    return pieces


@settings(deadline=None)
@given(st.lists(draw, max_size=30))
def test_the_pieces_are_those_that_a_plain_look_at_every_draw_finds(draws):
    taps, plain = taps_of(draws, 10.0, 50.0), looked_up(draws)
    assert [piece[:2] for piece in zip(*taps, strict=True)] == [piece[:2] for piece in plain]
    assert taps.flow == pytest.approx([piece[2] for piece in plain], rel=1e-14)
    assert taps.wanted == pytest.approx([piece[3] for piece in plain], rel=1e-14)


@settings(deadline=None)
@given(st.lists(draw, max_size=30))
def test_no_water_and_no_heat_is_lost_between_draws_and_pieces(draws):
    taps = taps_of(draws, 10.0, 50.0)
    litres = taps.flow * (taps.ends - taps.begins)
    assert litres.sum() == pytest.approx(sum(1000.0 * volume for _, volume, _, _ in draws), abs=1e-9)
    assert (litres * taps.wanted).sum() == pytest.approx(sum(1000.0 * v * t for _, v, t, _ in draws), abs=1e-7)


def test_overlapping_draws_add_up():
    """0.1 kg/s at 40 and as much at 30 °C, five minutes apart: 0.2 kg/s at 35 °C while both run."""
    taps = taps_of([(0.0, 0.06, 40.0, 0.1), (300.0, 0.06, 30.0, 0.1)], 10.0, 50.0)
    assert taps.begins.tolist() == [0.0, 300.0, 600.0]
    assert taps.flow.tolist() == pytest.approx([0.1, 0.2, 0.1])
    assert taps.wanted.tolist() == pytest.approx([40.0, 35.0, 30.0])


def test_without_draws_there_are_no_pieces():
    for draws in ((), [(60.0, 0.0, 40.0, 0.1)]):
        assert [field.size for field in taps_of(draws, 10.0, 50.0)] == [0, 0, 0, 0]


def test_fields_after_the_flow_are_not_read():
    longer, plain = taps_of([(0.0, 0.06, 40.0, 0.1, "bath")], 10.0, 50.0), taps_of([(0.0, 0.06, 40.0, 0.1)], 10.0, 50.0)
    assert [field.tolist() for field in longer] == [field.tolist() for field in plain]


def test_flows_leave_no_dust_when_draws_end():
    """0.1 + 0.2 + 0.3 less 0.3 and 0.2 is not 0.1 in a running sum of floats."""
    taps = taps_of([(0.0, 0.1, 40.0, 0.1), (0.0, 0.1, 40.0, 0.2), (0.0, 0.1, 40.0, 0.3)], 10.0, 50.0)
    assert taps.flow[-1] == 0.1


def test_a_year_of_draws_is_sorted_out_at_once():
    """A few milliseconds; a look at every draw for every piece takes minutes."""
    rows = every_day(draw_off_profile("M", warmest=50.0), 365)
    begin = time.perf_counter()
    taps = taps_of(rows, 10.0, 50.0)
    assert time.perf_counter() - begin < 1.0
    assert (taps.flow * (taps.ends - taps.begins)).sum() == pytest.approx(1000.0 * sum(row[1] for row in rows))


@pytest.mark.parametrize(
    ("bad", "says"),
    [
        ((np.nan, 0.05, 40.0, 0.1), "the time of a draw must be a finite number"),
        ((0.0, -0.1, 40.0, 0.1), "the volume of a draw must be 0 m3 or more; got -0.1"),
        ((0.0, 6.0, 40.0, 0.1), "the volume of a draw must be 5 m3 or less; got 6"),
        ((0.0, 0.05, 40.0, 0.0), "the flow of a draw must be above 0 kg/s; got 0"),
        ((0.0, 0.05, 40.0, 3.0), "the flow of a draw must be 2 kg/s or less; got 3"),
        ((0.0, 0.05, 10.0, 0.1), "the temperature of a draw must be above 10 °C; got 10"),
        ((0.0, 0.05, 51.0, 0.1), "the temperature of a draw must be 50 °C or less; got 51"),
        ((0.0, 0.05, "warm", 0.1), "the temperature of a draw must be a number"),
    ],
)
def test_impossible_draws_are_refused_in_words(bad, says):
    with pytest.raises(OutOfRange, match=says):
        taps_of([(0.0, 0.05, 40.0, 0.1), bad], 10.0, 50.0)


# ---- a day by the regulation's profiles -----------------------------------------------------------------------


@pytest.mark.parametrize("name", NAMES)
def test_colder_mains_change_the_heat_and_nothing_else(name):
    usual, winter = draw_off_profile(name), draw_off_profile(name, cold=5.0)
    assert winter == usual
    assert heat(winter, 5.0) == pytest.approx(heat(usual) + 1.163 * 5.0 * sum(row[1] for row in usual))


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("warmest", [30.0, 45.0, 50.0])
def test_a_valve_set_lower_draws_the_same_heat_as_more_water(name, warmest):
    plain, blended = draw_off_profile(name), draw_off_profile(name, warmest=warmest)
    for (at, volume, temperature, flow), (then, more, cooler, same) in zip(plain, blended, strict=True):
        assert (then, same, cooler) == (at, flow, min(temperature, warmest))
        assert more * (cooler - 10.0) == pytest.approx(volume * (temperature - 10.0), rel=1e-12)
        assert more > volume or cooler == temperature


def test_a_valve_that_no_draw_reaches_changes_nothing():
    assert draw_off_profile("L", warmest=55.0) == draw_off_profile("L")


def test_the_third_day_is_the_first_two_days_later():
    assert draw_off_profile("S", day=2) == every_day(draw_off_profile("S"), 3)[22:]


@pytest.mark.parametrize("name", ["XXL", "m", "", None])
def test_an_unknown_profile_is_refused_with_those_that_are_known(name):
    with pytest.raises(OutOfRange, match=rf"^draw-off profile must be one of S, M, L, XL; got {name!r}\.$"):
        draw_off_profile(name)


@pytest.mark.parametrize(
    ("case", "says"),
    [
        (dict(cold=25.0), "the temperature of the mains must be below 25 °C; got 25"),
        (dict(cold=-1.0), "the temperature of the mains must be 0 °C or more; got -1"),
        (dict(cold=[5.0, 10.0]), r"the temperature of the mains must be a single number; got shape \(2,\)"),
        (dict(warmest=29.0), "the setting of the blending valve must be 30 °C or more; got 29"),
        (dict(warmest=61.0), "the setting of the blending valve must be 60 °C or less; got 61"),
        (dict(warmest="hot"), "the setting of the blending valve must be a number in °C; got 'hot'"),
        (dict(day=-1), "the day must be 0 or more; got -1"),
        (dict(day=0.5), "the day must be a whole number; got 0.5"),
    ],
)
def test_an_impossible_day_is_refused_in_words(case, says):
    with pytest.raises(OutOfRange, match=says):
        draw_off_profile("M", **case)


# ---- one day again and again ----------------------------------------------------------------------------------


def test_one_day_is_itself_and_a_week_is_seven():
    rows = draw_off_profile("M")
    week = every_day(rows, 7)
    assert every_day(rows, 1) == rows
    assert len(week) == 7 * len(rows)
    assert heat(week) == pytest.approx(7 * heat(rows), rel=1e-12)
    assert [row[0] for row in week] == sorted(row[0] for row in week)
    assert [row[0] - 6 * 86_400.0 for row in week[-len(rows) :]] == [row[0] for row in rows]


def test_rows_keep_their_kind_and_a_period_keeps_its_length():
    nights = every_day([Period(79_200.0, 93_600.0, 5e3)], 2, times=2)
    assert nights == (Period(79_200.0, 93_600.0, 5e3), Period(165_600.0, 180_000.0, 5e3))
    assert all(isinstance(night, Period) for night in nights)


def test_no_rows_stay_none():
    assert every_day((), 365) == ()


@pytest.mark.parametrize(
    ("rows", "days", "times", "says"),
    [
        ([(86_400.0, 0.05)], 2, 1, "the time of a row within its day must be below 86400 s; got 86400"),
        ([(-1.0, 0.05)], 2, 1, "the time of a row within its day must be 0 s or more; got -1"),
        ([(0.0, 0.05)], 0, 1, "the number of days must be 1 or more; got 0"),
        ([(0.0, 0.05)], 401, 1, "the number of days must be 400 or less; got 401"),
        ([(0.0, 0.05)], 1.5, 1, "the number of days must be a whole number; got 1.5"),
        ([(0.0, 0.05)], 2, 0, "the number of times in a row must be 1 or more; got 0"),
    ],
)
def test_what_is_no_day_is_refused_in_words(rows, days, times, says):
    with pytest.raises(OutOfRange, match=says):
        every_day(rows, days, times)


# ---- coil and blending valve ------------------------------------------------------------------------------------

HELD = 1e15
"""Heat capacity of a layer that no draw cools [J/K]."""


def served(layers, pieces, step=60.0, capacity=HELD, conductance=None, duration=3600.0):
    """Serve the taps from a store's layers, which change in place; return what is booked."""
    water, coil = hot_water_of(LARKRIGG.hot_water, layers.size)
    coil = coil if conductance is None else coil * conductance / coil.sum()
    taps, row, free = records(Tap, pieces), records(Row, [Row()])[0], records(Override, [Override(math.inf)])[0]
    piece = 0
    for k in range(round(duration / step)):
        piece = serve_taps(layers, coil, water, taps, piece, free, k * step, step, capacity, row)
    assert piece == taps.size
    return row


def asked(pieces, cold=10.0):
    """Flow x time x specific heat x rise [J]."""
    return sum(flow * (ends - begins) * SPECIFIC_HEAT * (wanted - cold) for begins, ends, flow, wanted in pieces)


@pytest.mark.parametrize(
    ("store", "litres", "outlet"),
    [(75.0, 6.0, 67.4), (75.0, 10.0, 57.1), (75.0, 15.0, 47.5), (60.0, 10.0, 46.2)],
)
def test_the_coil_warms_water_as_an_exchanger_in_a_bath(store, litres, outlet):
    """Incropera 11.35a: 900 W/K, cold 10: outlet = store - (store - 10) exp(-900 / (flow x specific heat))."""
    flow = litres / 60.0
    row = served(np.full(50, store), [(0.0, 60.0, flow, 200.0)], duration=60.0)  # wanted so hot that all goes through
    by_hand = store - (store - 10.0) * math.exp(-900.0 / (flow * SPECIFIC_HEAT))
    assert row.coil_warmth / row.tap_mass == pytest.approx(by_hand, rel=1e-10)
    assert by_hand == pytest.approx(outlet, abs=0.05)
    assert -row.hot_water / 60.0 == pytest.approx(flow * SPECIFIC_HEAT * (by_hand - 10.0), rel=1e-10)


def test_blending_takes_the_share_of_the_mixing_balance():
    """Coil water at 62, cold at 10, 48 wanted: 38 / 52 = 0.731 of the tap's flow passes the coil."""
    row = served(np.full(50, 62.0), [(0.0, 60.0, 0.2, 48.0)], conductance=1e6, duration=60.0)
    assert row.coil_mass / row.tap_mass == pytest.approx(38.0 / 52.0, rel=1e-9)
    assert row.tap_warmth / row.tap_mass == pytest.approx(48.0, rel=1e-9)


@pytest.mark.parametrize("store", [55.0, 70.0, 85.0])
@pytest.mark.parametrize("wanted", [38.0, 45.0])
def test_the_share_through_the_coil_gives_just_the_heat_that_is_wanted(store, wanted):
    """Less flow through the coil comes out hotter: the share is where flow x rise is what the tap asks."""
    water, coil = hot_water_of(LARKRIGG.hot_water, 50)
    flow = coil_flow(np.full(50, store), coil, water, 0.12, wanted, 60.0, HELD)
    rise = (store - 10.0) * -math.expm1(-900.0 / (flow * SPECIFIC_HEAT))
    assert flow * rise == pytest.approx(0.12 * (wanted - 10.0), rel=1e-9)


def test_a_store_too_cool_gives_all_it_can_and_the_rest_is_short():
    row = served(np.full(50, 35.0), [(0.0, 60.0, 0.15, 45.0)], duration=60.0)
    assert row.coil_mass == row.tap_mass == pytest.approx(9.0, rel=1e-12)
    assert row.tap_warmth / row.tap_mass == row.coil_warmth / row.tap_mass < 35.0
    assert row.hot_water_short - row.hot_water == pytest.approx(9.0 * SPECIFIC_HEAT * 35.0, rel=1e-12)


@st.composite
def pieces_of_time(draw):
    """One after another, some with a rest between them."""
    pieces, now = [], 0.0
    for _ in range(draw(st.integers(0, 3))):
        begins = now + draw(st.floats(0.0, 100.0))
        now = begins + draw(st.floats(1.0, 150.0))
        pieces.append((begins, now, draw(st.floats(0.01, 0.4)), draw(st.floats(10.5, 50.0))))
    return pieces


profiles = st.lists(st.floats(5.0, 95.0), min_size=12, max_size=12).map(sorted)


@settings(deadline=None, max_examples=80)
@given(pieces_of_time(), profiles, st.sampled_from([15.0, 60.0]))
def test_taps_never_do_the_impossible(pieces, profile, step):
    """Heat + shortfall = asked; the store lost just that heat; a tap no hotter than wanted, nor than any layer."""
    layers, capacity = np.array(profile), 105e3
    row = served(layers, pieces, step, capacity, duration=900.0)
    heat, scale = -row.hot_water, capacity * sum(profile)
    assert heat + row.hot_water_short == pytest.approx(asked(pieces), rel=1e-9, abs=1e-6)
    assert capacity * (sum(profile) - layers.sum()) == pytest.approx(heat, abs=1e-12 * scale)
    assert row.tap_mass == pytest.approx(sum(flow * (ends - begins) for begins, ends, flow, _ in pieces), rel=1e-12)
    assert 0.0 <= row.coil_mass <= row.tap_mass * (1 + 1e-12)
    assert row.hot_water_short >= 0.0
    assert min(10.0, profile[0]) - 1e-9 <= layers.min() <= layers.max() <= max(profile[-1], 10.0) + 1e-9
    if pieces:
        assert row.tap_warmth / row.tap_mass <= max(wanted for *_, wanted in pieces) * (1 + 1e-9)
        assert min(10.0, profile[0]) - 1e-9 <= row.coil_warmth / row.tap_mass <= max(profile[-1], 10.0) + 1e-9
        assert row.tap_warmth / row.tap_mass <= LARKRIGG.hot_water.blending * (1 + 1e-9)


def test_a_draw_cut_into_steps_is_the_same_draw():
    """Five minutes from the middle of a step to the middle of another: the same water and heat, by any step."""
    rows = [served(np.full(50, 70.0), [(37.0, 337.0, 0.1, 42.0)], step, 25e3) for step in (60.0, 10.0, 2.0)]
    for row in rows:
        assert row.tap_mass == pytest.approx(30.0, rel=1e-12)
        assert -row.hot_water == pytest.approx(30.0 * SPECIFIC_HEAT * 32.0, rel=1e-9)


def test_the_step_hardly_moves_what_is_left_in_the_store():
    def left(step):
        layers = np.full(50, 70.0)
        served(layers, [(0.0, 600.0, 0.15, 42.0)], step, 25e3)
        return layers

    assert left(60.0) == pytest.approx(left(2.0), abs=1.0)
    assert left(15.0) == pytest.approx(left(2.0), abs=0.3)
