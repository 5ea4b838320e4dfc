"""What may not change a store's answer, and what no flow may break: symmetry, bounds and books.

Nothing here needs a source: each statement follows from heat being conserved, from the equations being linear in
temperature, or from a name or an order that water cannot know.
"""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tlib.installation import Store
from tlib.simulation import Coil, Element, Loop, run_store

CP = 4186.8

height = st.floats(0, 1)
loop = st.builds(Loop, height, height, st.floats(0, 0.5), st.floats(5, 95))
coil = st.builds(Coil, st.floats(0, 0.45), st.floats(0.5, 1), st.floats(50, 2000), st.floats(0, 0.3), st.floats(5, 90))
falling = coil.map(lambda rising: replace(rising, enters=rising.leaves, leaves=rising.enters))
element = st.builds(Element, st.floats(0, 0.4), st.floats(0.45, 1), st.floats(0, 6000))
loops = st.lists(loop, max_size=3)
coils = st.lists(st.one_of(coil, falling), max_size=2)
elements = st.lists(element, max_size=2)
grid = st.tuples(st.integers(2, 100), st.sampled_from([10.0, 60.0, 300.0]))
seed = st.integers(0, 10_000)


def tank(room=20.0):
    return Store(
        volume="300 litre", height="1.26 m", wall={"material": "steel", "thickness": "3 mm"}, loss="2 W/K",
        room=f"{room!r} degC",
    )  # fmt: skip


def run(grid, loops=(), coils=(), elements=(), *, start, room=20.0, steps=20):
    layers, step = grid
    return run_store(
        tank(room), loops, coils, elements, start=start, duration=steps * step, step=step, layers=layers
    )  # fmt: skip


def disorder(seed, layers):
    return np.random.default_rng(seed).uniform(5.0, 95.0, layers)


def order(seed, layers):
    return np.sort(disorder(seed, layers))


# ---- books and bounds ---------------------------------------------------------------------------------------


@settings(max_examples=60)
@given(loops, coils, elements, grid, seed)
def test_the_books_close_whatever_flows(loops, coils, elements, grid, seed):
    after = run(grid, loops, coils, elements, start=disorder(seed, grid[0]))
    assert after.ledger.closure <= 1e-12
    assert np.all(np.diff(after.layers[1:], axis=1) >= -1e-9), "water at rest is in order"


@settings(max_examples=60)
@given(loops, coils, grid, seed)
def test_no_layer_leaves_the_span_of_start_inlets_and_room(loops, coils, grid, seed):
    start = disorder(seed, grid[0])
    after = run(grid, loops, coils, start=start)
    known = [*start, 20.0, *(part.inlet for part in (*loops, *coils) if part.flow > 0)]
    assert after.layers.min() >= min(known) - 1e-9
    assert after.layers.max() <= max(known) + 1e-9


@settings(max_examples=40)
@given(loops, coils, elements, grid, seed)
def test_an_element_lifts_but_never_cools(loops, coils, elements, grid, seed):
    start = order(seed, grid[0])
    warm, plain = run(grid, loops, coils, elements, start=start), run(grid, loops, coils, start=start)
    known = [*start, 20.0, *(part.inlet for part in (*loops, *coils) if part.flow > 0)]
    assert warm.layers.min() >= min(known) - 1e-9
    assert warm.layers[-1].mean() >= plain.layers[-1].mean() - 1e-9


def test_a_port_in_a_steep_front_takes_no_more_than_is_there():
    """One loop draws where another's water passes: no layer may fall below everything that came in."""
    start = np.concatenate([np.full(25, 20.0), [40.0], np.full(24, 100.0)])
    flow = 0.5 * 0.3 * 999.7 / 50 / 60.0
    crossing = [Loop(1.0, 0.0, flow, 20.0), Loop(0.51, 0.0, flow, 20.0)]
    after = run((50, 60.0), crossing, start=start, steps=1)
    assert after.layers.min() >= 20.0 - 1e-12


# ---- what changes nothing -----------------------------------------------------------------------------------


@settings(max_examples=40)
@given(loops, coils, elements, grid, seed)
def test_parts_at_rest_change_nothing_at_all(loops, coils, elements, grid, seed):
    """A loop or coil without flow, an element without power: not one bit differs."""
    start = disorder(seed, grid[0])
    plain = run(grid, loops, coils, elements, start=start)
    resting = run(
        grid, [*loops, Loop(0.5, 0.1, 0.0, 90.0)], [*coils, Coil(0.0, 1.0, 900.0, 0.0, 5.0)],
        [*elements, Element(0.1, 0.9, 0.0)], start=start,
    )  # fmt: skip
    assert np.array_equal(resting.layers, plain.layers)
    assert resting.ledger[f"loop {len(loops) + 1}"] == 0.0
    assert resting.ledger[f"coil {len(coils) + 1}"] == 0.0
    assert resting.ledger[f"element {len(elements) + 1}"] == 0.0


@given(grid, st.floats(5, 95), st.lists(st.tuples(height, height, st.floats(0, 0.5)), max_size=3))
def test_a_store_at_the_temperature_of_all_round_it_stays_so(grid, warmth, ways):
    parts = [Loop(*way, warmth) for way in ways], [Coil(0.1, 0.9, 900.0, 0.1, warmth)]
    after = run(grid, *parts, start=warmth, room=warmth)
    assert after.layers == pytest.approx(np.full(after.layers.shape, warmth), abs=1e-10)


@settings(max_examples=40)
@given(loops, coils, elements, grid, seed, st.floats(-4.9, 40.0))
def test_all_temperatures_shift_together(loops, coils, elements, grid, seed, shift):
    start = order(seed, grid[0])
    moved = [[replace(part, inlet=part.inlet + shift) for part in parts] for parts in (loops, coils)]
    plain = run(grid, loops, coils, elements, start=start)
    shifted = run(grid, *moved, elements, start=start + shift, room=20.0 + shift)
    assert shifted.layers - shift == pytest.approx(plain.layers, abs=1e-8)
    for name in plain.powers:
        assert shifted.powers[name] == pytest.approx(plain.powers[name], abs=1e-3)


ways = st.tuples(st.floats(0, 0.999), st.floats(0, 0.999), st.floats(0, 0.5), st.floats(5, 95))


@settings(max_examples=60)
@given(st.lists(ways, max_size=3), coils, grid, seed)
def test_upside_down_and_cold_for_hot_is_the_same_store(ways, coils, grid, seed):
    """Turn the store over and every temperature about 50 °C: cold that creeps in below is heat that creeps in above."""
    layers, start = grid[0], disorder(seed, grid[0])
    loops = [Loop(*((int(z * layers) + 0.5) / layers for z in way[:2]), *way[2:]) for way in ways]  # off the faces
    turned = [
        [replace(p, drawn_from=1 - p.drawn_from, returned_to=1 - p.returned_to, inlet=100 - p.inlet) for p in loops],
        [replace(p, enters=1 - p.enters, leaves=1 - p.leaves, inlet=100 - p.inlet) for p in coils],
    ]
    plain = run(grid, loops, coils, start=start, room=30.0)
    over = run(grid, *turned, start=100 - start[::-1], room=70.0)
    assert 100 - over.layers[:, ::-1] == pytest.approx(plain.layers, abs=1e-8)


@settings(max_examples=40)
@given(loop, loops, st.floats(0, 1), grid, seed)
def test_a_loop_in_two_parts_is_one_loop(whole, others, share, grid, seed):
    start = order(seed, grid[0])
    parts = [replace(whole, flow=part * whole.flow) for part in (share, 1.0 - share)]
    one, two = run(grid, [whole, *others], start=start), run(grid, [*parts, *others], start=start)
    assert two.layers == pytest.approx(one.layers, abs=1e-8)
    assert two.ledger["loop 1"] + two.ledger["loop 2"] == pytest.approx(one.ledger["loop 1"], rel=1e-8, abs=1e-2)


@settings(max_examples=40)
@given(st.permutations(range(4)), st.lists(loop, min_size=4, max_size=4), grid, seed)
def test_loops_have_no_order(places, loops, grid, seed):
    start = order(seed, grid[0])
    there, mixed = run(grid, loops, start=start), run(grid, [loops[k] for k in places], start=start)
    assert mixed.layers == pytest.approx(there.layers, abs=1e-8)
    for name, place in enumerate(places):
        mine, theirs = mixed.ledger[f"loop {name + 1}"], there.ledger[f"loop {place + 1}"]
        assert mine == pytest.approx(theirs, rel=1e-8, abs=1e-2)


@settings(max_examples=40)
@given(st.permutations(range(3)), st.lists(element, min_size=3, max_size=3), grid, seed)
def test_elements_have_no_order(places, elements, grid, seed):
    start = order(seed, grid[0])
    there = run(grid, (), (), elements, start=start)
    mixed = run(grid, (), (), [elements[k] for k in places], start=start)
    assert mixed.layers == pytest.approx(there.layers, abs=1e-8)


@settings(max_examples=40)
@given(st.floats(5, 90), st.floats(5, 90), st.integers(2, 100), seed)
def test_coils_apart_have_no_order(below, above, layers, seed):
    """Two coils that share no layer; where they do share one, the order is felt, at first order in the step."""
    start = order(seed, 4 * layers)
    pair = [Coil(0.0, 0.25, 400.0, 0.1, below), Coil(1.0, 0.5, 900.0, 0.05, above)]
    one = run((4 * layers, 10.0), (), pair, start=start, steps=1)
    two = run((4 * layers, 10.0), (), pair[::-1], start=start, steps=1)
    assert two.layers == pytest.approx(one.layers, abs=1e-10)


def test_the_order_of_coils_that_share_a_layer_is_felt_at_first_order():
    pair = [Coil(0.0, 1.0, 400.0, 0.1, 10.0), Coil(1.0, 0.0, 900.0, 0.05, 85.0)]

    def gap(step):
        one, two = (
            run((20, step), (), order, start=np.linspace(30.0, 70.0, 20), steps=int(1200 / step))
            for order in (pair, pair[::-1])
        )
        return np.abs(one.layers[-1] - two.layers[-1]).max()

    gaps = [gap(step) for step in (60.0, 30.0, 15.0)]
    assert [coarse / fine for coarse, fine in pairwise(gaps)] == pytest.approx([2, 2], abs=0.3), f"gaps {gaps} K"


@given(height, height, st.floats(0.001, 0.04), st.floats(5, 95), st.floats(5, 95), st.integers(2, 50))
def test_before_any_gradient_a_loop_brings_the_same_heat_either_way_round(low, high, flow, inlet, warmth, layers):
    """In water of one temperature what leaves is the same wherever it leaves; no layer is emptied in this minute."""
    there, back = (
        run((layers, 60.0), [Loop(*way, flow, inlet)], start=warmth, steps=1) for way in ((low, high), (high, low))
    )
    assert there.ledger["loop 1"] == pytest.approx(flow * CP * 60.0 * (inlet - warmth), rel=1e-9, abs=1e-6)
    assert back.ledger["loop 1"] == pytest.approx(there.ledger["loop 1"], rel=1e-12)


@given(seed, grid)
def test_more_time_is_more_steps(seed, grid):
    """Stopping and starting again changes nothing."""
    start, parts = disorder(seed, grid[0]), ([Loop(0.9, 0.1, 0.05, 40.0)], [Coil(0.0, 0.9, 900.0, 0.1, 10.0)])
    whole = run(grid, *parts, start=start, steps=12)
    half = run(grid, *parts, start=start, steps=5)
    rest = run(grid, *parts, start=half.layers[-1], steps=7)
    assert np.array_equal(np.concatenate([half.layers, rest.layers[1:]]), whole.layers)
