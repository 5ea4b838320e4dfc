"""Where water boils: pressure and temperature of saturation, each the exact inverse of the other."""

import numpy as np

from tlib.compiled import kernel
from tlib.validation import require

__all__ = ["bare_saturation_pressure", "bare_saturation_temperature", "saturation_pressure", "saturation_temperature"]

# Coefficients n1 to n10 of [IAPWS R7-97] table 34, for the equations of region 4.
_N1, _N2, _N3 = 0.11670521452767e4, -0.72421316703206e6, -0.17073846940092e2
_N4, _N5, _N6 = 0.12020824702470e5, -0.32325550322333e7, 0.14915108613530e2
_N7, _N8 = -0.48232657361591e4, 0.40511340542057e6
_N9, _N10 = -0.23855557567849, 0.65017534844798e3
_CRITICAL = 373.946
_LOWEST, _HIGHEST = 611.2, 22.064e6


@kernel
def bare_saturation_pressure(temperature):
    """Pressure [Pa] at which water boils at a temperature [°C]: equation 30."""
    kelvin = temperature + 273.15
    v = kelvin + _N9 / (kelvin - _N10)
    a = (v + _N1) * v + _N2
    b = (_N3 * v + _N4) * v + _N5
    c = (_N6 * v + _N7) * v + _N8
    root = 2.0 * c / (np.sqrt(b * b - 4.0 * a * c) - b)
    return 1e6 * (root * root) * (root * root)


@kernel
def bare_saturation_temperature(pressure):
    """Temperature [°C] at which water boils at a pressure [Pa]: equation 31."""
    beta = np.sqrt(np.sqrt(pressure * 1e-6))
    e = (beta + _N3) * beta + _N6
    f = (_N1 * beta + _N4) * beta + _N7
    g = (_N2 * beta + _N5) * beta + _N8
    d = 2.0 * g / (-f - np.sqrt(f * f - 4.0 * e * g))
    near = _N10 + d
    return 0.5 * (near - np.sqrt(near * near - 4.0 * (_N9 + _N10 * d))) - 273.15


def saturation_pressure(temperature):
    """Pressure at which water boils.

    Parameters
    ----------
    temperature : array_like
        Of the water [°C]; 0 to 373.946, the critical point.

    Returns
    -------
    float or ndarray
        Absolute pressure [Pa], in the shape of `temperature`.

    Raises
    ------
    OutOfRange
        If the temperature is outside the range above, or is not finite.

    Notes
    -----
    It is also the pressure of water vapour over water in damp air or flue gas at its dew point.

    References
    ----------
    [IAPWS R7-97] equation 30.

    Examples
    --------
    >>> print(f"{saturation_pressure(120.0) / 1e5:.3f} bar absolute")
    1.987 bar absolute
    """
    return bare_saturation_pressure(require(temperature, "temperature", "°C", at_least=0, at_most=_CRITICAL))


def saturation_temperature(pressure):
    """Temperature at which water boils.

    Parameters
    ----------
    pressure : array_like
        Absolute pressure of the water [Pa]; 611.2 to 22,064,000.

    Returns
    -------
    float or ndarray
        Boiling point [°C], in the shape of `pressure`.

    Raises
    ------
    OutOfRange
        If the pressure is outside the range above, or is not finite.

    Notes
    -----
    A vented store boils at the pressure of the air and of the water above the layer; a sealed one at the gauge
    pressure with the air's added.

    References
    ----------
    [IAPWS R7-97] equation 31.

    Examples
    --------
    >>> print(f"{saturation_temperature(101325.0):.2f} °C")
    99.97 °C
    """
    return bare_saturation_temperature(require(pressure, "pressure", "Pa", at_least=_LOWEST, at_most=_HIGHEST))
