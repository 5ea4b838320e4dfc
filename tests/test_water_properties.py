"""Water and glycol: limits, mass and heat that close, and what is refused with which words."""

import subprocess
import sys

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tlib import water_properties
from tlib.compiled import engine, kernel
from tlib.validation import OutOfRange
from tlib.water_properties import bare_density, bare_viscosity, density, enthalpy, expansion_coefficient, specific_heat

EXCUSED = [
    ("conservation", "water_properties.conductivity", "a coefficient: no mass or heat changes hands"),
    ("conservation", "water_properties.viscosity", "a coefficient: no mass or heat changes hands"),
    ("conservation", "water_properties.saturation_pressure", "a boundary: no mass or heat changes hands"),
    ("conservation", "water_properties.saturation_temperature", "a boundary: no mass or heat changes hands"),
    ("conservation", "water_properties.freezing_temperature", "a boundary: no mass or heat changes hands"),
]
LIQUID = [water_properties.density, water_properties.specific_heat, water_properties.conductivity,
          water_properties.viscosity, water_properties.expansion_coefficient, water_properties.enthalpy]  # fmt: skip
LIQUID_NAMES = [
    "water_properties.density", "water_properties.specific_heat", "water_properties.conductivity",
    "water_properties.viscosity", "water_properties.expansion_coefficient", "water_properties.enthalpy",
]  # fmt: skip

few = settings(max_examples=20, deadline=None)
celsius = st.floats(0.0, 99.9)
kept_liquid = st.floats(1.1e5, 3e6)
shares = st.floats(0.0, 0.5)


# --- conservation: what one function says of mass or heat, another must confirm


@pytest.mark.evidence("conservation", "water_properties.density", "water_properties.expansion_coefficient")
@pytest.mark.parametrize("glycol", [0.0, 0.1, 0.3, 0.5])
@pytest.mark.parametrize("pressure", [2e5, 1e6])
def test_mass_is_kept_while_the_volume_grows(pressure, glycol):
    steps = np.linspace(5.0, 95.0, 2001)
    growth = expansion_coefficient(steps, pressure, glycol)
    grown = np.exp(np.sum((growth[1:] + growth[:-1]) / 2 * np.diff(steps)))
    cold, hot = density([5.0, 95.0], pressure, glycol)
    assert hot * grown == pytest.approx(cold, rel=2e-8)


@pytest.mark.evidence("conservation", "water_properties.specific_heat", "water_properties.enthalpy")
@pytest.mark.parametrize("glycol", [0.0, 0.05, 0.1, 0.3, 0.5])
@pytest.mark.parametrize("pressure", [2e5, 1e6])
def test_heat_put_in_is_the_rise_of_enthalpy(pressure, glycol):
    steps = np.linspace(5.0, 95.0, 2001)
    each = specific_heat(steps, pressure, glycol)
    put_in = np.sum((each[1:] + each[:-1]) / 2 * np.diff(steps))
    cold, hot = enthalpy([5.0, 95.0], pressure, glycol)
    assert hot - cold == pytest.approx(put_in, rel=1e-7)


@few
@given(celsius)
def test_pressing_water_obeys_the_first_law(at):
    # dh = v (1 - beta T) dp at constant temperature: an identity between three of the functions
    low, high = 2e5, 1e6
    middle = (low + high) / 2
    work = (1 - expansion_coefficient(at, middle) * (at + 273.15)) / density(at, middle) * (high - low)
    assert enthalpy(at, high) - enthalpy(at, low) == pytest.approx(work, rel=1e-4, abs=0.05)


# --- limits


@pytest.mark.evidence("limit", "water_properties.density", "water_properties.expansion_coefficient")
def test_water_is_densest_at_four_degrees():
    steps = np.linspace(0.0, 10.0, 2001)
    assert steps[np.argmax(density(steps))] == pytest.approx(3.98, abs=0.02)
    assert expansion_coefficient(3.9) < 0 < expansion_coefficient(4.1)


@pytest.mark.evidence("limit", "water_properties.specific_heat", "water_properties.enthalpy")
def test_enthalpy_starts_at_the_triple_point():
    pressed = (1 - expansion_coefficient(0.01, 1e4) * 273.16) * (1e4 - 611.657) / density(0.01, 1e4)
    no_internal_energy = 611.657 / density(0.01, 1e4)  # so the work of pressure alone
    assert enthalpy(0.01, 1e4) - pressed == pytest.approx(no_internal_energy, abs=0.01)
    assert specific_heat(35.0) < specific_heat(5.0) < specific_heat(95.0)  # least near 35 °C


@pytest.mark.evidence("limit", "water_properties.conductivity", "water_properties.viscosity")
def test_warm_water_conducts_better_and_flows_more_easily():
    steps = np.linspace(0.0, 99.0, 100)
    assert np.all(np.diff(water_properties.conductivity(steps)) > 0)
    assert np.all(np.diff(water_properties.viscosity(steps)) < 0)


@pytest.mark.evidence("limit", "water_properties.saturation_pressure", "water_properties.saturation_temperature")
@few
@given(st.floats(0.001, 373.9))
def test_boiling_point_and_boiling_pressure_are_inverses(at):
    pressure = water_properties.saturation_pressure(at)
    assert water_properties.saturation_temperature(pressure) == pytest.approx(at, abs=1e-6)


def test_boiling_ends_at_the_critical_and_begins_at_the_triple_point():
    assert water_properties.saturation_pressure(373.946) == pytest.approx(22.064e6, rel=1e-5)
    assert water_properties.saturation_temperature(611.657) == pytest.approx(0.01, abs=1e-3)
    assert water_properties.saturation_temperature(101325.0) == pytest.approx(99.974, abs=5e-4)


@pytest.mark.evidence("limit", "water_properties.freezing_temperature")
def test_water_without_glycol_freezes_at_nought_and_more_glycol_freezes_later():
    assert water_properties.freezing_temperature(0.0) == 0.0
    assert np.all(np.diff(water_properties.freezing_temperature(np.linspace(0.0, 0.5, 51))) < 0)


@pytest.mark.parametrize("of", LIQUID, ids=LIQUID_NAMES)
@few
@given(at=celsius, pressure=kept_liquid)
def test_a_trace_of_glycol_changes_next_to_nothing(of, at, pressure):
    assert of(at, pressure, 1e-9) == pytest.approx(of(at, pressure), rel=1e-6, abs=1e-3 if of is enthalpy else 1e-10)


@pytest.mark.parametrize("of", LIQUID, ids=LIQUID_NAMES)
@few
@given(at=celsius)
def test_the_thinnest_published_mixture_is_met_from_both_sides(of, at):
    below, above = of(at, 2e5, np.nextafter(0.1, 0.0)), of(at, 2e5, np.nextafter(0.1, 1.0))
    assert below == pytest.approx(above, rel=1e-9, abs=1e-6 if of is enthalpy else 1e-15)


@few
@given(at=celsius, share=shares)
def test_half_way_to_the_thinnest_mixture_is_half_the_change(at, share):
    ends = density(at, 2e5, [0.0, 0.1])
    thin = share / 5.0
    assert density(at, 2e5, thin) == pytest.approx(ends[0] + (ends[1] - ends[0]) * thin / 0.1, rel=1e-12)


def test_viscosity_of_a_thin_mixture_goes_straight_in_the_logarithm():
    none, half, whole = water_properties.viscosity(20.0, glycol=[0.0, 0.05, 0.1])
    assert half == pytest.approx(np.sqrt(none * whole), rel=1e-12)


# --- boiling


@pytest.mark.parametrize("of", LIQUID, ids=LIQUID_NAMES)
def test_up_to_a_tenth_of_a_kelvin_above_boiling_the_saturated_liquid_stands(of):
    boiling = water_properties.saturation_temperature(2e5)
    just_above = boiling + 0.09
    assert of(just_above, 2e5) == of(just_above, water_properties.saturation_pressure(just_above))


BOILS = [
    ((110.0,), r"^water at 110 °C would boil at this pressure \(1\.013 bar absolute: 99\.97 °C\)\.$"),
    ((100.08,), r"water at 100\.08 °C would boil at this pressure \(1\.013 bar absolute: 99\.97 °C\)"),
    ((85.0, 5e4), r"water at 85 °C would boil at this pressure \(0\.500 bar absolute: 81\.32 °C\)"),
    (([20.0, 121.0, 130.0], 2e5), r"water at 121 °C would boil at this pressure \(2\.000 bar absolute: 120\.21 °C\)"),
    ((90.0, [1e5, 5e4]), r"water at 90 °C would boil at this pressure \(0\.500 bar absolute: 81\.32 °C\)"),
    ((85.0, 5e4, 0.4), r"^the water in a mixture at 85 °C would boil at this pressure \(0\.500 bar absolute"),
]
OUTSIDE = [
    ((-0.01,), r"^water temperature must be 0 °C or more; got -0\.01\.$"),
    ((150.1, 1e6), r"^temperature must be 150 °C or less; got 150\.1\.$"),
    ((float("nan"),), r"^temperature must be a finite number; got nan\.$"),
    (("60",), r"^temperature must be a number in °C; got '60'\.$"),
    ((20.0, 9999.0), r"^pressure must be 10000 Pa or more; got 9999\.$"),
    ((20.0, 3.1e6), r"^pressure must be 3000000 Pa or less; got 3100000\.$"),
    ((20.0, 1e5, -0.1), r"^share of glycol must be 0 or more; got -0\.1\.$"),
    ((20.0, 1e5, 40.0), r"^share of glycol must be 0\.5 or less; got 40\.$"),
    ((100.5, 2e5, 0.4), r"^temperature with glycol must be 100 °C or less; got 100\.5\.$"),
    ((-22.0, 1e5, 0.4), r"^a mixture with 40 % glycol begins to freeze at -21\.5 °C; got -22 °C\.$"),
    (([0.0, -20.0], 1e5, [0.0, 0.3]), r"^a mixture with 30 % glycol begins to freeze at -13\.1 °C; got -20 °C\.$"),
    ((-1.0, 1e5, 0.05), r"^a mixture with 5 % glycol begins to freeze at -1\.7 °C; got -1 °C\.$"),
]


@pytest.mark.evidence(
    "error", "water_properties.density", "water_properties.specific_heat", "water_properties.conductivity",
    "water_properties.viscosity", "water_properties.expansion_coefficient", "water_properties.enthalpy",
)  # fmt: skip
@pytest.mark.parametrize("of", LIQUID, ids=LIQUID_NAMES)
@pytest.mark.parametrize(("state", "sentence"), BOILS + OUTSIDE)
def test_what_is_not_liquid_or_not_known_is_refused(of, state, sentence):
    with pytest.raises(OutOfRange, match=sentence):
        of(*state)


@pytest.mark.evidence("error", "water_properties.saturation_pressure")
@pytest.mark.parametrize(("at", "sentence"), [(-0.1, "0 °C or more; got -0.1"), (374.0, "373.946 °C or less; got 374")])
def test_no_boiling_below_ice_or_above_the_critical_point(at, sentence):
    with pytest.raises(OutOfRange, match=f"^temperature must be {sentence}"):
        water_properties.saturation_pressure(at)


@pytest.mark.evidence("error", "water_properties.saturation_temperature")
@pytest.mark.parametrize(
    ("at", "sentence"), [(600.0, "611.2 Pa or more; got 600"), (2.3e7, "22064000 Pa or less; got 23000000")]
)
def test_no_boiling_point_outside_the_curve(at, sentence):
    with pytest.raises(OutOfRange, match=f"^pressure must be {sentence}"):
        water_properties.saturation_temperature(at)


@pytest.mark.evidence("error", "water_properties.freezing_temperature")
def test_no_freezing_point_beyond_the_table():
    with pytest.raises(OutOfRange, match=r"^share of glycol must be 0\.5 or less; got 0\.6\.$"):
        water_properties.freezing_temperature(0.6)


# --- pressure, as the docstrings state it


def test_what_a_bar_changes():
    at, bar = np.linspace(5.0, 95.0, 19), 1e5
    for of, least, most in (
        (water_properties.density, 0.04, 0.06),
        (water_properties.specific_heat, -0.5, -0.2),
        (water_properties.conductivity, 0.0, 1e-4),
    ):
        change = of(at, 2 * bar) - of(at, bar)
        assert np.all((least < change) & (change < most)), of.__name__
    assert water_properties.viscosity(at, 2 * bar) == pytest.approx(water_properties.viscosity(at, bar), rel=2e-4)


@pytest.mark.parametrize("of", LIQUID, ids=LIQUID_NAMES)
def test_pressure_makes_no_difference_to_a_mixture(of):
    assert of(60.0, 1e5, 0.4) == of(60.0, 1e6, 0.4)


# --- shapes, and the engine's own


@pytest.mark.parametrize("of", LIQUID, ids=LIQUID_NAMES)
def test_scalars_stay_scalars_and_arrays_broadcast(of):
    assert np.ndim(of(60)) == 0
    assert of([20.0, 60.0]).shape == (2,)
    grid = of(np.array([[20.0], [60.0]]), [1e5, 2e5, 3e5], 0.4)
    assert grid.shape == (2, 3)
    assert of(60.0, 1e5, [0.0, 0.4])[0] == pytest.approx(of(60.0, 1e5), rel=1e-15)
    assert of(60.0, 1e5, [0.0, 0.0]).shape == (2,)


@kernel
def _sums(temperatures):
    heavy, thick = 0.0, 0.0
    for temperature in temperatures:
        heavy += bare_density(temperature)
        thick += bare_viscosity(temperature, 3e5)
    return heavy, thick


def test_the_compiled_formula_is_the_written_one(tmp_path, monkeypatch):
    monkeypatch.setenv("TLIB_CACHE", str(tmp_path))
    at = np.linspace(1.0, 99.0, 50)
    heavy, thick = engine(_sums)(at)
    assert (heavy, thick) == pytest.approx(_sums(at), rel=1e-14)
    assert heavy == pytest.approx(density(at).sum(), rel=1e-14)
    assert thick == pytest.approx(water_properties.viscosity(at, 3e5).sum(), rel=1e-14)


def test_the_reference_library_is_never_loaded():
    code = (
        "import sys; from tlib import water_properties as w; w.density(60.0, glycol=0.3); w.viscosity(60.0); "
        "print([m for m in sys.modules if m.split('.')[0] in {'CoolProp', 'pint', 'numba', 'scipy'}])"
    )
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True).stdout.strip() == "[]"
