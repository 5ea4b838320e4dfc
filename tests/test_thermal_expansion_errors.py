"""What thermal_expansion refuses, and in which words: not a number, without end, out of range, of the wrong shape."""

import re

import numpy as np
import pytest

from tlib import thermal_expansion as expansion
from tlib.validation import OutOfRange

GAS = {"charge_pressure": 1.8e5, "top_pressure": 3.5e5}

# function: good arguments, and for each argument bad values with what the sentence says of them
CASES = {
    "expanded_fraction": (
        {"cold": 10.0, "hot": 85.0, "pressure": 3e5, "glycol": 0.0},
        {"cold": [(-1.0, "-1")], "hot": [(140.0, "would boil")], "pressure": [(4e4, "would boil")],
         "glycol": [(0.6, "0.5")]},
    ),
    "expansion_volume": (
        {"volume": 0.41, "cold": 10.0, "hot": 85.0, "pressure": 3e5, "glycol": 0.0},
        {"volume": [(-0.1, "volume must be 0 m3 or more; got -0.1")], "cold": [(-1.0, "-1")],
         "hot": [(140.0, "would boil")], "pressure": [(4e4, "would boil")], "glycol": [(0.6, "0.5")]},
    ),
    "static_pressure": (
        {"height": 5.0, "density": 1000.0},
        {"height": [(-1.0, "height must be 0 m or more")], "density": [(0.0, "density must be above 0 kg/m3")]},
    ),
    "water_reserve": ({"system_volume": 0.4}, {"system_volume": [(-0.1, "system volume must be 0 m3 or more")]}),
    "acceptance_factor": (
        {"low_pressure": 2e5, "top_pressure": 3e5},
        {"low_pressure": [(0.0, "low or charge pressure must be above 0 Pa"), (4e5, "top less low pressure must be 0")],
         "top_pressure": [(0.0, "top or system pressure must be above 0"), (1e5, "must be 0 Pa or more; got -100000")]},
    ),
    "sealed_vessel": (
        {"growth": 0.013, "reserve": 0.003, **GAS},
        {"growth": [(-0.1, "growth must be 0 m3 or more")], "reserve": [(-0.1, "reserve must be 0 m3 or more")],
         "charge_pressure": [(3.5e5, "share of the vessel that water can fill must be above 0"),
                             (4e5, "top less low pressure must be 0 Pa")],
         "top_pressure": [(1.8e5, "must be above 0; got 0"), (1e5, "top less low pressure")]},
    ),
    "solar_vessel": (
        {"growth": 0.003, "reserve": 0.003, "collector": 0.004, **GAS},
        {"growth": [(-0.001, "growth must be 0 m3 or more; got -0.001")], "reserve": [(-0.1, "reserve must be 0")],
         "collector": [(-0.1, "content of the collector must be 0 m3")],
         "charge_pressure": [(3.5e5, "must be above 0")], "top_pressure": [(1.8e5, "must be above 0")]},
    ),
    "next_stock_size": (
        {"vessel": 0.033}, {"vessel": [(0.0, "vessel must be above 0 m3"), (0.081, "vessel must be 0.08 m3 or less")]},
    ),
    "fill_pressure": (
        {"vessel": 0.05, "reserve": 0.003, "charge_pressure": 2e5},
        {"vessel": [(0.0, "vessel must be above 0"), (0.003, "room left for the vessel's gas must be above 0 m3")],
         "reserve": [(-0.1, "reserve must be 0"), (0.05, "room left for the vessel's gas")],
         "charge_pressure": [(0.0, "charge pressure must be above 0 Pa")]},
    ),
    "hot_pressure": (
        {"vessel": 0.05, "reserve": 0.003, "growth": 0.013, "charge_pressure": 2e5},
        {"vessel": [(0.015, "room left for the vessel's gas must be above 0 m3; got -0.001")],
         "reserve": [(-0.1, "reserve must be 0 m3 or more")],
         "growth": [(-0.1, "growth must be 0 m3 or more"), (0.048, "room left for the vessel's gas must be above 0")],
         "charge_pressure": [(0.0, "charge pressure must be above 0 Pa")]},
    ),
    "vessel_content": (
        {"vessel": 0.05, "charge_pressure": 1.8e5, "pressure": 2.1e5},
        {"vessel": [(0.0, "vessel must be above 0 m3")], "charge_pressure": [(2.2e5, "top less low pressure must be")],
         "pressure": [(1.7e5, "top less low pressure must be 0 Pa or more; got -10000")]},
    ),
    "relief_spill": (
        {"vessel": 0.035, "growth": 0.016, "charge_pressure": 1.8e5, "cold_pressure": 2.1e5, "relief_pressure": 4e5},
        {"vessel": [(0.0, "vessel must be above 0 m3")], "growth": [(-0.1, "growth must be 0 m3 or more")],
         "charge_pressure": [(2.2e5, "top less low pressure must be 0 Pa")],
         "cold_pressure": [(1.7e5, "top less low pressure"), (4.1e5, "room between fill and relief must be 0 m3")],
         "relief_pressure": [(2e5, "room between fill and relief must be 0 m3 or more")]},
    ),
    "flat_vessel_pressure": (
        {"vessel": 0.05, "growth": 0.013, "cold_pressure": 2.1e5, "left_pressure": 1.1e5},
        {"vessel": [(0.0, "vessel must be above 0 m3"), (0.02, "the water has nowhere to go")],
         "growth": [(-0.1, "growth must be 0 m3 or more"), (0.03, "growth must be below the gas left")],
         "cold_pressure": [(1.05e5, "top less low pressure must be 0 Pa"), (1e6, "the water has nowhere to go")],
         "left_pressure": [(1e5, "pressure left in the vessel must be 101325 Pa or more"), (2.2e5, "top less low")]},
    ),
    "cistern_allowance": ({"system_volume": 0.4}, {"system_volume": [(-0.1, "system volume must be 0 m3 or more")]}),
    "cistern_rise": (
        {"growth": 0.0177, "area": 0.24},
        {"growth": [(-0.1, "growth must be 0 m3 or more")], "area": [(0.0, "water surface must be above 0 m2")]},
    ),
    "vent_height": ({"head": 5.0}, {"head": [(-1.0, "head must be 0 m or more; got -1")]}),
    "relief_capacity": (
        {"power": 50e3, "pressure": 4e5},
        {"power": [(-1.0, "power must be 0 W or more")],
         "pressure": [(9e4, "pressure must be 100000 Pa or more"), (1.3e6, "pressure must be 1200000 Pa or less")]},
    ),
    "discharge_pipe": (
        {"outlet": "G1/2", "length": 7.0, "elbows": 4},
        {"length": [(-1.0, "length of the discharge pipe must be 0 m or more"),
                    (30.0, "discharge pipe must have a resistance of 27 m or less; got 35.6 m")],
         "elbows": [(-1, "number of elbows must be 0 or more"), (40, "got 63 m")]},
    ),
}  # fmt: skip
RANGES = [(f, name, bad, says) for f, (_, bads) in CASES.items() for name, pairs in bads.items() for bad, says in pairs]
ARGUMENTS = [(f, name) for f, (good, _) in CASES.items() for name in good if name != "outlet"]


def call(function, **changed):
    return getattr(expansion, function)(**(CASES[function][0] | changed))


@pytest.mark.parametrize("function", CASES)
def test_the_good_arguments_are_good(function):
    assert call(function) is not None


def test_every_checked_function_is_here():
    assert set(CASES) == set(expansion.__all__) - {"DischargePipe", "vessel_pressure"}


@pytest.mark.evidence(
    "error", "thermal_expansion.acceptance_factor", "thermal_expansion.cistern_allowance",
    "thermal_expansion.cistern_rise", "thermal_expansion.discharge_pipe", "thermal_expansion.expanded_fraction",
    "thermal_expansion.expansion_volume", "thermal_expansion.fill_pressure", "thermal_expansion.flat_vessel_pressure",
    "thermal_expansion.hot_pressure", "thermal_expansion.next_stock_size", "thermal_expansion.relief_capacity",
    "thermal_expansion.relief_spill", "thermal_expansion.sealed_vessel", "thermal_expansion.solar_vessel",
    "thermal_expansion.static_pressure", "thermal_expansion.vent_height", "thermal_expansion.vessel_content",
    "thermal_expansion.water_reserve",
)  # fmt: skip
@pytest.mark.parametrize(("function", "name", "bad", "says"), RANGES)
def test_out_of_range(function, name, bad, says):
    with pytest.raises(OutOfRange, match=re.escape(says)):
        call(function, **{name: bad})


@pytest.mark.parametrize("bad", [np.nan, np.inf, -np.inf])
@pytest.mark.parametrize(("function", "name"), ARGUMENTS)
def test_not_a_number_and_without_end(function, name, bad):
    with pytest.raises(OutOfRange, match=r"must be a finite number; got (nan|inf|-inf)\."):
        call(function, **{name: bad})


@pytest.mark.parametrize("bad", ["cold", None, [[1.0], [1.0, 2.0]]], ids=["text", "nothing", "ragged"])
@pytest.mark.parametrize(("function", "name"), ARGUMENTS)
def test_not_numbers_at_all(function, name, bad):
    with pytest.raises(OutOfRange, match=r"must be a (finite )?number"):
        call(function, **{name: bad})


@pytest.mark.parametrize("function", [f for f, (good, _) in CASES.items() if len(good) > 1 and f != "discharge_pipe"])
def test_rows_of_different_length(function):
    good = CASES[function][0]
    first, second = list(good)[:2]
    with pytest.raises(ValueError, match="broadcast"):
        call(function, **{first: np.full(2, good[first]), second: np.full(3, good[second])})


def test_an_outlet_that_the_table_does_not_have():
    with pytest.raises(OutOfRange, match=r"outlet of the valve must be one of G1/2, G3/4, G1; got 'G2'"):
        call("discharge_pipe", outlet="G2")


def test_a_discharge_pipe_is_one_pipe():
    with pytest.raises(OutOfRange, match="must be single numbers"):
        call("discharge_pipe", length=[7.0, 8.0])
