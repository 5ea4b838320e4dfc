"""The bare formulas of water: what it is at saturation, and what each megapascal above that adds.

A property is ``saturated(t) + above * (slope(t) + above * curve(t))``: three polynomials of the temperature, and the
pressure above saturation [MPa]. Below saturation, where there is no liquid, the saturated value stands.
"""

import numpy as np

from tlib.compiled import kernel
from tlib.tables import table
from tlib.water_properties.saturation import bare_saturation_pressure

__all__ = [
    "bare_conductivity", "bare_density", "bare_enthalpy", "bare_expansion_coefficient", "bare_log_viscosity",
    "bare_specific_heat", "bare_viscosity",
]  # fmt: skip


def _fit(name):
    """Return the coefficients of one property, the highest power first, as the compiler wants them: tuples."""
    fit = table("water")["water"][name]
    return tuple(tuple(fit[part]) for part in ("saturated", "slope", "curve"))


_DENSITY, _SPECIFIC_HEAT, _CONDUCTIVITY = _fit("density"), _fit("specific_heat"), _fit("conductivity")
_LOG_VISCOSITY, _EXPANSION, _ENTHALPY = _fit("log_viscosity"), _fit("expansion_coefficient"), _fit("enthalpy")
_MIDDLE = _HALF = 75.0


@kernel
def series(coefficients, x):
    """Return a polynomial, its coefficients given from the highest power down."""
    total = 0.0 * x
    for coefficient in coefficients:
        total = total * x + coefficient
    return total


@kernel
def _of_liquid(fit, temperature, pressure):
    saturated, slope, curve = fit
    t = (temperature - _MIDDLE) / _HALF
    above = 1e-6 * np.maximum(pressure - bare_saturation_pressure(temperature), 0.0)
    return series(saturated, t) + above * (series(slope, t) + above * series(curve, t))


@kernel
def bare_density(temperature, pressure=101325.0):
    """Density of water [kg/m3]."""
    return _of_liquid(_DENSITY, temperature, pressure)


@kernel
def bare_specific_heat(temperature, pressure=101325.0):
    """Specific heat of water [J/(kg K)]."""
    return _of_liquid(_SPECIFIC_HEAT, temperature, pressure)


@kernel
def bare_conductivity(temperature, pressure=101325.0):
    """Thermal conductivity of water [W/(m K)]."""
    return _of_liquid(_CONDUCTIVITY, temperature, pressure)


@kernel
def bare_log_viscosity(temperature, pressure=101325.0):
    """Return the natural logarithm of the dynamic viscosity of water [ln of Pa s]."""
    return _of_liquid(_LOG_VISCOSITY, temperature, pressure)


@kernel
def bare_viscosity(temperature, pressure=101325.0):
    """Dynamic viscosity of water [Pa s]."""
    return np.exp(bare_log_viscosity(temperature, pressure))


@kernel
def bare_expansion_coefficient(temperature, pressure=101325.0):
    """Growth of water's volume for each kelvin at constant pressure, as a share of that volume [1/K]."""
    return _of_liquid(_EXPANSION, temperature, pressure)


@kernel
def bare_enthalpy(temperature, pressure=101325.0):
    """Enthalpy of water [J/kg]."""
    return _of_liquid(_ENTHALPY, temperature, pressure)
