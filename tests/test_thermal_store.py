"""The layered store part by part: where ports, coils, elements and losses act, how they are named, what is refused.

Its closed forms stand in `test_store_cases`, what may not change its answer in `test_store_invariance`.
"""

import math

import numpy as np
import pytest

from tlib.heat_transfer import store_loss_coefficient
from tlib.installation import Store
from tlib.simulation import Coil, Element, Loop, bare, run_store
from tlib.validation import OutOfRange

HOUR = 3600.0
CP = 4186.8
LAYER = 0.3 * 999.7 / 4  # kg, in four layers


def tank(loss="0 W/K", room="20 degC", height="1.26 m"):
    return Store(
        volume="300 litre", height=height, wall={"material": "steel", "thickness": "3 mm"}, loss=loss, room=room
    )


# ---- where each part acts -----------------------------------------------------------------------------------


START = [20.0, 35.0, 55.0, 80.0]


def risen(loops=(), coils=(), elements=()):
    """What parts do to four layers in a second, and the heats they bring; conduction taken out."""
    run, still = (
        run_store(tank(), *parts, start=START, duration=1.0, step=1.0, layers=4)
        for parts in ((loops, coils, elements), ((), (), ()))
    )
    return run.layers[-1] - still.layers[-1], {name: power[0] for name, power in run.powers.items()}


@pytest.mark.parametrize(("height", "layer"), [(0.0, 0), (0.5, 2), (0.74, 2), (0.76, 3), (1.0, 3)])
def test_a_port_draws_from_the_layer_at_its_height(height, layer):
    """Heights run from 0 at the bottom to 1 at the top; a height on a face belongs to the layer above."""
    _, powers = risen([Loop(height, 0.0, 0.01, 10.0)])
    assert powers["loop 1"] == pytest.approx(0.01 * CP * (10.0 - START[layer]), rel=1e-12)


def test_a_port_returns_to_the_layer_at_its_height():
    rise, _ = risen([Loop(0.6, 0.6, 0.5, 60.0)])
    assert rise == pytest.approx([0.0, 0.0, 0.5 * 5.0 / LAYER, 0.0], abs=1e-6)


@pytest.mark.parametrize(("ends", "spanned"), [((0.25, 0.75), [1, 2]), ((0.75, 0.25), [1, 2]), ((0.0, 0.4), [0, 1])])
def test_a_coil_acts_on_the_layers_that_it_spans_and_on_no_other(ends, spanned):
    rise, powers = risen(coils=[Coil(*ends, 900.0, 0.1, 10.0)])
    assert np.flatnonzero(np.abs(rise) > 1e-4).tolist() == spanned
    assert rise.sum() * LAYER * CP == pytest.approx(powers["coil 1"], rel=1e-9)
    assert powers["coil 1"] < 0


def test_a_coil_meets_first_the_water_where_it_enters():
    """The coil's water leaves nearest to the layer that it meets last; each half is one exchanger."""
    up, down = (
        run_store(tank(), [], [Coil(*ends, 900.0, 0.1, 10.0)], start=[40.0, 80.0], duration=1.0, step=1.0, layers=2)
        for ends in ((0.0, 1.0), (1.0, 0.0))
    )
    rate = 0.1 * CP
    share = 1 - math.exp(-450.0 / rate)

    def outlet(first, second):
        middle = 10 + (first - 10) * share
        return middle + (second - middle) * share

    assert -up.powers["coil 1"][0] == pytest.approx(rate * (outlet(40.0, 80.0) - 10), rel=1e-3)
    assert -down.powers["coil 1"][0] == pytest.approx(rate * (outlet(80.0, 40.0) - 10), rel=1e-3)


def test_an_element_shares_its_heat_over_what_it_spans():
    rise, _ = risen(elements=[Element(0.375, 0.75, 3000.0)])
    whole = 3000.0 / (LAYER * CP)
    assert rise == pytest.approx([0.0, whole / 3, 2 * whole / 3, 0.0], abs=1e-6)


def test_losses_are_shared_by_outer_surface():
    """Sides to all layers, the ends to the end layers; the top's loss is felt by all warm water under it."""
    store, layers = tank(loss="2 W/K"), 10
    run = run_store(store, [], start=60.0, duration=1.0, step=1.0, layers=layers)
    area, side = 0.3 / 1.26, math.sqrt(4 * math.pi * 0.3 / 1.26) * 1.26
    share = (side / layers + area) / (side + 2 * area)
    lost = (60.0 - run.layers[-1]) * 0.3 * 999.7 / layers * CP
    assert lost.sum() == pytest.approx(2.0 * 40.0, rel=1e-6)
    assert lost[0] == pytest.approx(2.0 * 40.0 * share, rel=1e-6)
    assert np.ptp(lost[1:]) < 1e-6


def test_insulation_gives_the_loss_that_heat_transfer_gives():
    insulated = tank(loss={"insulation": "50 mm", "conductivity": "0.025 W/(m K)", "fittings": "0.4 W/K"})
    run = run_store(insulated, [], start=60.0, duration=1.0, step=1.0)
    diameter = math.sqrt(4 * 0.3 / 1.26 / math.pi)
    shell = store_loss_coefficient(diameter, 1.26, 0.05, 0.025, 8.0)
    assert -run.powers["standing loss"][0] == pytest.approx((shell + 0.4) * 40.0, rel=1e-9)


@pytest.mark.parametrize(("material", "conductivity"), [("steel", 50.0), ("stainless steel", 15.0), ("copper", 380.0)])
def test_water_and_wall_conduct_side_by_side(material, conductivity):
    """Two layers 40 K apart: what crosses between them is that of water (0.651 W/(m K)) and wall in parallel."""
    store = Store(
        volume="300 litre", height="1.26 m", wall={"material": material, "thickness": "3 mm"}, loss="0 W/K",
        room="20 degC",
    )  # fmt: skip
    run = run_store(store, [], start=[20.0, 60.0], duration=1.0, step=1.0, layers=2)
    area, girth = 0.3 / 1.26, math.sqrt(4 * math.pi * 0.3 / 1.26)
    crossed = (60.0 - run.layers[-1, 1]) * 0.15 * 999.7 * CP
    assert crossed == pytest.approx((0.651 * area + conductivity * girth * 0.003) / 0.63 * 40.0, rel=1e-5)


# ---- a run --------------------------------------------------------------------------------------------------


def test_names_follow_the_order_in_which_parts_are_given():
    run = run_store(
        tank(loss="2 W/K"), [Loop(0.0, 1.0, 0.1, 60.0), Loop(1.0, 0.0, 0.05, 20.0)], [Coil(0.1, 0.9, 900.0, 0.2, 10.0)],
        [Element(0.2, 0.5, 2000.0)], start=40.0, duration=600.0,
    )  # fmt: skip
    assert list(run.powers) == ["loop 1", "loop 2", "coil 1", "element 1", "standing loss"]
    assert {name: flow[0] for name, flow in run.flows.items()} == {"loop 1": 0.1, "loop 2": 0.05, "coil 1": 0.2}
    assert run.powers["element 1"] == pytest.approx(np.full(10, 2000.0), rel=1e-12)
    assert run.time.tolist() == [60.0 * k for k in range(11)]
    assert [name for name, power in run.powers.items() if power[0] < 0] == ["loop 2", "coil 1", "standing loss"]


def test_a_start_is_kept_as_it_was_given():
    start = np.linspace(80.0, 20.0, 50)
    run = run_store(tank(), [], start=start, duration=60.0)
    assert np.array_equal(run.layers[0], np.linspace(80.0, 20.0, 50))
    assert np.array_equal(start, np.linspace(80.0, 20.0, 50)), "the caller's own numbers stay as they were"


def test_many_loops_in_a_store_of_few_layers():
    run = run_store(tank(), [Loop(0.0, 1.0, 0.001, 50.0)] * 40, start=20.0, duration=600.0, layers=2)
    assert run.ledger.closure <= 1e-12
    assert run.layers.max() <= 50.0


def test_uncompiled_and_compiled_agree(monkeypatch):
    case = dict(
        store=tank(loss="2 W/K"), loops=[Loop(0.05, 0.45, 0.2, 75.0)], coils=[Coil(0.1, 0.9, 900.0, 0.1, 10.0)],
        elements=[Element(0.2, 0.5, 2000.0)], start=np.linspace(20.0, 60.0, 20), duration=HOUR, layers=20,
    )  # fmt: skip
    fast = run_store(**case)
    monkeypatch.setattr(bare, "_ENGINE", bare._ENGINE.plain)
    assert run_store(**case).layers == pytest.approx(fast.layers, abs=1e-9)


# ---- refusals -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("case", "says"),
    [
        (dict(loops=[Loop(1.2, 0.0, 0.1, 20.0)]), "height must be 1 of the store or less; got 1.2"),
        (dict(loops=[Loop(1.0, -0.1, 0.1, 20.0)]), "height must be 0 of the store or more; got -0.1"),
        (dict(loops=[Loop(1.0, 0.0, -0.1, 20.0)]), "the flow of a loop must be 0 kg/s or more; got -0.1"),
        (dict(loops=[Loop(1.0, 0.0, 0.1, 151.0)]), "the inlet temperature of a loop must be 150 °C or less; got 151"),
        (dict(loops=[], coils=[Coil(0.0, 1.0, -1.0, 0.1, 10.0)]), "conductance of a coil must be 0 W/K or more"),
        (dict(loops=[], coils=[Coil(0.0, 1.0, 1.0, 11.0, 10.0)]), "flow of a coil must be 10 kg/s or less; got 11"),
        (dict(loops=[], coils=[Coil(0.0, 1.0, 1.0, 0.1, -1.0)]), "temperature of a coil must be 0 °C or more; got -1"),
        (dict(loops=[], coils=[Coil(0.5, 0.5, 1.0, 0.1, 10.0)]), "upper end must be above 0.5"),
        (dict(loops=[], elements=[Element(0.5, 0.2, 100.0)]), "upper end must be above 0.5"),
        (dict(loops=[], elements=[Element(0.0, 0.2, -5.0)]), "power of an element must be 0 W or more; got -5"),
        (dict(loops=[], start=[20.0, 30.0]), "one temperature for each of 50 layers; got 2"),
        (dict(loops=[], start=float("nan")), "the store's temperature at the start must be a finite number"),
        (dict(loops=[], duration=90.0), "whole number of steps of 60 s; got 90 s"),
        (dict(loops=[], step=0.5), "the step must be 1 s or more; got 0.5"),
        (dict(loops=[], layers=1), "layers must be 2"),
        (dict(loops=[], layers=20.5), "layers must be a whole number; got 20.5"),
    ],
)
def test_impossible_runs_are_refused_in_words(case, says):
    with pytest.raises(OutOfRange, match=says):
        run_store(tank(), **case)
