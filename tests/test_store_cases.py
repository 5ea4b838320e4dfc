"""The layered store against closed forms, each met at the order that its scheme has, in the step or in the layers.

Every reference number was worked outside the engine, with SciPy's special functions or by hand, and belongs to the
closed form beside it; the test first holds the closed form to the number, then the engine to the closed form. Where
the number was worked for water of 4186 or 4181 J/(kg K), conductances and powers are scaled so that the groups that
matter (loss over capacity, transfer units) are the number's own. Sources: [Incropera], [Carslaw 1959], [SciPy].
"""

import math
from itertools import pairwise

import numpy as np
import pytest
from scipy.optimize import isotonic_regression
from scipy.special import erf, erfc, gammaincc

from tlib.installation import Store
from tlib.simulation import Coil, Element, Loop, run_store
from tlib.stratification import exergy

HOUR = 3600.0
DAY = 24 * HOUR
CP = 4186.8  # 1.163 Wh/(kg K), as the engine counts
DENSITY = 999.7  # a layer keeps the mass with which it was filled, at 10 °C
STILL_WATER = 0.651  # W/(m K) at 60 °C, [IAPWS R15-11]
STEEL = 50.0  # W/(m K)


def tank(kilos=300.0, height=1.26, loss=0.0, room=20.0, wall=1e-6):
    """A store of so much water; a wall of a thousandth of a millimetre conducts nothing worth counting."""
    return Store(
        volume=f"{kilos / DENSITY!r} m3", height=f"{height!r} m", loss=f"{loss!r} W/K", room=f"{room!r} degC",
        wall={"material": "steel", "thickness": f"{wall!r} m"},
    )  # fmt: skip


def girth(store):
    return math.sqrt(4 * math.pi * store.volume / store.height)


def conductivity_times_area(store):
    """Water and wall, side by side [W m/K]."""
    return STILL_WATER * store.volume / store.height + STEEL * girth(store) * store.wall.thickness


def wall_for(wanted, kilos, height):
    """Thickness of a steel wall that brings water and wall to a wanted conductivity times area [m]."""
    bare = tank(kilos, height)
    return (wanted - STILL_WATER * bare.volume / height) / (STEEL * girth(bare))


def diffusing(alpha, kilos, height):
    """A store in which temperature spreads with a wanted diffusivity [m2/s]."""
    return tank(kilos, height, wall=wall_for(alpha * CP * kilos / height, kilos, height))


def middles(layers):
    return (np.arange(layers) + 0.5) / layers


def conducted(layers, store, step):
    """One explicit step of the heat equation between insulated ends, written apart from the engine."""
    fourier = conductivity_times_area(store) * (len(layers) / store.height) * step * len(layers)
    fourier /= DENSITY * store.volume * CP
    ends = np.pad(layers, 1, mode="edge")
    return layers + fourier * (ends[:-2] - 2 * layers + ends[2:])


def orders(errors):
    """Order between errors of which each belongs to twice the step, or half the layers, of the next."""
    return [round(math.log2(abs(coarse) / abs(fine)), 3) for coarse, fine in pairwise(errors)]


def extrapolated(values, order=1):
    """Romberg's table: values at steps h, h/2, h/4, ... carried to no step at all."""
    while len(values) > 1:
        values = [fine + (fine - coarse) / (2**order - 1) for coarse, fine in pairwise(values)]
        order += 1
    return values[0]


# ---- one body of water --------------------------------------------------------------------------------------


def test_a_body_that_loses_heat_cools_exponentially():
    """300 kg of 4186 J/(kg K), 2 W/K, 65 in 20 °C, 24 h: 59.21506 °C; [Incropera] eq. 5.6, lumped capacitance."""
    exact = 20 + 45 * math.exp(-2 * DAY / (300 * 4186))
    assert exact == pytest.approx(59.21506, abs=5e-6)
    store = tank(loss=2.0 * CP / 4186)
    runs = [run_store(store, [], start=65.0, duration=DAY, step=s, layers=2) for s in (600.0, 300.0, 150.0, 60.0)]
    errors = [run.layers[-1].mean() - exact for run in runs]
    assert abs(errors[-1]) < 3e-4, f"errors {errors} K at 600, 300, 150, 60 s"
    assert orders(errors[:3]) == pytest.approx([1, 1], abs=0.02), f"orders {orders(errors[:3])} in the step"


def test_a_stirred_draw_falls_exponentially():
    """300 kg at 60 °C, 0.1 kg/s of 10 °C let in on top, where it falls and stirs: 25.05971 °C after 1 h.

    The errors at 60, 10 and 1 s are those of a sum made apart from this package.
    """
    exact = 10 + 50 * math.exp(-0.1 * HOUR / 300)
    assert exact == pytest.approx(25.05971, abs=5e-6)

    def error(step):
        run = run_store(tank(), [Loop(0.0, 1.0, 0.1, 10.0)], start=60.0, duration=HOUR, step=step, layers=10)
        return run.layers[-1].mean() - exact

    assert [error(60.0), error(10.0), error(1.0)] == pytest.approx([-0.182, -0.0301, -0.0030], abs=5e-4)
    halved = [error(step) for step in (60.0, 30.0, 15.0)]
    assert orders(halved) == pytest.approx([1, 1], abs=0.03), f"errors {halved} K, orders {orders(halved)} in the step"


def test_an_element_lifts_a_losing_body_toward_its_balance():
    """300 kg of 4186 J/(kg K), 3 kW, 3 W/K, 2 h from 40 °C in 20 °C: 56.71205 °C, on the way to room + P / G."""
    exact = 1020 - 980 * math.exp(-3 * 2 * HOUR / (300 * 4186))
    assert exact == pytest.approx(56.71205, abs=5e-6)
    store, element = tank(loss=3.0 * CP / 4186), Element(0.0, 1.0, 3000.0 * CP / 4186)
    steps = (600.0, 300.0, 150.0, 60.0)
    runs = [run_store(store, [], (), [element], start=40.0, duration=2 * HOUR, step=s, layers=2) for s in steps]
    errors = [run.layers[-1].mean() - exact for run in runs]
    assert abs(errors[-1]) < 2e-3, f"errors {errors} K at {steps} s"
    assert orders(errors[:3]) == pytest.approx([1, 1], abs=0.02), f"orders {orders(errors[:3])} in the step"


def test_even_loss_multiplies_what_conduction_does():
    """Where loss over capacity is the same in all layers, the answer is the insulated one times exp(-G t / C).

    Two layers are alike; in more, the ends lose more, as they should, and the product rule no longer holds. The
    difference between two layers that conduct dies as exp(-2 K t / C), their mean excess stays.
    """
    store = diffusing(2.3e-7, 50.0, 0.2)
    lossy = tank(50.0, 0.2, loss=1.5, room=10.0, wall=store.wall.thickness)
    link, layer = conductivity_times_area(store) / 0.1, 25.0 * CP
    mean, half = 40 * math.exp(-1.5 * DAY / (2 * layer)), 20 * math.exp(-(2 * link + 0.75) * DAY / layer)
    exact = np.array([10 + mean - half, 10 + mean + half])
    errors = []
    for step in (600.0, 300.0, 150.0):
        run = run_store(lossy, [], start=[30.0, 70.0], duration=DAY, step=step, layers=2)
        errors.append(np.abs(run.layers[-1] - exact).max())
    assert errors[-1] < 0.02, f"errors {errors} K"
    assert orders(errors) == pytest.approx([1, 1], abs=0.03), f"orders {orders(errors)} in the step"


# ---- water carried ------------------------------------------------------------------------------------------


def test_a_whole_layer_a_step_is_plug_flow():
    """At a Courant number of one a profile moves up by whole layers, and only conduction blurs it."""
    store, layers = tank(500.0, 5.0), 50
    expected = np.sort(np.random.default_rng(1).uniform(20.0, 80.0, layers))
    run = run_store(store, [Loop(1.0, 0.0, 10.0, 15.0)], start=expected, duration=5.0, step=1.0, layers=layers)
    for _ in range(5):
        expected = conducted(np.concatenate([[15.0], expected[:-1]]), store, 1.0)
    assert run.layers[-1] == pytest.approx(expected, abs=1e-9)


TANKS = [(2, 1, 0.6), (2, 1, 1.0), (10, 9, 0.6), (10, 9, 1.0), (10, 4, 0.6)]


@pytest.mark.parametrize(("layers", "layer", "volumes"), TANKS)
def test_layers_without_slope_are_tanks_in_series(layers, layer, volumes):
    """N stirred tanks in series: T_in + (T_0 - T_in) Q(j + 1, N t / tau); 55.80379 and 32.89649 °C for N = 10, j = 9.

    The engine has no first-order scheme to choose. But the end layers have no slope, so two layers are two tanks;
    and neither has a layer from which a loop draws, so ten layers become ten tanks once a loop of no account draws
    from each. Held to the limit of no step, from runs at 8, 4, 2 and 1 s; the engine conducts a little meanwhile.
    """
    exact = 10 + 50 * gammaincc(layer + 1, layers * volumes)
    if (layers, layer) == (10, 9):
        assert exact == pytest.approx({0.6: 55.80379, 1.0: 32.89649}[volumes], abs=1e-5)
    loops = [Loop(1.0, 0.0, 10.0, 10.0)] + [Loop(z, z, 1e-9, 10.0) for z in middles(layers)[1:-1]]
    runs = [
        run_store(tank(2000.0, 5.0), loops, start=60.0, duration=200.0 * volumes, step=step, layers=layers)
        for step in (8.0, 4.0, 2.0, 1.0)
    ]
    found = [run.layers[-1, layer] for run in runs]
    errors = [value - exact for value in found]
    assert extrapolated(found) == pytest.approx(exact, abs=3e-3), f"errors {errors} K at 8, 4, 2, 1 s"
    assert orders(errors)[1:] == pytest.approx([1, 1], abs=0.1), f"orders {orders(errors)} in the step"


@pytest.mark.parametrize(("drawn_from", "returned_to"), [(1.0, 0.0), (0.0, 1.0)])
def test_a_smooth_front_is_carried_at_second_order(drawn_from, returned_to):
    """A quarter of a layer a step; the exact answer is the front, moved, and conducted meanwhile.

    (At half a layer the scheme's leading error happens to vanish, and the order is 3.)
    """
    errors, store = [], tank(400.0, 5.0)
    diffusivity = conductivity_times_area(store) * 5.0 / (400.0 * CP)
    for layers in (50, 100, 200, 400):
        z, step = 5.0 * middles(layers), 400.0 / layers
        way = 1.25 * (drawn_from - returned_to)
        start = 40 + 20 * erf((z - 2.5 + way / 2) / math.sqrt(2 * 0.3**2))
        loop = Loop(drawn_from, returned_to, 0.25 * 400.0 / layers / step, 20.0 if way > 0 else 60.0)
        run = run_store(store, [loop], start=start, duration=layers * step, step=step, layers=layers)
        exact = 40 + 20 * erf((z - 2.5 - way / 2) / math.sqrt(2 * 0.3**2 + 4 * diffusivity * run.time[-1]))
        errors.append(np.abs(run.layers[-1] - exact).mean())
    assert orders(errors) == pytest.approx([2.2, 2.2, 2.2], abs=0.4), f"errors {errors} K, orders {orders(errors)}"
    assert errors[-1] < 0.002, f"mean errors {errors} K with 50, 100, 200, 400 layers"


FRONT = [(0.85, 15.480), (0.88, 25.577), (0.90, 35.0), (0.92, 44.423), (0.95, 54.520)]


def test_a_front_that_is_carried_and_conducts_comes_to_its_closed_form():
    """0.25 mm/s of 10 °C below 60 °C, 2.3e-7 m2/s, 1 h: half an error function round 0.9 m (Peclet number near 1000).

    The inlet brings heat by flow alone, as the closed form wants.
    """
    store = diffusing(2.3e-7, 500.0, 1.7)
    heights, printed = np.array(FRONT).T
    closed = 10 + 50 * (1 - 0.5 * erfc((heights - 0.9) / (2 * math.sqrt(2.3e-7 * HOUR))))
    assert closed == pytest.approx(printed, abs=5e-4)
    errors, flow = [], 2.5e-4 * 500.0 / 1.7
    for layers, step in ((50, 120.0), (100, 60.0), (200, 30.0), (400, 15.0)):
        run = run_store(store, [Loop(1.0, 0.0, flow, 10.0)], start=60.0, duration=HOUR, step=step, layers=layers)
        errors.append(np.abs(np.interp(heights, 1.7 * middles(layers), run.layers[-1]) - closed).max())
    assert errors[-1] < 0.1, f"errors {errors} K with 50, 100, 200, 400 layers"
    assert min(orders(errors)) > 1.0, f"errors {errors} K, orders {orders(errors)}"


# ---- conduction ---------------------------------------------------------------------------------------------

SPREAD = [(0.05, 49.951), (0.1, 54.601), (0.2, 62.106), (0.3, 66.691)]


def test_a_standing_step_spreads_by_the_error_function_at_second_order():
    """70 over 20 °C in 1.7 m, 2.3e-7 m2/s, 24 h; [Incropera] eq. 5.60, mirrored in both ends."""

    def exact(above):
        mirrored = sum((-1) ** n * erf((above - 1.7 * n) / (2 * math.sqrt(2.3e-7 * DAY))) for n in (-1, 0, 1))
        return 45 + 25 * mirrored

    heights, printed = np.array(SPREAD).T
    assert exact(heights) == pytest.approx(printed, abs=5e-4)
    store, errors = diffusing(2.3e-7, 500.0, 1.7), []
    for layers in (20, 40, 80, 160):
        start = np.where(middles(layers) < 0.5, 20.0, 70.0)
        after = run_store(store, [], start=start, duration=DAY, layers=layers).layers[-1]
        errors.append(np.abs(after - exact(1.7 * (middles(layers) - 0.5))).max())
    assert errors[-1] < 0.0037, f"errors {errors} K with 20, 40, 80, 160 layers"
    assert min(orders(errors)) > 1.9, f"errors {errors} K, orders {orders(errors)} in the layers"
    assert np.interp(heights, 1.7 * (middles(160) - 0.5), after) == pytest.approx(printed, abs=0.02)


def test_a_losing_column_settles_as_a_fin():
    """0.5 m3, 1.7 m, 0.35 W/(m2 K), 18 °C round it, the top held at 70 °C; [Incropera] table 3.4.

    With an insulated foot the fin gives 25.236, 32.640, 56.186 and 70 °C at 0, 0.85, 1.5 and 1.7 m. A store's own foot
    loses too, which is the fin with a convecting tip; without that loss the same formula gives the four numbers.
    The end layer loses by the temperature of its middle, not of its face: a first-order trace, 0.004 K with 80
    layers. Once the tip is counted so, what is left falls at second order.
    """
    kilos, height, lost, conducts, area = 0.5 * DENSITY, 1.7, 0.35, 0.27475, 0.5 / 1.7
    store = tank(kilos, height, wall=wall_for(conducts, kilos, height))
    number = math.sqrt(lost * girth(store) / conducts)
    assert number == pytest.approx(1.56495, abs=2e-5)

    def fin(z, top, foot):
        """Temperature at a height [°C], the top held at `top` [m], the foot losing `foot` [W/K]."""
        tip = foot / (conducts * number)
        shape = [math.cosh(number * x) + tip * math.sinh(number * x) for x in (*z, top)]
        return 18 + 52 * np.array(shape[:-1]) / shape[-1]

    assert fin([0, 0.85, 1.5, 1.7], 1.7, 0.0) == pytest.approx([25.236, 32.640, 56.186, 70.0], abs=5e-4)
    loss, foot = lost * (girth(store) * height + 2 * area), lost * area
    store, errors, refined = tank(kilos, height, loss, 18.0, store.wall.thickness), [], []
    for layers, step in ((20, 600.0), (40, 600.0), (80, 300.0)):
        z, half = height * middles(layers), height / layers / 2
        held = Loop(1.0, 1.0, kilos / layers / step, 70.0)  # renews the top layer whole at each step
        run = run_store(store, [held], start=70.0, duration=250 * DAY, step=step, layers=layers)
        errors.append(np.abs(run.layers[-1, :-1] - fin(z, z[-1], foot)[:-1]).max())
        at_middle = foot / (1 - foot * half / conducts)  # the end layer loses by its own temperature, not its face's
        refined.append(np.abs(run.layers[-1, :-1] - fin(z, z[-1], at_middle)[:-1]).max())
    assert errors[-1] < 0.005, f"errors {errors} K with 20, 40, 80 layers"
    assert orders(refined) == pytest.approx([2, 2], abs=0.02), f"errors {refined} K, orders {orders(refined)}"


# ---- a coil -------------------------------------------------------------------------------------------------


def outlet_of(start, layers, kilos=5000.0):
    """Outlet of a coil in a store that it has no time to change: steps of 4, 2 and 1 s, carried to no step."""
    coil, found = Coil(0.0, 1.0, 1500.0 * CP / 4181, 0.15, 10.0), []
    for step in (4.0, 2.0, 1.0):
        run = run_store(tank(0.99 * kilos, 3.0), [], [coil], start=start, duration=step, step=step, layers=layers)
        found.append(10.0 - run.powers["coil 1"][0] / (0.15 * CP))
    return found, extrapolated(found)


@pytest.mark.parametrize("layers", [2, 10, 50])
def test_a_coil_in_a_uniform_store_meets_the_effectiveness(layers):
    """1500 W/K, 0.15 kg/s of 4181 J/(kg K), 10 °C into 60 °C: 55.42663 °C; [Incropera] table 11.4, last row."""
    exact = 60 - 50 * math.exp(-1500 / (0.15 * 4181))
    assert exact == pytest.approx(55.42663, abs=5e-6)
    found, limit = outlet_of(60.0, layers)
    errors = [value - exact for value in found]
    assert limit == pytest.approx(exact, abs=1e-6), f"errors {errors} K at 4, 2, 1 s"
    assert orders(errors) == pytest.approx([1, 1], abs=0.03), f"orders {orders(errors)} in the step"


def test_a_coil_in_an_even_gradient_comes_to_its_closed_form_at_second_order():
    """30 to 70 °C up the coil, same transfer units N: T_0 + g - g/N + (T_in - T_0 + g/N) exp(-N) = 52.97635 °C."""
    units = 1500 / (0.15 * 4181)
    exact = 70 - 40 / units + (10 - 30 + 40 / units) * math.exp(-units)
    assert exact == pytest.approx(52.97635, abs=5e-6)
    errors = [outlet_of(30 + 40 * middles(layers), layers)[1] - exact for layers in (10, 20, 40, 70)]
    assert errors[:2] == pytest.approx([-0.0724, -0.0181], abs=1e-4), f"errors {errors} K"
    assert errors[3] == pytest.approx(-0.00148, abs=1e-5), f"errors {errors} K"
    assert orders(errors[:3]) == pytest.approx([2, 2], abs=0.02), f"orders {orders(errors[:3])} in the layers"


# ---- buoyancy, books, worth ---------------------------------------------------------------------------------


@pytest.mark.parametrize("layers", [2, 3, 20, 100])
def test_water_that_lies_wrong_comes_to_rest_as_the_isotonic_regression(layers):
    """A second of a store in disorder: it conducts, then rests as SciPy's isotonic regression; rested, it stays."""
    start = np.random.default_rng(layers).uniform(10.0, 90.0, layers)
    store = tank(1000.0, 5.0)
    run = run_store(store, [], start=start, duration=2.0, step=1.0, layers=layers)
    rested = isotonic_regression(conducted(start, store, 1.0)).x
    assert run.layers[1] == pytest.approx(rested, abs=1e-10)
    assert run.layers[2] == pytest.approx(conducted(rested, store, 1.0), abs=1e-10)
    assert run.layers[2].mean() == pytest.approx(start.mean(), rel=1e-13)


def test_heat_below_stirs_all_that_is_above():
    run = run_store(tank(), [], (), [Element(0.0, 0.02, 6000.0)], start=40.0, duration=HOUR)
    assert np.ptp(run.layers[-1]) < 1e-9
    assert run.layers[-1].mean() == pytest.approx(40 + 6000.0 * HOUR / (300 * CP), abs=1e-9)


def test_the_books_of_ten_thousand_steps_balance():
    loops = [Loop(0.05, 0.9, 0.08, 75.0), Loop(0.95, 0.1, 0.11, 35.0), Loop(0.5, 0.6, 0.3, 20.0)]
    coils = [Coil(0.0, 0.9, 1200.0, 0.1, 10.0), Coil(0.4, 0.05, 400.0, 0.05, 85.0)]
    run = run_store(
        tank(loss=2.0), loops, coils, [Element(0.3, 0.5, 3000.0)], start=40.0, duration=60.0 * 10_000, step=60.0
    )
    assert run.ledger.closure <= 1e-12
    booked = sum(np.sum(power) * 60.0 for power in run.powers.values())
    assert 300 * CP * (run.layers[-1] - run.layers[0]).mean() == pytest.approx(booked, rel=1e-6)


def test_what_warm_water_is_worth():
    """300 kg of 4186 J/(kg K) at 60 °C against 10 °C: 4.96702 MJ of exergy, whatever the layers; [Rosen 2001]."""
    for layers in (2, 50):
        run = run_store(tank(), [], start=60.0, duration=60.0, layers=layers)
        assert exergy(run.layers[-1], 300.0, 10.0, 4186.0) / 1e6 == pytest.approx(4.96702, abs=5e-6)
