"""The bare formulas of propylene glycol in water, by the share of the unmixed volumes.

Polynomials of temperature and share, fitted by the reference library to the tables of [ASHRAE Fundamentals]; they
hold from a share of 0.1 to 0.5 and up to 100 °C, at any pressure of a heating system.
"""

import numpy as np

from tlib.compiled import kernel
from tlib.tables import table
from tlib.validation import require
from tlib.water_properties.water import series

__all__ = [
    "THINNEST", "bare_conductivity", "bare_density", "bare_enthalpy", "bare_expansion_coefficient", "bare_freezing",
    "bare_log_viscosity", "bare_specific_heat", "freezing_temperature",
]  # fmt: skip

THINNEST = 0.1
"""The thinnest mixture of the published tables [-]."""

_WARM, _SHARE = 32.5, 0.35


def _fit(name):
    """Return rows of coefficients, highest power of temperature first; in a row, highest power of share first."""
    return np.array(table("water")["glycol"][name])


def _slope(rows):
    """Return the rows of the rate of change with temperature."""
    powers = np.arange(len(rows) - 1, 0, -1)
    return powers[:, None] * rows[:-1]


def _sum(rows):
    """Return the rows of the integral over temperature that is nought at 0 °C."""
    powers = np.arange(len(rows), 0, -1)
    raised = rows / powers[:, None]
    return np.vstack([raised, -(raised * (-_WARM) ** powers[:, None]).sum(axis=0)])


def _tuples(rows):
    return tuple(tuple(float(value) for value in row) for row in rows)


_DENSITY, _DENSITY_SLOPE = _tuples(_fit("density")), _tuples(_slope(_fit("density")))
_SPECIFIC_HEAT, _ENTHALPY = _tuples(_fit("specific_heat")), _tuples(_sum(_fit("specific_heat")))
_CONDUCTIVITY, _LOG_VISCOSITY = _tuples(_fit("conductivity")), _tuples(_fit("log_viscosity"))
_FREEZING = tuple(table("water")["glycol"]["freezing"])


@kernel
def _of_mixture(rows, temperature, glycol):
    t, x = temperature - _WARM, glycol - _SHARE
    total = 0.0 * t * x
    for row in rows:
        total = total * t + series(row, x)
    return total


@kernel
def bare_density(temperature, glycol):
    """Density of a mixture [kg/m3]."""
    return _of_mixture(_DENSITY, temperature, glycol)


@kernel
def bare_specific_heat(temperature, glycol):
    """Specific heat of a mixture [J/(kg K)]."""
    return _of_mixture(_SPECIFIC_HEAT, temperature, glycol)


@kernel
def bare_conductivity(temperature, glycol):
    """Thermal conductivity of a mixture [W/(m K)]."""
    return _of_mixture(_CONDUCTIVITY, temperature, glycol)


@kernel
def bare_log_viscosity(temperature, glycol):
    """Return the natural logarithm of the dynamic viscosity of a mixture [ln of Pa s]."""
    return _of_mixture(_LOG_VISCOSITY, temperature, glycol)


@kernel
def bare_expansion_coefficient(temperature, glycol):
    """Growth of a mixture's volume for each kelvin, as a share of that volume [1/K]."""
    return -_of_mixture(_DENSITY_SLOPE, temperature, glycol) / _of_mixture(_DENSITY, temperature, glycol)


@kernel
def bare_enthalpy(temperature, glycol):
    """Enthalpy of a mixture above 0 °C [J/kg]."""
    return _of_mixture(_ENTHALPY, temperature, glycol)


@kernel
def bare_freezing(glycol):
    """Temperature at which ice first forms in a mixture [°C]; below the thinnest it goes straight to water's 0 °C."""
    return np.minimum(glycol / THINNEST, 1.0) * series(_FREEZING, np.maximum(glycol, THINNEST) - _SHARE) + 0.0


def freezing_temperature(glycol):
    """Temperature at which ice first forms in a mixture of water and propylene glycol.

    Parameters
    ----------
    glycol : array_like
        Share of propylene glycol in the unmixed volumes [-]; 0 to 0.5.

    Returns
    -------
    float or ndarray
        Freezing point [°C], in the shape of `glycol`.

    Raises
    ------
    OutOfRange
        If the share is outside the range above, or is not finite.

    Notes
    -----
    Within 0.3 K of the published table. Ready-mixed fluids hold other things too: for one of those, its maker's
    table comes first. Leave a margin below the coldest night.

    References
    ----------
    [ASHRAE Fundamentals] chapter "physical properties of secondary coolants", freezing points of propylene glycol.

    Examples
    --------
    >>> print(f"{freezing_temperature(0.4):.1f} °C")
    -21.5 °C
    """
    return bare_freezing(require(glycol, "share of glycol", "[-]", at_least=0, at_most=0.5))
