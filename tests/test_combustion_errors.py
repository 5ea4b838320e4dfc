"""Combustion refuses what is no number, what is out of range and what does not go together, in words."""

import numpy as np
import pytest

from tlib import combustion
from tlib.validation import OutOfRange

MOISTURE_BAD = [("moisture", -0.1, "moisture must be 0"), ("moisture", 0.8, "moisture must be 0.7")]
AIR_BAD = [("air_ratio", 0.9, "air ratio must be 1"), ("air_ratio", 25.0, "air ratio must be 20")]
FIRE = {"moisture": 0.2, "air_ratio": 1.5}
FIRE_WORDS = {"moisture": "moisture", "air_ratio": "air ratio"}
SHARES = {"moisture": 0.2, "efficiency": 0.75, "share": 0.65}
SHARES_WORDS = {"moisture": "moisture", "efficiency": "efficiency", "share": "share to water"}
SHARES_BAD = [
    *MOISTURE_BAD, ("efficiency", 0.0, "efficiency must be above 0"), ("efficiency", 1.1, "efficiency must be 1"),
    ("share", 0.0, "share to water must be above 0"), ("share", 1.1, "share to water must be 1"),
]  # fmt: skip
EMBERS = {"shape": 1.8, "embers": 0.3, "slower": 2.0}
EMBERS_WORDS = {"shape": "shape of the burn", "embers": "share of the embers", "slower": "slowness of the embers"}
EMBERS_BAD = [
    ("shape", 0.5, "burn must be 1"), ("shape", 5.0, "burn must be 4"), ("embers", -0.1, "embers must be 0"),
    ("embers", 1.1, "embers must be 1"), ("slower", 0.9, "embers must be 1"), ("slower", 11.0, "embers must be 10"),
]  # fmt: skip
AROUND = {"pressure": 101325.0, "air_humidity": 0.005}
AROUND_WORDS = {"pressure": "pressure of the flue gas", "air_humidity": "humidity of the air"}
AROUND_BAD = [("pressure", 0.0, "above 0 Pa"), ("air_humidity", -0.1, "humidity of the air must be 0"),
              ("air_humidity", 0.06, "humidity of the air must be 0.05")]  # fmt: skip

# name: (fuel or None, arguments that are fine, the word each sentence begins with, [(argument, value, part of it)])
FUNCTIONS = {
    "net_calorific_value": (
        None, {"moisture": 0.2, "dry": 19e6, "latent": 2.44e6},
        {"moisture": "moisture", "dry": "dry net calorific value", "latent": "latent heat"},
        [*MOISTURE_BAD, ("dry", 0.0, "above 0 J/kg"), ("latent", -1.0, "0 J/kg or more")],
    ),
    "net_from_gross": (
        None, {"gross": 20.3e6, "hydrogen": 0.06, "moisture": 0.2, "latent": 2.44e6},
        {"gross": "gross calorific value", "hydrogen": "hydrogen", "moisture": "moisture", "latent": "latent heat"},
        [("gross", 0.0, "above 0 J/kg"), ("hydrogen", 1.1, "hydrogen must be 1"), ("hydrogen", -0.1, "must be 0"),
         *MOISTURE_BAD, ("latent", -1.0, "0 J/kg or more")],
    ),
    "moisture_dry_basis": (
        None, {"wet_basis": 0.2}, {"wet_basis": "moisture"},
        [("wet_basis", 1.0, "below 1"), ("wet_basis", -0.1, "be 0")],
    ),
    "moisture_wet_basis": (
        None, {"dry_basis": 0.25}, {"dry_basis": "moisture"}, [("dry_basis", -0.1, "moisture must be 0")],
    ),
    "burnt_share": (
        None, {"age": 1800.0, "time_scale": 2700.0, "shape": 1.8},
        {"age": "age of the fire", "time_scale": "time scale", "shape": "shape of the burn"},
        [("age", -1.0, "0 s or more"), ("time_scale", 0.0, "above 0 s"), ("shape", 0.5, "burn must be 1"),
         ("shape", 5.0, "burn must be 4")],
    ),
    "time_scale": (
        None, {"burn_time": 10800.0, "shape": 1.8}, {"burn_time": "burn time", "shape": "shape of the burn"},
        [("burn_time", 0.0, "above 0 s"), ("shape", 0.5, "burn must be 1"), ("shape", 5.0, "burn must be 4")],
    ),
    "burnt_share_with_embers": (
        None, {"age": 1800.0, "time_scale": 2700.0, **EMBERS},
        {"age": "age of the fire", "time_scale": "time scale", **EMBERS_WORDS},
        [("age", -1.0, "0 s or more"), ("time_scale", 0.0, "above 0 s"), *EMBERS_BAD],
    ),
    "time_scale_with_embers": (
        None, {"burn_time": 10800.0, **EMBERS}, {"burn_time": "burn time", **EMBERS_WORDS},
        [("burn_time", 0.0, "above 0 s"), *EMBERS_BAD],
    ),
    "buffer_volume": (
        None, {"burn_time": 7200.0, "rated": 32e3, "house": 25e3, "turn_down": 32e3},
        {"burn_time": "burn time", "rated": "rated output", "house": "heat load of the house",
         "turn_down": "least output"},
        [("burn_time", 0.0, "above 0 s"), ("rated", 0.0, "above 0 W"), ("house", -1.0, "0 W or more"),
         ("turn_down", 0.0, "above 0 W"), ("turn_down", 40e3, "least output as a share of the rated output must be 1"),
         ("house", 110e3, "0.3 times the heat load of the house over the least output must be 1")],
    ),
    "buffer_by_rating": (
        None, {"rated": 10e3, "litres_each": 55.0},
        {"rated": "rated output", "litres_each": "litres for each kilowatt"},
        [("rated", 0.0, "above 0 W"), ("litres_each", 0.0, "above 0 l/kW")],
    ),
    "heat_to_water": (
        None, {"mass": 8.0, **SHARES}, {"mass": "mass of logs", **SHARES_WORDS},
        [("mass", -1.0, "0 kg or more"), *SHARES_BAD],
    ),
    "logs_for_heat": (
        None, {"heat": 4e7, **SHARES}, {"heat": "heat wanted in the water", **SHARES_WORDS},
        [("heat", -1.0, "0 J or more"), *SHARES_BAD],
    ),
    "fuel_mass": (
        "wood", {"fuel_heat": 1e9, "moisture": 0.2}, {"fuel_heat": "heat in the fuel", "moisture": "moisture"},
        [("fuel_heat", -1.0, "0 J or more"), *MOISTURE_BAD],
    ),
    "fuel_volume": (
        "heating oil", {"fuel_heat": 1e9}, {"fuel_heat": "heat in the fuel"}, [("fuel_heat", -1.0, "0 J or more")],
    ),
    "carbon_emitted": (
        "wood", {"fuel_heat": 1e9}, {"fuel_heat": "heat in the fuel"}, [("fuel_heat", -1.0, "0 J or more")],
    ),
    "flue_carbon_dioxide": ("wood", {"air_ratio": 1.5}, {"air_ratio": "air ratio"}, AIR_BAD),
    "flue_dew_point": (
        "wood", {**FIRE, **AROUND}, {**FIRE_WORDS, **AROUND_WORDS}, [*MOISTURE_BAD, *AIR_BAD, *AROUND_BAD],
    ),
    "condensed_share": (
        "wood", {**FIRE, "gas_temperature": 40.0, **AROUND},
        {**FIRE_WORDS, "gas_temperature": "temperature of the leaving gas", **AROUND_WORDS},
        [*MOISTURE_BAD, *AIR_BAD, *AROUND_BAD, ("gas_temperature", -1.0, "0.01 °C or more"),
         ("gas_temperature", 101.0, "saturation pressure over the pressure of the gas must be below 1")],
    ),
    "flue_loss": (
        "wood", {**FIRE, "gas_temperature": 200.0, "air_temperature": 20.0},
        {**FIRE_WORDS, "gas_temperature": "temperature of the leaving gas",
         "air_temperature": "temperature of the air"},
        [*MOISTURE_BAD, *AIR_BAD, ("gas_temperature", 501.0, "500 °C or less"),
         ("air_temperature", 61.0, "60 °C or less")],
    ),
    "condensing_gain": (
        "natural gas", {"return_temperature": 40.0, "air_ratio": 1.2, "approach": 5.0},
        {"return_temperature": "return temperature", "air_ratio": "air ratio", "approach": "approach of gas to water"},
        [("return_temperature", 91.0, "90 °C or less"), *AIR_BAD, ("approach", -1.0, "0 K or more"),
         ("approach", 51.0, "50 K or less")],
    ),
    "boiler_efficiency": (
        None, {"return_temperature": 40.0, "dry": 0.88, "gain": 0.004, "dew_point": 55.0, "greatest": 0.97},
        {"return_temperature": "return temperature", "dry": "efficiency without condensing",
         "gain": "gain for each kelvin", "dew_point": "dew point", "greatest": "greatest efficiency"},
        [("return_temperature", 111.0, "110 °C or less"), ("dry", 0.0, "above 0"), ("dry", 1.1, "must be 1"),
         ("gain", 0.03, "0.02 1/K or less"), ("gain", -0.1, "0 1/K or more"), ("dew_point", 101.0, "100 °C or less"),
         ("greatest", 1.1, "must be 1")],
    ),
}  # fmt: skip
ARGUMENTS = [(name, argument) for name, (_, fine, _, _) in FUNCTIONS.items() for argument in fine]
BAD = [(name, *case) for name, (_, _, _, cases) in FUNCTIONS.items() for case in cases]


def call(name, **changed):
    fuel, fine, _, _ = FUNCTIONS[name]
    return getattr(combustion, name)(*([fuel] if fuel else []), **{**fine, **changed})


@pytest.mark.evidence(
    "error", "combustion.net_calorific_value", "combustion.net_from_gross", "combustion.moisture_dry_basis",
    "combustion.moisture_wet_basis", "combustion.burnt_share", "combustion.time_scale", "combustion.buffer_volume",
    "combustion.buffer_by_rating", "combustion.heat_to_water", "combustion.logs_for_heat", "combustion.fuel_mass",
    "combustion.fuel_volume", "combustion.carbon_emitted", "combustion.flue_carbon_dioxide",
    "combustion.flue_dew_point", "combustion.condensed_share", "combustion.flue_loss",
    "combustion.condensing_gain", "combustion.boiler_efficiency", "combustion.burnt_share_with_embers",
    "combustion.time_scale_with_embers",
)  # fmt: skip
@pytest.mark.parametrize(("name", "argument", "value", "says"), BAD)
def test_out_of_range_is_refused_in_words(name, argument, value, says):
    with pytest.raises(OutOfRange, match=says):
        call(name, **{argument: value})


@pytest.mark.parametrize("bad", [np.nan, np.inf, -np.inf, "dry"])
@pytest.mark.parametrize(("name", "argument"), ARGUMENTS)
def test_what_is_no_finite_number_is_refused_by_name(name, argument, bad):
    words = FUNCTIONS[name][2]
    with pytest.raises(OutOfRange, match=rf"^{words[argument]}.* must be a .*number"):
        call(name, **{argument: bad})


@pytest.mark.parametrize("name", [name for name, (_, fine, _, _) in FUNCTIONS.items() if len(fine) > 1])
def test_shapes_that_do_not_go_together_are_refused(name):
    fine = FUNCTIONS[name][1]
    first, second = list(fine)[:2]
    with pytest.raises(ValueError, match="broadcast"):
        call(name, **{first: [fine[first]] * 2, second: [fine[second]] * 3})


@pytest.mark.parametrize("name", list(FUNCTIONS))
def test_a_bad_element_is_named_with_its_place_and_good_ones_broadcast(name):
    argument, value, _ = FUNCTIONS[name][3][0]
    good = FUNCTIONS[name][1][argument]
    with pytest.raises(OutOfRange, match="at place 1"):
        call(name, **{argument: [good, value]})
    pair, alone = call(name, **{argument: [good] * 2}), call(name)
    assert np.shape(pair) == (2,)
    assert np.ndim(alone) == 0
    assert pair == pytest.approx([alone, alone], rel=1e-14)


@pytest.mark.evidence(
    "error", "combustion.fuel_record", "combustion.air_demand", "combustion.fuel_mass", "combustion.fuel_volume",
    "combustion.carbon_emitted", "combustion.flue_dew_point", "combustion.flue_carbon_dioxide",
)  # fmt: skip
def test_an_unknown_fuel_is_refused_with_those_that_are_known():
    for use in (
        combustion.fuel_record, combustion.air_demand, lambda fuel: combustion.fuel_mass(fuel, 1.0),
        lambda fuel: combustion.fuel_volume(fuel, 1.0), lambda fuel: combustion.carbon_emitted(fuel, 1.0),
        lambda fuel: combustion.flue_dew_point(fuel, 0.0, 1.5), lambda fuel: combustion.flue_carbon_dioxide(fuel, 1.5),
    ):  # fmt: skip
        with pytest.raises(OutOfRange, match=r"fuel must be one of wood, natural gas, .*; got 'peat'"):
            use("peat")


def test_what_does_not_burn_has_no_flue_gas_no_mass_and_no_volume():
    for use in (
        lambda: combustion.air_demand("grid electricity"), lambda: combustion.fuel_mass("grid electricity", 1.0),
        lambda: combustion.flue_dew_point("grid electricity", 0.0, 1.5),
    ):  # fmt: skip
        with pytest.raises(OutOfRange, match="fuel must be one that burns; got 'grid electricity'"):
            use()
    with pytest.raises(OutOfRange, match="fuel must be one that is sold by volume; got 'wood'"):
        combustion.fuel_volume("wood", 1.0)


def test_gas_and_oil_have_no_moisture():
    with pytest.raises(OutOfRange, match=r"moisture of natural gas must be 0 .* or less; got 0\.2"):
        combustion.flue_dew_point("natural gas", 0.2, 1.2)


def test_a_carbon_factor_must_be_named_and_known():
    with pytest.raises(OutOfRange, match="carbon factor must be one of rating, reporting; got 'mine'"):
        combustion.carbon_emitted("wood", 1.0, "mine")
    with pytest.raises(OutOfRange, match="reporting factor of grid electricity in the table must be a finite number"):
        combustion.carbon_emitted("grid electricity", 1.0, "reporting")


def test_condensing_needs_a_gross_value_above_the_net_one():
    with pytest.raises(OutOfRange, match="gross calorific value must be the net one or more"):
        combustion.condensing_gain(combustion.Fuel("gas", 0.75, 0.25, net=50e6, gross=40e6), 30.0)
