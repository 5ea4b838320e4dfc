"""Mixing in a tank by the rate at which cold water enters: [JSEE 2009], read in its abstract.

Published: a tank 70 cm high and 24 cm wide, full of water at 40 to 50 °C, is drawn down by 2, 3, 5 and 7 l/min while
tap water of 25 to 27 °C takes its place, 4.35, 6.52, 10.87 and 15.2 cm/min of superficial velocity. Up to about
11 cm/min a baffle over the inlet has no effect; above, one baffle prevents the mixing that there is without it.

Not in the abstract: the bore of the inlet, taken as 20 mm, and any size of the mixing, so only its sign can be held. A
baffle is a store without jets. Two such tanks stand in one shell here, because a store holds 50 litres or more.

Obtained without a jet (behind a baffle): the outlet is within a tenth of the hot water's excess until 0.954, 0.960,
0.964 and 0.968 of a volume is drawn, at any of the four rates the same within 0.02.
"""

import math

import numpy as np
import pytest

from tlib.installation import Store
from tlib.simulation import Loop, run_store

AREA = math.pi * 0.24**2 / 4
PRINTED = {2.0: 4.35, 3.0: 6.52, 5.0: 10.87, 7.0: 15.2}  # l/min: cm/min
HOT, COLD = 45.0, 26.0
KILOS = AREA * 0.70 * 999.7
STORE = Store(
    volume=f"{2 * AREA * 0.70!r} m3", height="0.70 m", wall={"material": "stainless steel", "thickness": "2 mm"},
    loss="0 W/K", room="26 degC",
)  # fmt: skip


def held(litres_per_minute, exchange=0.0, opening=0.02, layers=100):
    """Volumes that can be drawn before a tenth of the outlet's excess is gone [-]."""
    flow, step = litres_per_minute / 60 * 0.9997, 5.0
    loop = Loop(1.0, 0.0, flow, COLD, opening=opening, exchange=exchange)
    duration = round(1.5 * KILOS / flow / step) * step
    run = run_store(STORE, [loop] * 2, start=HOT, duration=duration, step=step, layers=layers)
    excess = (run.layers[:, -1] - COLD) / (HOT - COLD)
    return float(np.interp(-0.9, -excess, run.time * flow / KILOS))


def stirred(**case):
    """What a jet costs, in volumes, by the rate of the draw."""
    return [held(rate) - held(rate, **case) for rate in PRINTED]


@pytest.mark.parametrize(("rate", "printed"), PRINTED.items())
def test_the_superficial_velocity_is_the_printed_one(rate, printed):
    """The printed ones are all 1.6 to 1.8 % below the flow over the printed diameter's area."""
    assert rate / 1000 / AREA * 100 == pytest.approx(printed, rel=0.02)


def test_behind_a_baffle_every_rate_replaces_the_water_in_layers():
    volumes = [held(rate) for rate in PRINTED]
    assert min(volumes) > 0.95, f"{volumes}"
    assert np.ptp(volumes) < 0.02, f"{volumes}"


def test_a_jet_always_costs_something():
    assert min(stirred(exchange=0.3)) > 0, f"{stirred(exchange=0.3)}"


@pytest.mark.parametrize("exchange", [0.1, 0.3, 1.0])
def test_a_jet_costs_the_more_the_faster_the_draw(exchange):
    """Little at the slowest rates, where the paper sees no effect of a baffle; several times as much at the fastest."""
    costs = stirred(exchange=exchange)
    assert np.all(np.diff(costs) > 0), f"{costs}"
    assert costs[-1] > 2 * costs[0], f"{costs}"


if __name__ == "__main__":
    print("behind a baffle:", [f"{held(rate):.3f}" for rate in PRINTED])
    for exchange in (0.1, 0.3, 1.0):
        print("a jet that exchanges", exchange, "costs", [f"{cost:.3f}" for cost in stirred(exchange=exchange)])
