"""Each hydraulic function refuses what is no number, what is out of range and what does not go together, in words."""

import numpy as np
import pytest

from tlib import hydraulics
from tlib.validation import OutOfRange

PIPE = {"bore": 0.0202, "length": 10.0, "fittings": 4.0, "temperature": 60.0, "roughness": 1.5e-6}
PIPE_WORDS = {
    "bore": "bore", "length": "length", "fittings": "sum of the fittings' resistance coefficients",
    "temperature": "temperature", "roughness": "roughness",
}  # fmt: skip
PIPE_BAD = [
    ("bore", 0.0, "bore must be above 0 m"), ("bore", 1.5, "bore must be 1 m or less"),
    ("length", -1.0, "length must be 0 m or more"), ("fittings", -1.0, "coefficients must be 0"),
    ("roughness", -1e-6, "roughness must be 0 m or more"), ("roughness", 0.01, "relative roughness must be 0.05"),
    ("temperature", 105.0, "boil"), ("temperature", -5.0, "temperature must be"),
]  # fmt: skip
PUMP = {"shut_off": 4e4, "greatest_flow": 0.6}
PUMP_WORDS = {"shut_off": "pressure at no flow", "greatest_flow": "greatest flow of the pump"}
PUMP_BAD = [("shut_off", 0.0, "above 0 Pa"), ("greatest_flow", -0.1, "above 0 kg/s")]
LOOP = {"power": 1500.0, "height": 2.0, "bore": 0.0262, "length": 10.0, "fittings": 12.0, "roughness": 1.5e-6}
LOOP_WORDS = {**PIPE_WORDS, "power": "power", "height": "height"}
LOOP_BAD = [
    *(case for case in PIPE_BAD if case[0] != "temperature"), ("power", -1.0, "power must be 0 W or more"),
    ("height", 101.0, "height must be 100 m or less"),
]  # fmt: skip
FACTOR = {"reynolds": 1e5, "relative_roughness": 1e-4}
FACTOR_WORDS = {"reynolds": "Reynolds number", "relative_roughness": "relative roughness"}
FACTOR_BAD = [("reynolds", 2e8, "or less"), ("relative_roughness", 0.06, "0.05 of the bore or less")]
KV_WORDS = {"kv": "flow coefficient Kv", "density": "density"}
KV_BAD = [("kv", 0.0, "Kv must be above 0"), ("density", 0.0, "density must be above 0 kg/m3")]
BLEND = {"hot": 62.0, "cold": 10.0}
BLEND_WORDS = {"hot": "hot temperature", "cold": "cold temperature"}
BLEND_BAD = [("hot", 250.0, "200 °C or less"), ("cold", -60.0, "-40 °C or more")]

# name: (arguments that are fine, the word each sentence begins with, [(argument, value, part of the sentence)])
FUNCTIONS = {
    "bore_area": ({"bore": 0.02}, {"bore": "bore"}, PIPE_BAD[:2]),
    "tube_content": ({"bore": 0.02, "length": 3.0}, {"bore": "bore", "length": "length"}, PIPE_BAD[:3]),
    "friction_factor": (FACTOR, FACTOR_WORDS, [*FACTOR_BAD, ("reynolds", 0.0, "above 0")]),
    "haaland_friction_factor": (FACTOR, FACTOR_WORDS, [*FACTOR_BAD, ("reynolds", 2000.0, "above 2300")]),
    "swamee_jain_friction_factor": (FACTOR, FACTOR_WORDS, [*FACTOR_BAD, ("reynolds", 2000.0, "above 2300")]),
    "water_speed": (
        {"mass_flow": 0.2, "bore": 0.02, "temperature": 60.0},
        {"mass_flow": "mass flow", "bore": "bore", "temperature": "temperature"},
        [("mass_flow", 2000.0, "1000 kg/s or less"), *PIPE_BAD[:2], *PIPE_BAD[-2:]],
    ),
    "reynolds_number": (
        {"mass_flow": 0.2, "bore": 0.02, "temperature": 60.0},
        {"mass_flow": "mass flow", "bore": "bore", "temperature": "temperature"},
        [("mass_flow", -2000.0, "-1000 kg/s or more"), *PIPE_BAD[:2], *PIPE_BAD[-2:]],
    ),
    "pressure_drop": (
        {"mass_flow": 0.2, **PIPE}, {"mass_flow": "mass flow", **PIPE_WORDS},
        [("mass_flow", 2000.0, "1000 kg/s or less"), *PIPE_BAD],
    ),
    "flow_at_drop": (
        {"drop": 500.0, **PIPE}, {"drop": "pressure difference", **PIPE_WORDS},
        [("drop", 2e7, "or less"), *PIPE_BAD],
    ),
    "valve_drop": (
        {"volume_flow": 1e-4, "kv": 2.5, "density": 980.0}, {"volume_flow": "volume flow", **KV_WORDS},
        [("volume_flow", 11.0, "10 m3/s or less"), *KV_BAD],
    ),
    "valve_flow": (
        {"drop": 1e4, "kv": 2.5, "density": 980.0}, {"drop": "pressure difference", **KV_WORDS},
        [("drop", -2e8, "or more"), *KV_BAD],
    ),
    "valve_coefficient": (
        {"volume_flow": 1e-4, "drop": 1e4, "density": 980.0},
        {"volume_flow": "volume flow", "drop": "pressure drop", "density": "density"},
        [("volume_flow", 0.0, "above 0 m3/s"), ("drop", 0.0, "above 0 Pa"), KV_BAD[1]],
    ),
    "valve_resistance": (
        {"kv": 2.5, "bore": 0.02}, {"kv": "flow coefficient Kv", "bore": "bore"}, [KV_BAD[0], *PIPE_BAD[:2]],
    ),
    "surface_tension": (
        {"temperature": 60.0}, {"temperature": "temperature"}, [("temperature", 371.0, "370 °C or less")],
    ),
    "self_venting_speed": (
        {"bore": 0.02, "temperature": 60.0}, {"bore": "bore", "temperature": "temperature"},
        [("bore", 0.005, "0.006 m or more"), ("bore", 0.4, "0.3 m or less"), *PIPE_BAD[-2:]],
    ),
    "pump_pressure": (
        {"mass_flow": 0.2, **PUMP}, {"mass_flow": "mass flow", **PUMP_WORDS},
        [("mass_flow", -0.1, "0 kg/s or more"), ("mass_flow", 0.7, "over the greatest flow must be 1"), *PUMP_BAD],
    ),
    "operating_flow": (
        {"resistance": 2e5, **PUMP}, {"resistance": "resistance of the circuit", **PUMP_WORDS},
        [("resistance", -1.0, "0 Pa s2/kg2 or more"), *PUMP_BAD],
    ),
    "pump_flow": ({**PUMP, **PIPE}, {**PUMP_WORDS, **PIPE_WORDS}, [*PUMP_BAD, *PIPE_BAD]),
    "pump_power": (
        {"volume_flow": 1e-4, "pressure": 3e4, "efficiency": 0.3},
        {"volume_flow": "volume flow", "pressure": "pressure of the pump", "efficiency": "efficiency"},
        [("volume_flow", -1.0, "0 m3/s or more"), ("pressure", -1.0, "0 Pa or more"), ("efficiency", 1.1, "1"),
         ("efficiency", 0.0, "above 0")],
    ),
    "flow_for_power": (
        {"power": 1e4, "difference": 15.0}, {"power": "power", "difference": "temperature difference"},
        [("power", -1.0, "0 W or more"), ("difference", 0.0, "above 0 K")],
    ),
    "gravity_head": (
        {"flow_temperature": 80.0, "return_temperature": 60.0, "height": 2.0},
        {"flow_temperature": "flow temperature", "return_temperature": "return temperature", "height": "height"},
        [("flow_temperature", 101.0, "99.9 °C or less"), ("return_temperature", -1.0, "0.01 °C or more"), LOOP_BAD[-1]],
    ),
    "gravity_flow": (
        {"return_temperature": 70.0, **LOOP}, {"return_temperature": "return temperature", **LOOP_WORDS},
        [("return_temperature", 96.0, "95 °C or less"), ("return_temperature", 3.0, "4 °C or more"), *LOOP_BAD],
    ),
    "gravity_flow_from": (
        {"flow_temperature": 80.0, **LOOP}, {"flow_temperature": "flow temperature", **LOOP_WORDS},
        [("flow_temperature", 101.0, "99.9 °C or less"), ("flow_temperature", 9.0, "10 °C or more"), *LOOP_BAD],
    ),
    "gravity_flow_at_constant_resistance": (
        {"power": 1500.0, "height": 2.5, "bore": 0.0254, "resistance": 60.0, "expansion": 5e-4, "density": 985.0},
        {"power": "power", "height": "height", "bore": "bore", "resistance": "sum of the resistance coefficients",
         "expansion": "expansion coefficient", "density": "density"},
        [("power", -1.0, "0 W or more"), ("height", -1.0, "0 m or more"), ("bore", 0.0, "above 0 m"),
         ("resistance", 0.0, "above 0"), ("expansion", 0.0, "above 0"), ("expansion", 0.1, "0.001 1/K or less"),
         KV_BAD[1]],
    ),
    "hot_share": (
        {**BLEND, "mixed": 48.0}, {**BLEND_WORDS, "mixed": "mixed temperature"},
        [*BLEND_BAD, ("cold", 62.0, "hot temperature less cold temperature must be above 0 K"),
         ("mixed", 9.0, "mixed temperature less cold temperature must be 0 K or more"),
         ("mixed", 63.0, "hot temperature less mixed temperature must be 0 K or more")],
    ),
    "mixed_temperature": (
        {**BLEND, "share": 0.4}, {**BLEND_WORDS, "share": "share of hot water"},
        [*BLEND_BAD, ("share", 1.1, "1 of the mixture or less"), ("share", -0.1, "0 of the mixture or more")],
    ),
    "valve_share": (
        {**BLEND, "wanted": 48.0}, {**BLEND_WORDS, "wanted": "valve setting"},
        [*BLEND_BAD, ("wanted", 101.0, "100 °C or less")],
    ),
    "valve_opening": (
        {"temperature": 65.0, "opens": 60.0, "band": 10.0},
        {"temperature": "element temperature", "opens": "opening temperature", "band": "band of the valve"},
        [("temperature", 250.0, "200 °C or less"), ("opens", 101.0, "100 °C or less"), ("band", 0.0, "above 0 K")],
    ),
}  # fmt: skip
ARGUMENTS = [(name, argument) for name, (fine, _, _) in FUNCTIONS.items() for argument in fine]
BAD = [(name, *case) for name, (_, _, cases) in FUNCTIONS.items() for case in cases]
SHAPED = [name for name, (fine, _, _) in FUNCTIONS.items() if len(fine) > 1]


@pytest.mark.evidence(
    "error", "hydraulics.bore_area", "hydraulics.tube_content", "hydraulics.friction_factor",
    "hydraulics.haaland_friction_factor", "hydraulics.swamee_jain_friction_factor", "hydraulics.water_speed",
    "hydraulics.reynolds_number", "hydraulics.pressure_drop", "hydraulics.flow_at_drop", "hydraulics.valve_drop",
    "hydraulics.valve_flow", "hydraulics.valve_coefficient", "hydraulics.valve_resistance",
    "hydraulics.surface_tension", "hydraulics.self_venting_speed", "hydraulics.pump_pressure",
    "hydraulics.operating_flow", "hydraulics.pump_flow",
    "hydraulics.pump_power", "hydraulics.flow_for_power", "hydraulics.gravity_head", "hydraulics.gravity_flow",
    "hydraulics.gravity_flow_from", "hydraulics.gravity_flow_at_constant_resistance", "hydraulics.hot_share",
    "hydraulics.mixed_temperature", "hydraulics.valve_share", "hydraulics.valve_opening",
)  # fmt: skip
@pytest.mark.parametrize(("name", "argument", "value", "says"), BAD)
def test_out_of_range_is_refused_in_words(name, argument, value, says):
    fine = FUNCTIONS[name][0]
    with pytest.raises(OutOfRange, match=says):
        getattr(hydraulics, name)(**{**fine, argument: value})


@pytest.mark.parametrize("bad", [np.nan, np.inf, -np.inf, "warm"])
@pytest.mark.parametrize(("name", "argument"), ARGUMENTS)
def test_what_is_no_finite_number_is_refused_by_name(name, argument, bad):
    fine, words, _ = FUNCTIONS[name]
    with pytest.raises(OutOfRange, match=rf"^{words[argument]}.* must be a .*number"):
        getattr(hydraulics, name)(**{**fine, argument: bad})


@pytest.mark.parametrize("name", SHAPED)
def test_shapes_that_do_not_go_together_are_refused(name):
    fine = FUNCTIONS[name][0]
    first, second = list(fine)[:2]
    lists = {first: [fine[first]] * 2, second: [fine[second]] * 3}
    with pytest.raises(ValueError, match="broadcast"):
        getattr(hydraulics, name)(**{**fine, **lists})


@pytest.mark.parametrize("name", list(FUNCTIONS))
def test_a_bad_element_is_named_with_its_place_and_good_ones_broadcast(name):
    fine, _, cases = FUNCTIONS[name]
    argument, value, _ = next(case for case in cases if case[0] == next(iter(dict.fromkeys(c[0] for c in cases))))
    with pytest.raises(OutOfRange, match="at place 1"):
        getattr(hydraulics, name)(**{**fine, argument: [fine[argument], value]})
    pair = getattr(hydraulics, name)(**{**fine, argument: [fine[argument]] * 2})
    alone = getattr(hydraulics, name)(**fine)
    assert np.shape(pair) == (2,)
    assert np.ndim(alone) == 0
    assert pair == pytest.approx([alone, alone], rel=1e-14)


@pytest.mark.evidence("error", "hydraulics.copper_tube")
@pytest.mark.parametrize("name", ["25 mm", "28 x 3 mm", "", None, 25, float("nan")])
def test_an_unknown_tube_is_refused_with_those_that_are_known(name):
    with pytest.raises(OutOfRange, match=r"copper tube must be one of 8 x 0\.6 mm, 8 mm, .*28 mm.*; got"):
        hydraulics.copper_tube(name)


@pytest.mark.evidence("error", "hydraulics.fittings_resistance")
def test_an_unknown_fitting_or_a_count_that_is_none_is_refused():
    with pytest.raises(OutOfRange, match=r"fitting must be one of elbow, .*; got 'knee'"):
        hydraulics.fittings_resistance({"knee": 2})
    with pytest.raises(OutOfRange, match=r"number of fittings \(elbow\) must be 0 pieces or more; got -1"):
        hydraulics.fittings_resistance({"elbow": -1})
    with pytest.raises(OutOfRange, match=r"number of fittings \(elbow\) must be a finite number"):
        hydraulics.fittings_resistance({"elbow": float("nan")})


@pytest.mark.evidence("error", "hydraulics.branch_flows")
def test_branches_that_do_not_go_together_are_refused():
    with pytest.raises(OutOfRange, match="one entry for each branch"):
        hydraulics.branch_flows(0.3, [0.02, 0.02], [1.0, 2.0, 3.0])
    with pytest.raises(OutOfRange, match="branches must be one list"):
        hydraulics.branch_flows(0.3, 0.02, 10.0)
    with pytest.raises(OutOfRange, match="one number for all"):
        hydraulics.branch_flows([0.3, 0.4], [0.02, 0.02], 10.0)
    with pytest.raises(OutOfRange, match="length over bore plus fittings must be above 0"):
        hydraulics.branch_flows(0.3, [0.02, 0.02], [10.0, 0.0])


@pytest.mark.evidence("error", "hydraulics.branch_flows")
@pytest.mark.parametrize(
    ("argument", "value", "says"),
    [("mass_flow", np.nan, "mass flow must be a finite"), ("mass_flow", 0.0, "mass flow must be above 0"),
     ("bores", [0.02, np.inf], "bore must be a finite"), ("bores", [0.02, 0.0], "bore must be above 0"),
     ("lengths", [1.0, -1.0], "length must be 0"), ("fittings", [0.0, -1.0], "coefficients must be 0"),
     ("temperature", np.nan, "temperature must be a finite"), ("roughness", np.inf, "roughness must be a finite")],
)  # fmt: skip
def test_a_bad_branch_is_refused_in_words(argument, value, says):
    fine = {"mass_flow": 0.3, "bores": [0.02, 0.02], "lengths": [10.0, 20.0], "fittings": [2.0, 2.0]}
    with pytest.raises(OutOfRange, match=says):
        hydraulics.branch_flows(**{**fine, argument: value})


@pytest.mark.parametrize("function", [hydraulics.flow_at_drop, hydraulics.gravity_flow, hydraulics.gravity_flow_from])
def test_a_circuit_without_any_resistance_has_no_flow_to_find(function):
    first = {"flow_at_drop": [500.0], "gravity_flow": [1500.0, 70.0, 2.0], "gravity_flow_from": [1500.0, 80.0, 2.0]}
    with pytest.raises(OutOfRange, match="length over bore plus fittings must be above 0"):
        function(*first[function.__name__], 0.02, 0.0, 0.0)


def test_more_power_than_gravity_carries_is_refused_before_it_boils_or_runs_cold():
    with pytest.raises(OutOfRange, match="power must be what gravity carries before the water boils"):
        hydraulics.gravity_flow([1500.0, 20e3], 80.0, 0.5, 0.0136, 20.0, 20.0)
    with pytest.raises(OutOfRange, match="before the water comes back at 4 °C"):
        hydraulics.gravity_flow_from(20e3, 80.0, 0.5, 0.0136, 20.0, 20.0)
