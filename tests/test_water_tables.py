"""The fitted tables of water and glycol: rebuilt from the reference library, and what they answer compared with it.

``python tests/test_water_tables.py`` prints tlib/tables/water.toml afresh.
"""

import numpy as np
import pytest
from numpy.polynomial import chebyshev

from tlib import water_properties
from tlib.tables import table

PRESSURES = 1.5 - 1.5 * np.cos(np.linspace(0.0, np.pi, 9))  # above saturation [MPa], closest at the ends
POINTS = 40
DEGREES = {"saturated": 20, "slope": 14, "curve": 10}
WATER = ["density", "specific_heat", "conductivity", "log_viscosity", "expansion_coefficient", "enthalpy"]
GLYCOL = ["density", "specific_heat", "conductivity", "log_viscosity"]


def reference_water(celsius, pascal):
    """Return the properties of liquid water by IAPWS-95 and the IAPWS transport releases, in the order of WATER."""
    import CoolProp.CoolProp as reference

    state = reference.AbstractState("HEOS", "Water")
    state.specify_phase(reference.iphase_liquid)
    state.update(reference.PT_INPUTS, float(pascal), float(celsius) + 273.15)
    return [state.rhomass(), state.cpmass(), state.conductivity(), np.log(state.viscosity()),
            state.isobaric_expansion_coefficient(), state.hmass()]  # fmt: skip


def reference_glycol(celsius, share):
    """Return the properties of propylene glycol in water, a share by volume, in the order of GLYCOL."""
    import CoolProp.CoolProp as reference

    state = reference.AbstractState("INCOMP", "APG")
    state.set_volu_fractions([float(share)])
    state.update(reference.PT_INPUTS, 101325.0, float(celsius) + 273.15)
    return [state.rhomass(), state.cpmass(), state.conductivity(), np.log(state.viscosity())]


def boiling_pressure(celsius):
    import CoolProp.CoolProp as reference

    return reference.PropsSI("P", "T", float(celsius) + 273.15, "Q", 0, "IF97::Water")


def freezing(share):
    import CoolProp.CoolProp as reference

    return reference.PropsSI("T_FREEZE", "T", 300.0, "P", 101325.0, f"INCOMP::APG[{share}]") - 273.15


def rebuilt_water():
    """Fit each property as ``saturated + above * (slope + above * curve)``, polynomials of t = (celsius - 75) / 75."""
    t = chebyshev.chebpts1(POINTS)
    values = np.array(
        [
            [reference_water(75 + 75 * at, boiling_pressure(75 + 75 * at) + 1e6 * above) for above in PRESSURES]
            for at in t
        ]
    )
    powers = np.vander(PRESSURES, 3, increasing=True)
    fits = {}
    for place, name in enumerate(WATER):
        parts = np.linalg.lstsq(powers, values[:, :, place].T, rcond=None)[0]
        fits[name] = {
            part: chebyshev.cheb2poly(chebyshev.chebfit(t, parts[row], degree))[::-1]
            for row, (part, degree) in enumerate(DEGREES.items())
        }
    return fits


def rebuilt_glycol():
    """Recover the library's own polynomials: to the third power of celsius - 32.5, to the fifth of share - 0.35."""
    shares = np.linspace(0.1, 0.6, 16)
    points = np.array(
        [(celsius, share) for share in shares for celsius in np.linspace(max(freezing(share) + 0.1, -34.9), 99.9, 12)]
    )
    values = np.array([reference_glycol(*point) for point in points])
    powers = [(i, j) for i in (3, 2, 1, 0) for j in (5, 4, 3, 2, 1, 0) if i + j < 6]
    t, x = (points[:, 0] - 32.5) / 50.0, (points[:, 1] - 0.35) / 0.25
    matrix = np.stack([t**i * x**j for i, j in powers], axis=1)
    fits = {}
    for place, name in enumerate(GLYCOL):
        found = np.linalg.lstsq(matrix, values[:, place], rcond=None)[0]
        rows = np.zeros((4, 6))
        for (i, j), value in zip(powers, found, strict=True):
            rows[3 - i, 5 - j] = value / 50.0**i / 0.25**j
        fits[name] = rows
    ice = np.polynomial.Polynomial.fit(shares - 0.35, [freezing(share) for share in shares], 3, domain=[-1, 1]).coef
    return fits | {"freezing": ice[::-1]}


@pytest.mark.parametrize("name", WATER)
def test_waters_curves_are_those_the_reference_library_gives(name):
    rebuilt, kept = rebuilt_water()[name], table("water")["water"][name]
    t = np.linspace(-1.0, 1.0, 301)
    for part, places in (("saturated", 1.0), ("slope", 3.0), ("curve", 9.0)):
        wide = np.ptp(np.polyval(rebuilt["saturated"], t))
        assert len(kept[part]) == len(rebuilt[part])
        assert np.abs(np.polyval(kept[part], t) - np.polyval(rebuilt[part], t)).max() * places < 1e-8 * wide


@pytest.mark.parametrize("name", [*GLYCOL, "freezing"])
def test_glycols_curves_are_the_reference_librarys_own(name):
    kept = np.array(table("water")["glycol"][name])
    assert kept == pytest.approx(rebuilt_glycol()[name], rel=1e-7, abs=1e-14)


def errors(computed, reference):
    """Return the largest error as a share of the range of the reference."""
    return np.abs(computed - reference).max() / np.ptp(reference)


ALLOWED = {name: 1e-6 for name in WATER} | {"viscosity": 1e-5}
PROPERTIES = ["density", "specific_heat", "conductivity", "viscosity", "expansion_coefficient", "enthalpy"]


@pytest.fixture(scope="module")
def liquid():
    """Return temperatures, pressures and reference properties over the whole range, its edges included."""
    temperatures = np.linspace(0.0, 150.0, 76)
    states = [
        (celsius, pascal)
        for celsius in temperatures
        for pascal in np.geomspace(max(1e4, 1.0005 * boiling_pressure(celsius)), 3e6, 9)
    ]
    values = np.array([reference_water(*state) for state in states])
    values[:, 3] = np.exp(values[:, 3])
    return np.array(states), values


@pytest.mark.parametrize("name", PROPERTIES)
def test_the_error_of_water_is_below_a_millionth_of_the_range(liquid, name):
    states, values = liquid
    computed = getattr(water_properties, name)(states[:, 0], states[:, 1])
    assert errors(computed, values[:, PROPERTIES.index(name)]) < ALLOWED[name]


@pytest.mark.parametrize("place", range(4), ids=PROPERTIES[:4])
def test_the_error_of_glycol_is_below_a_millionth_of_the_range(place):
    states = [(c, x) for x in np.linspace(0.1, 0.5, 9) for c in np.linspace(max(freezing(x), -34.9) + 0.1, 99.9, 21)]
    reference = np.array([reference_glycol(*state)[place] for state in states])
    celsius, share = np.array(states).T
    computed = getattr(water_properties, PROPERTIES[place])(celsius, 2e5, share)
    assert errors(np.log(computed) if place == 3 else computed, reference) < 1e-7


def test_boiling_is_that_of_the_reference_library():
    celsius = np.linspace(0.01, 370.0, 38)
    pascal = np.array([boiling_pressure(c) for c in celsius])
    assert water_properties.saturation_pressure(celsius) == pytest.approx(pascal, rel=1e-10)
    assert water_properties.saturation_temperature(pascal) == pytest.approx(celsius, abs=1e-7)


def test_boiling_lies_within_a_hundredth_of_a_kelvin_of_the_scientific_formulation():
    import CoolProp.CoolProp as reference

    for pascal in (5e4, 101325.0, 2e5, 4e5, 1e6):
        scientific = reference.PropsSI("T", "P", pascal, "Q", 0, "HEOS::Water") - 273.15
        assert water_properties.saturation_temperature(pascal) == pytest.approx(scientific, abs=0.01)


def written():
    """Return tlib/tables/water.toml as it should stand."""
    lines = [HEAD, WATER_SOURCE]
    for name, parts in rebuilt_water().items():
        lines += [f"[water.{name}]"] + [f"{part} = {_row(values)}" for part, values in parts.items()] + [""]
    lines += [GLYCOL_SOURCE]
    for name, rows in rebuilt_glycol().items():
        one = rows.ndim == 1
        lines += (
            [f"{name} = {_row(rows, 9)}"] if one else [f"{name} = [", *(f"    {_row(row, 9)}," for row in rows), "]"]
        )
    return "\n".join(lines) + "\n"


def _row(values, digits=11):
    return f"[{', '.join(f'{value:.{digits}g}' for value in values)}]"


HEAD = """\
# Water, and propylene glycol in water: coefficients of fitted curves, the highest power first. Made by
# tests/test_water_tables.py, which rebuilds every curve from the reference library and compares.
#
# water: liquid from 0 to 150 degC and up to 3 MPa above saturation. With t = (celsius - 75) / 75 and the pressure above
# saturation in MPa, a property is saturated(t) + above * (slope(t) + above * curve(t)). Enthalpy is nought where liquid
# at the triple point has no internal energy.
#
# glycol: the share by volume before mixing, 0.1 to 0.5, from the freezing point to 100 degC. Rows go from the third
# power of celsius - 32.5 down, columns from the fifth power of share - 0.35 down; freezing [degC] has the share alone.
#
# Units: kg/m3, J/(kg K), W/(m K), ln of Pa s, 1/K, J/kg.
"""

WATER_SOURCE = """\
[water]
source = "IAPWS R6-95, IAPWS R12-08 and IAPWS R15-11, as computed by CoolProp 8.0.0 for its fluid HEOS::Water"
date = 2026-11-25
"""

GLYCOL_SOURCE = """\
[glycol]
source = "ASHRAE Fundamentals, as fitted by the authors of CoolProp 8.0.0 for its fluid INCOMP::APG"
date = 2026-11-25\
"""

if __name__ == "__main__":
    print(written(), end="")
