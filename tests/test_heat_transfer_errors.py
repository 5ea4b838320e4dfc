"""What heat_transfer refuses, and in which words: not a number, without end, out of range, of the wrong shape."""

import re

import numpy as np
import pytest

from tlib import heat_transfer as heat
from tlib.heat_transfer import Coil
from tlib.validation import OutOfRange

COIL = Coil(length=18.0, bore=0.020, outside=0.022, diameter=0.45)
SHELL = {"insulation": 0.05, "conductivity": 0.028, "outside_film": 8.0}
FILM = {"conductivity": 384.0, "outside_film": 10.0}
REGIME = {"flow_temperature": 75.0, "return_temperature": 65.0, "room": 20.0}

# function: good arguments, and for each argument bad values with what the sentence says of them
CASES = {
    "log_mean_difference": (
        {"hot_in": 80.0, "hot_out": 60.0, "cold_in": 10.0, "cold_out": 50.0},
        {
            "hot_in": [(201.0, "hot inlet must be 200 °C or less"), (45.0, "hot inlet and cold outlet must be 0 K")],
            "hot_out": [(-41.0, "hot outlet must be -40 °C or more"), (5.0, "hot outlet and cold inlet must be 0 K")],
            "cold_in": [(-41.0, "cold inlet must be -40 °C or more"), (61.0, "got -1")],
            "cold_out": [(201.0, "cold outlet must be 200 °C or less"), (81.0, "got -1")],
        },
    ),
    "coil_effectiveness": (
        {"ua": 900.0, "capacity_rate": 700.0},
        {"ua": [(-1.0, "conductance must be 0 W/K or more; got -1")],
         "capacity_rate": [(0.0, "capacity rate of the flow must be above 0 W/K")]},
    ),
    "coil_outlet": (
        {"store": 75.0, "inlet": 10.0, "ua": 900.0, "capacity_rate": 700.0},
        {"store": [(201.0, "store temperature must be 200 °C or less")],
         "inlet": [(-41.0, "inlet temperature must be -40 °C or more")],
         "ua": [(-1.0, "conductance must be 0 W/K or more")],
         "capacity_rate": [(0.0, "capacity rate of the flow must be above 0")]},
    ),
    "coil_profile": (
        {"layers": [40.0, 60.0], "inlet": 10.0, "conductances": [300.0, 300.0], "capacity_rate": 700.0},
        {"layers": [([40.0, 201.0], "layer temperature must be 200 °C or less; got 201 at place 1"),
                    ([40.0], "two rows of one length"), (40.0, "two rows of one length")],
         "inlet": [(-41.0, "inlet temperature must be -40 °C or more"), ([10.0], "single numbers; got shapes")],
         "conductances": [([-1.0, 2.0], "conductance must be 0 W/K or more; got -1 at place 0")],
         "capacity_rate": [(0.0, "must be above 0 W/K"), ([700.0], "single numbers")]},
    ),
    "counterflow_effectiveness": (
        {"ua": 900.0, "hot_rate": 700.0, "cold_rate": 800.0},
        {"ua": [(-1.0, "conductance must be 0 W/K or more")],
         "hot_rate": [(0.0, "capacity rate of the flow must be above 0")],
         "cold_rate": [(0.0, "capacity rate of the cold flow must be above 0")]},
    ),
    "nusselt_in_tube": (
        {"reynolds": 1e4, "prandtl": 5.0},
        {"reynolds": [(-1.0, "Reynolds number must be 0"), (5.1e6, "Reynolds number must be 5000000 or less")],
         "prandtl": [(0.4, "Prandtl number must be 0.5"), (2001.0, "Prandtl number must be 2000")]},
    ),
    "nusselt_gnielinski": (
        {"reynolds": 1e4, "prandtl": 5.0, "friction": 0.03},
        {"reynolds": [(2299.0, "Reynolds number must be 2300"), (5.1e6, "must be 5000000")],
         "prandtl": [(0.4, "Prandtl number must be 0.5"), (2001.0, "Prandtl number must be 2000")],
         "friction": [(0.0, "friction factor must be above 0"), (0.11, "friction factor must be 0.1")]},
    ),
    "nusselt_dittus_boelter": (
        {"reynolds": 2e4, "prandtl": 5.0, "exponent": 0.4},
        {"reynolds": [(9999.0, "must be 10000"), (1.3e6, "must be 1200000")],
         "prandtl": [(0.5, "must be 0.6"), (161.0, "must be 160")],
         "exponent": [(0.2, "exponent must be 0.3"), (0.5, "exponent must be 0.4")]},
    ),
    "critical_reynolds_in_helix": (
        {"bore": 0.02, "coil_diameter": 0.45},
        {"bore": [(0.0, "bore must be above 0 m"), (0.2, "bore over coil diameter must be 0.25")],
         "coil_diameter": [(0.0, "coil diameter must be above 0 m"), (0.07, "must be 0.25 or less")]},
    ),
    "nusselt_in_helix": (
        {"reynolds": 1e4, "prandtl": 5.0, "bore": 0.02, "coil_diameter": 0.45},
        {"reynolds": [(-1.0, "Reynolds number must be 0"), (2e5, "Reynolds number must be 150000")],
         "prandtl": [(0.4, "must be 0.5"), (2001.0, "must be 2000")],
         "bore": [(0.0, "bore must be above 0 m"), (0.2, "must be 0.25")],
         "coil_diameter": [(0.0, "coil diameter must be above 0 m")]},
    ),
    "nusselt_outside_cylinder": (
        {"rayleigh": 1e6, "prandtl": 4.0},
        {"rayleigh": [(1e-6, "Rayleigh number must be 1e-05"), (2e12, "Rayleigh number must be 1e+12")],
         "prandtl": [(0.0, "Prandtl number must be above 0")]},
    ),
    "nusselt_vertical_wall": (
        {"rayleigh": 1e6, "prandtl": 4.0},
        {"rayleigh": [(1e-6, "must be 1e-05"), (2e12, "must be 1e+12")], "prandtl": [(0.0, "must be above 0")]},
    ),
    "radiative_coefficient": (
        {"surface": 30.0, "surroundings": 20.0, "emissivity": 0.9},
        {"surface": [(-51.0, "surface temperature must be -50"), (251.0, "must be 250")],
         "surroundings": [(-51.0, "temperature of the surroundings must be -50"), (251.0, "must be 250")],
         "emissivity": [(-0.1, "emissivity must be 0"), (1.1, "emissivity must be 1 or less")]},
    ),
    "still_air_film": (
        {"surface": 30.0, "air": 20.0, "height": 1.3, "emissivity": 0.9},
        {"surface": [(251.0, "surface temperature must be 250")], "air": [(-51.0, "surroundings must be -50")],
         "height": [(0.0, "height or diameter must be above 0"), (11.0, "must be 10 m or less")],
         "emissivity": [(1.1, "emissivity must be 1")]},
    ),
    "still_air_pipe_film": (
        {"surface": 60.0, "air": 20.0, "diameter": 0.022, "emissivity": 0.9},
        {"surface": [(251.0, "surface temperature must be 250")], "air": [(-51.0, "surroundings must be -50")],
         "diameter": [(0.0, "height or diameter must be above 0"), (11.0, "must be 10 m or less")],
         "emissivity": [(1.1, "emissivity must be 1")]},
    ),
    "tube_conductance": (
        {"length": 15.0, "bore": 0.04, "outside": 0.046, "inside_film": 120.0, "fouling": 0.0, **FILM},
        {"length": [(0.0, "length must be above 0 m")],
         "bore": [(0.0, "bore must be above 0"), (0.05, "outside diameter less bore must be above 0")],
         "outside": [(0.0, "outside diameter must be above 0"), (0.04, "less bore must be above 0 m; got 0")],
         "inside_film": [(0.0, "inside film must be above 0")], "fouling": [(-1e-9, "fouling resistance must be 0")],
         "conductivity": [(0.0, "conductivity of the wall must be above 0")],
         "outside_film": [(0.0, "outside film must be above 0")]},
    ),
    "fouled_conductance": (
        {"ua": 900.0, "area": 1.1, "fouling": 1e-4},
        {"ua": [(0.0, "clean conductance must be above 0")], "area": [(0.0, "area must be above 0 m2")],
         "fouling": [(-1e-9, "fouling resistance must be 0")]},
    ),
    "cylinder_loss_coefficient": (
        {"diameter": 0.55, "length": 1.26, **SHELL},
        {"diameter": [(0.0, "diameter must be above 0")], "length": [(0.0, "height or length must be above 0")],
         "insulation": [(-0.01, "thickness of the insulation must be 0")],
         "conductivity": [(0.0, "conductivity of the insulation must be above 0")],
         "outside_film": [(0.0, "outside film must be above 0")]},
    ),
    "end_loss_coefficient": (
        {"diameter": 0.55, **SHELL},
        {"diameter": [(0.0, "diameter must be above 0")],
         "insulation": [(-0.01, "thickness of the insulation must be 0")],
         "conductivity": [(0.0, "conductivity of the insulation must be above 0")],
         "outside_film": [(0.0, "outside film must be above 0")]},
    ),
    "store_loss_coefficient": (
        {"diameter": 0.55, "height": 1.26, **SHELL},
        {"diameter": [(0.0, "diameter must be above 0")], "height": [(0.0, "height or length must be above 0")],
         "insulation": [(-0.01, "thickness of the insulation must be 0")],
         "conductivity": [(0.0, "conductivity of the insulation must be above 0")],
         "outside_film": [(0.0, "outside film must be above 0")]},
    ),
    "exposed_pipe_loss_coefficient": (
        {"length": 0.3, "outside": 0.022, "bore": 0.0202, **FILM},
        {"length": [(0.0, "length must be above 0")], "outside": [(0.0, "outside diameter must be above 0")],
         "bore": [(-0.001, "bore must be 0 m or more"), (0.022, "less bore must be above 0")],
         "conductivity": [(0.0, "conductivity of the metal must be above 0")],
         "outside_film": [(0.0, "outside film must be above 0")]},
    ),
    "stored_heat": (
        {"volume": 0.3, "rise": 40.0},
        {"volume": [(-0.1, "volume must be 0 m3 or more; got -0.1")],
         "rise": [(101.0, "rise in temperature must be 100 K or less"), (-101.0, "must be -100 K or more")]},
    ),
    "standing_loss": (
        {"loss_coefficient": 1.85, "store": 80.0, "room": 15.0},
        {"loss_coefficient": [(-1.0, "loss coefficient must be 0")],
         "store": [(111.0, "store temperature must be 110")], "room": [(-41.0, "room temperature must be -40")]},
    ),
    "label_loss_coefficient": (
        {"loss": 83.0, "store": 65.0, "room": 20.0},
        {"loss": [(-1.0, "standing loss must be 0 W")], "store": [(20.0, "store less room must be above 0 K")],
         "room": [(65.0, "store less room must be above 0"), (-41.0, "room temperature must be -40")]},
    ),
    "cooling_loss_coefficient": (
        {"volume": 0.3, "start": 75.0, "end": 71.2, "room": 18.0, "duration": 36_000.0},
        {"volume": [(0.0, "volume must be above 0")], "start": [(71.0, "start less end must be 0 K or more")],
         "end": [(18.0, "end less room must be above 0"), (76.0, "start less end must be 0")],
         "room": [(72.0, "end less room must be above 0"), (75.0, "start less room must be above 0")],
         "duration": [(0.0, "duration must be above 0 s")]},
    ),
    "time_constant": (
        {"volume": 0.3, "loss_coefficient": 1.85},
        {"volume": [(0.0, "volume must be above 0")], "loss_coefficient": [(0.0, "loss coefficient must be above 0")]},
    ),
    "cool_down": (
        {"volume": 0.3, "loss_coefficient": 1.85, "start": 80.0, "room": 15.0, "duration": 3600.0},
        {"volume": [(0.0, "volume must be above 0")], "loss_coefficient": [(0.0, "must be above 0 W/K")],
         "start": [(111.0, "store temperature must be 110")], "room": [(-41.0, "room temperature must be -40")],
         "duration": [(-1.0, "duration must be 0 s or more")]},
    ),
    "energy_class_bounds": (
        {"volume": 0.3},
        {"volume": [(0.0, "storage volume must be above 0"), (2.1, "storage volume must be 2 m3 or less"),
                    ([0.2, 0.3], "must be single numbers; got an array of shape (2,)")]},
    ),
    "energy_class": (
        {"loss": 80.0, "volume": 0.3},
        {"loss": [(-1.0, "standing loss must be 0"), ([80.0], "must be single numbers")],
         "volume": [(0.0, "storage volume must be above 0"), (2.1, "must be 2 m3 or less")]},
    ),
    "sap_foam_loss": (
        {"volume": 0.3, "thickness": 0.08, "temperature_factor": 0.6},
        {"volume": [(0.0, "storage volume must be above 0"), (2.1, "must be 2 m3")],
         "thickness": [(0.0, "thickness of the insulation must be above 0"), (0.31, "must be 0.3 m or less")],
         "temperature_factor": [(0.0, "temperature factor must be above 0"), (2.1, "must be 2")]},
    ),
    "sap_jacket_loss": (
        {"volume": 0.3, "thickness": 0.08, "temperature_factor": 0.6},
        {"volume": [(0.0, "storage volume must be above 0")], "thickness": [(0.31, "must be 0.3 m or less")],
         "temperature_factor": [(0.0, "temperature factor must be above 0")]},
    ),
    "radiator_output": (
        {"rated": 2000.0, "excess": 30.0, "exponent": 1.3},
        {"rated": [(-1.0, "rated output must be 0 W")],
         "excess": [(-1.0, "excess temperature must be 0 K"), (101.0, "excess temperature must be 100")],
         "exponent": [(0.9, "exponent must be 1 "), (1.6, "exponent must be 1.5")]},
    ),
    "radiator_size": (
        {"needed": 1400.0, "excess": 30.0, "exponent": 1.3},
        {"needed": [(-1.0, "heat needed must be 0 W")], "excess": [(0.0, "must be above 0 K"), (101.0, "must be 100")],
         "exponent": [(0.9, "exponent must be 1 "), (1.6, "exponent must be 1.5")]},
    ),
    "arithmetic_excess": (
        REGIME,
        {"flow_temperature": [(201.0, "flow temperature must be 200"), (60.0, "flow less return must be 0 K")],
         "return_temperature": [(-41.0, "return temperature must be -40"), (19.0, "return less room must be 0 K")],
         "room": [(-41.0, "room temperature must be -40"), (66.0, "return less room must be 0 K or more; got -1")]},
    ),
    "log_mean_excess": (
        REGIME,
        {"flow_temperature": [(60.0, "flow less return must be 0")], "return_temperature": [(19.0, "must be 0 K")],
         "room": [(66.0, "return less room must be 0")]},
    ),
    "radiator_return": (
        {"rated": 2000.0, "flow_temperature": 60.0, "room": 20.0, "capacity_rate": 50.0, "exponent": 1.3},
        {"rated": [(-1.0, "rated output must be 0")],
         "flow_temperature": [(121.0, "flow temperature must be 120"), (20.0, "flow less room must be above 0 K")],
         "room": [(-41.0, "room temperature must be -40"), (60.0, "flow less room must be above 0")],
         "capacity_rate": [(0.0, "capacity rate of the flow must be above 0")],
         "exponent": [(1.6, "exponent must be 1.5")]},
    ),
    "radiator_cool_down": (
        {"rated": 1500.0, "excess": 50.0, "heat_capacity": 40e3, "duration": 1800.0, "exponent": 1.3},
        {"rated": [(0.0, "rated output must be above 0")], "excess": [(0.0, "must be above 0"), (101.0, "must be 100")],
         "heat_capacity": [(0.0, "heat capacity must be above 0 J/K")], "duration": [(-1.0, "duration must be 0 s")],
         "exponent": [(1.0, "exponent must be above 1"), (1.6, "exponent must be 1.5")]},
    ),
    "floor_output": (
        {"excess": 9.0}, {"excess": [(-1.0, "floor surface above the room must be 0 K"), (41.0, "must be 40 K")]},
    ),
    "floor_surface_excess": (
        {"flux": 60.0}, {"flux": [(-1.0, "floor output must be 0 W/m2"), (501.0, "must be 500 W/m2")]},
    ),
    "floor_output_from_water": (
        {"water": 36.0, "room": 20.0, "resistance": 0.1},
        {"water": [(61.0, "water temperature must be 60 °C or less"), (19.0, "water less room must be 0 K")],
         "room": [(-1.0, "room temperature must be 0 °C"), (37.0, "water less room must be 0 K or more; got -1")],
         "resistance": [(0.0, "resistance must be above 0")]},
    ),
    "floor_surface_limits": (
        {"room": 20.0, "bathroom": 24.0},
        {"room": [(4.0, "room temperature must be 5 °C or more"), (36.0, "must be 35 °C or less")],
         "bathroom": [([24.0, 25.0], "must be single numbers"),
                      (4.0, "bathroom temperature must be 5"), (36.0, "bathroom temperature must be 35")]},
    ),
    "coil_conductance": (
        {"coil": COIL, "flow": 0.2, "water": 25.0, "store": 60.0},
        {"flow": [(0.0, "flow through the coil must be above 0 kg/s"), (20.0, "Reynolds number must be 150000")],
         "water": [(-5.0, "water in the coil must be 0 °C"), (120.0, "water in the coil must be 100 °C")],
         "store": [(-5.0, "store temperature must be 0 °C"), (120.0, "store temperature must be 100 °C or less")]},
    ),
}  # fmt: skip
RANGES = [(f, name, bad, says) for f, (_, bads) in CASES.items() for name, pairs in bads.items() for bad, says in pairs]
ARGUMENTS = [(f, name) for f, (good, _) in CASES.items() for name in good if name != "coil"]


def call(function, **changed):
    return getattr(heat, function)(**(CASES[function][0] | changed))


@pytest.mark.parametrize("function", CASES)
def test_the_good_arguments_are_good(function):
    assert call(function) is not None


def test_every_checked_function_is_here():
    bare = {"effectiveness_isothermal", "outlet_isothermal", "sap_temperature_factor", "Coil", "WATER_HEAT"}
    assert set(CASES) == set(heat.__all__) - bare


@pytest.mark.evidence(
    "error", "heat_transfer.arithmetic_excess", "heat_transfer.coil_conductance", "heat_transfer.coil_effectiveness",
    "heat_transfer.coil_outlet", "heat_transfer.coil_profile", "heat_transfer.cool_down",
    "heat_transfer.cooling_loss_coefficient", "heat_transfer.counterflow_effectiveness",
    "heat_transfer.critical_reynolds_in_helix", "heat_transfer.cylinder_loss_coefficient",
    "heat_transfer.end_loss_coefficient", "heat_transfer.energy_class", "heat_transfer.energy_class_bounds",
    "heat_transfer.exposed_pipe_loss_coefficient", "heat_transfer.floor_output",
    "heat_transfer.floor_output_from_water", "heat_transfer.floor_surface_excess",
    "heat_transfer.floor_surface_limits", "heat_transfer.fouled_conductance", "heat_transfer.label_loss_coefficient",
    "heat_transfer.log_mean_difference", "heat_transfer.log_mean_excess", "heat_transfer.nusselt_dittus_boelter",
    "heat_transfer.nusselt_gnielinski", "heat_transfer.nusselt_in_helix", "heat_transfer.nusselt_in_tube",
    "heat_transfer.nusselt_outside_cylinder", "heat_transfer.nusselt_vertical_wall",
    "heat_transfer.radiative_coefficient", "heat_transfer.radiator_cool_down", "heat_transfer.radiator_output",
    "heat_transfer.radiator_return", "heat_transfer.radiator_size", "heat_transfer.sap_foam_loss",
    "heat_transfer.sap_jacket_loss", "heat_transfer.standing_loss", "heat_transfer.still_air_film",
    "heat_transfer.still_air_pipe_film", "heat_transfer.store_loss_coefficient", "heat_transfer.stored_heat",
    "heat_transfer.time_constant", "heat_transfer.tube_conductance",
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


@pytest.mark.parametrize("bad", ["warm", None, [[1.0], [1.0, 2.0]]], ids=["text", "nothing", "ragged"])
@pytest.mark.parametrize(("function", "name"), ARGUMENTS)
def test_not_numbers_at_all(function, name, bad):
    with pytest.raises(OutOfRange, match=r"must be a (finite )?number"):
        call(function, **{name: bad})


SINGLE = {"coil_profile", "energy_class", "energy_class_bounds", "floor_surface_limits"}


@pytest.mark.parametrize("function", [f for f, (good, _) in CASES.items() if len(good) > 1 and f not in SINGLE])
def test_rows_of_different_length(function):
    good = CASES[function][0]
    first, second = [name for name in good if name != "coil"][:2]
    rows = {first: np.full(2, good[first]), second: np.full(3, good[second])}
    with pytest.raises(ValueError, match="broadcast"):
        call(function, **rows)


@pytest.mark.evidence("error", "heat_transfer.sap_temperature_factor")
def test_kinds_and_details_that_the_table_does_not_have():
    with pytest.raises(OutOfRange, match=r"kind of store must be one of cylinder, thermal store; got 'jug'"):
        heat.sap_temperature_factor("jug")
    with pytest.raises(OutOfRange, match=r"detail of a thermal store must be one of separately timed, outside .*; got"):
        heat.sap_temperature_factor("thermal store", "no thermostat")


@pytest.mark.parametrize(
    ("changed", "says"),
    [
        ({"length": 0.0}, "length of the coil must be above 0 m"),
        ({"bore": np.nan}, "bore must be a finite number"),
        ({"outside": 0.020}, "outside diameter must be above 0.02 m; got 0.02"),
        ({"diameter": 0.022}, "coil diameter must be above 0.022 m"),
        ({"conductivity": 0.0}, "conductivity of the wall must be above 0"),
        ({"fouling": -1.0}, "fouling resistance must be 0 m2 K/W or more"),
    ],
)
def test_a_coil_that_cannot_be(changed, says):
    with pytest.raises(OutOfRange, match=re.escape(says)):
        Coil(**({"length": 18.0, "bore": 0.020, "outside": 0.022, "diameter": 0.45} | changed))


def test_films_past_the_rules_rayleigh_number_are_refused():
    with pytest.raises(OutOfRange, match="Rayleigh number must be"):
        heat.still_air_film(80.0, -20.0, 10.0)
    wide = Coil(length=18.0, bore=5.0, outside=6.0, diameter=30.0)
    with pytest.raises(OutOfRange, match="Rayleigh number outside the coil must be"):
        heat.coil_conductance(wide, 20.0, 25.0, 90.0)
