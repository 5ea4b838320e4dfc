"""The power cut at Larkrigg, beside the hand sum: 300 l at 78 °C, 4 kg of logs left at 20 %, 0.75 and 0.65.

The hand sum takes burner and store as one body, which holds only while gravity moves water between them; here it does
not, and the tests say what the burner then does alone. Sums by hand; the trade's rates are common practice, no source.
"""

import numpy as np
import pytest

from tlib import installation, tables
from tlib.simulation import Conditions, Start, layers_acted, simulate

HOUR, KWH = 3600.0, 3.6e6
LARKRIGG = installation.load(tables.shipped("workbooks") / "sites" / "larkrigg.toml")
STILL_TO_COME = 4 * (19.0 * 0.8 - 2.44 * 0.2) / 3.6 * 0.75 * 0.65  # kWh to the water: 7.97


def cut(*others, site=LARKRIGG, logs=4.0):
    return simulate(site, Conditions(
        start=Start(78.0, 78.0), begins=21 * HOUR, duration=8 * HOUR, firing=[(0.0, logs, 0.20)],
        faults=("power cut", *others),
    ))  # fmt: skip


def test_the_heat_still_to_come_is_that_of_the_hand_sum():
    run = cut()
    assert pytest.approx(7.97, abs=0.005) == STILL_TO_COME
    assert run.ledger["fire to water"] / KWH == pytest.approx(STILL_TO_COME, rel=2e-3)


def test_as_one_body_it_would_head_for_a_hundred_and_one():
    """(7.97 kWh) / (300 l x 1.163 Wh) above 78 °C: 100.8 °C."""
    assert pytest.approx(100.8, abs=0.05) == 78.0 + STILL_TO_COME * 1000 / (300 * 1.163)


def test_the_store_hears_nothing_of_it():
    run = cut()
    assert run.readings["store top"].max() <= 78.0 + 1e-9
    assert not np.any(run.states["high limit"])
    assert np.all(run.flows["burner to store"] == 0.0)


def test_the_burner_alone_passes_its_own_water_s_hundred_in_minutes():
    """20 l and 100 kg of iron from 78 to 97 °C: 131 kJ/K x 19 K at what the young fire gives, some minutes."""
    run = cut("heat leak air-locked")
    first = next(layer for layer in layers_acted(run) if layer.number == "5")
    assert 5 * 60 < first.time < 25 * 60
    assert first.temperature >= 96.0


def test_the_leak_carries_the_better_part_and_the_valve_the_rest():
    with_leak, without = cut(), cut("heat leak air-locked")
    leak, valve = (-with_leak.ledger[name] / KWH for name in ("heat leak", "thermal valve"))
    assert leak > valve
    assert -without.ledger["thermal valve"] > -with_leak.ledger["thermal valve"] * 2.0
    assert not with_leak.boiled
    assert not without.boiled


def test_a_dying_fire_is_carried_by_the_leak_alone():
    """Little is left: the leak's 1.5 kW at 50 K holds, and the valve stays shut, as the hand sum says."""
    run = cut(logs=1.5)
    assert [layer.number for layer in layers_acted(run)] == ["2"]
    assert np.all(run.flows["tundish"] == 0.0)


def test_water_through_the_valve_is_what_its_heat_needs():
    """Mains water warmed halfway to the burner's 92 to 97 °C: some 44 K a litre, so 23 l for each kWh."""
    run = cut("heat leak air-locked")
    litres = run.flows["tundish"].sum() * 60.0
    heat = -run.ledger["thermal valve"] / KWH
    assert litres / heat == pytest.approx(1000 / (1.163 * 0.5 * (94.5 - 10.0)), rel=0.05)


def test_with_neither_leak_nor_valve_it_boils():
    run = cut("heat leak air-locked", "thermal valve seized shut")
    assert run.boiled
    assert run.events[-1].name == "boiled"
    assert run.ledger["steam"] <= 0.0
    assert run.ledger.closure <= 1e-12
