"""What the heat in a store is worth: above a useful limit, at the tap, and as work that is lost by mixing."""

import numpy as np

from tlib.stratification.profile import column
from tlib.validation import require

__all__ = ["discharge_efficiency", "exergy", "stratification_efficiency", "usable_heat"]

ZERO_CELSIUS = 273.15
"""0 °C on the kelvin scale [K]."""

_SMALL = 0.02
_SERIES = [(-1) ** n / n for n in range(10, 1, -1)]


def usable_heat(layers, mass, limit, specific_heat=4186.8):
    """Return the heat that a store holds above a lowest useful temperature.

    Parameters
    ----------
    layers : array_like
        Temperatures from the bottom up on the last axis, equal layers, shape (..., layers) [°C].
    mass : array_like
        Mass of the whole store [kg]; above 0.
    limit : array_like
        Lowest useful temperature [°C]. With `mass` it broadcasts with the leading axes of `layers`.
    specific_heat : float, optional
        Specific heat [J/(kg K)]; the default is 1.163 Wh/(kg K).

    Returns
    -------
    float or ndarray
        Heat above `limit` in the layers that are warmer [J], without the last axis; layers below count nothing.

    Raises
    ------
    OutOfRange
        If an input is outside the range above or not finite, or `layers` is a single number.

    References
    ----------
    Common practice, no source.

    Examples
    --------
    The same mean, layered and stirred:

    >>> print(f"{usable_heat([35, 35, 35, 75, 75], mass=300, limit=40) / 3.6e6:.2f} kWh")
    4.88 kWh
    >>> print(f"{usable_heat([51, 51, 51, 51, 51], mass=300, limit=40) / 3.6e6:.2f} kWh")
    3.84 kWh
    """
    layers, mass = column(layers), require(mass, "mass", "kg", above=0)
    limit = np.expand_dims(require(limit, "limit", "°C"), -1)
    specific_heat = require(specific_heat, "specific heat", "J/(kg K)", above=0)
    return mass * specific_heat * np.mean(np.maximum(layers - limit, 0.0), axis=-1)


def exergy(layers, mass, dead_state, specific_heat=4186.8):
    """Return the most work that the heat in a store could do against its surroundings.

    Parameters
    ----------
    layers : array_like
        Temperatures from the bottom up on the last axis, equal layers, shape (..., layers) [°C].
    mass : array_like
        Mass of the whole store [kg]; above 0.
    dead_state : array_like
        Temperature at which the heat is worth nothing [°C]. With `mass` it broadcasts with the leading axes.
    specific_heat : float, optional
        Specific heat [J/(kg K)], the same at all temperatures.

    Returns
    -------
    float or ndarray
        Exergy [J], without the last axis; 0 only at the dead state. Water colder than that is worth something too.

    Raises
    ------
    OutOfRange
        If an input is outside the range above or not finite, or `layers` is a single number.

    References
    ----------
    [Rosen 2001] exergy of a store by its temperature profile.

    Examples
    --------
    The same heat, layered and stirred:

    >>> print(f"{exergy([20, 20, 60, 60], mass=300, dead_state=10) / 1e6:.3f} MJ")
    2.592 MJ
    >>> print(f"{exergy([40, 40, 40, 40], mass=300, dead_state=10) / 1e6:.3f} MJ")
    1.866 MJ
    """
    layers, mass = column(layers), require(mass, "mass", "kg", above=0)
    kelvin = ZERO_CELSIUS + require(dead_state, "dead state", "°C", above=-ZERO_CELSIUS)
    specific_heat = require(specific_heat, "specific heat", "J/(kg K)", above=0)
    rise = (layers + ZERO_CELSIUS) / np.expand_dims(kelvin, -1) - 1.0
    return mass * specific_heat * kelvin * np.mean(_less_log(rise), axis=-1)


def _less_log(x):
    """Return x less ln(1 + x), by its series where the two nearly cancel."""
    return np.where(np.abs(x) < _SMALL, np.polyval([*_SERIES, 0.0, 0.0], x), x - np.log1p(x))


def discharge_efficiency(outlet, drawn, layers, mass, cold, useful):
    """Return the share of a store's heat that came out while it was still hot enough.

    Parameters
    ----------
    outlet : array_like
        Temperature at the outlet in each step of a draw, shape (..., steps) [°C].
    drawn : array_like
        Mass drawn in each step [kg]; 0 or more, in a shape that broadcasts to that of `outlet`.
    layers : array_like
        Temperatures at the start from the bottom up, equal layers, shape (..., layers) [°C].
    mass : array_like
        Mass of the whole store [kg]; above 0.
    cold : array_like
        Temperature of the water that comes in [°C].
    useful : array_like
        Lowest outlet temperature that still counts [°C]. With `mass` and `cold` it broadcasts with leading axes.

    Returns
    -------
    float or ndarray
        Heat delivered above `cold` until the outlet first falls below `useful`, over the heat above `cold` at the
        start [-]. Not defined, NaN, if there was none.

    Raises
    ------
    OutOfRange
        If an input is outside the range above or not finite, or `outlet` or `layers` is a single number.

    References
    ----------
    [Li 2014] discharge efficiency by coil height.

    Notes
    -----
    Water left below the outlet, or below the coil, can never come out: say where both sit when stores are compared.

    Examples
    --------
    300 kg at 60 °C pushed out by water at 10 °C; the last tenth comes lukewarm:

    >>> outlet, drawn = [60] * 9 + [30], [30] * 10
    >>> print(f"{discharge_efficiency(outlet, drawn, [60, 60], mass=300, cold=10, useful=40):.2f}")
    0.90
    """
    outlet, layers = column(outlet, "outlet"), column(layers)
    drawn = require(drawn, "drawn", "kg", at_least=0)
    mass, cold = require(mass, "mass", "kg", above=0), require(cold, "cold", "°C")
    useful = np.expand_dims(require(useful, "useful", "°C"), -1)
    still = np.logical_and.accumulate(outlet >= useful, axis=-1)
    delivered = np.sum(np.where(still, drawn * (outlet - np.expand_dims(cold, -1)), 0.0), axis=-1)
    held = mass * (layers.mean(axis=-1) - cold)
    return np.divide(delivered, np.where(held > 0.0, held, np.nan))


def stratification_efficiency(destroyed, destroyed_mixed):
    """Compare the exergy that mixing destroyed with what a stirred store would have destroyed.

    Parameters
    ----------
    destroyed : array_like
        Exergy destroyed inside the store [J]: at the start, plus brought in, less taken out and lost through the
        walls, less at the end; 0 or more.
    destroyed_mixed : array_like
        The same for a store that is stirred all the time and has the same flows [J]; 0 or more.

    Returns
    -------
    float or ndarray
        Stratification efficiency [-], in the common (broadcast) shape: 1 with no mixing, 0 as bad as stirred.
        Not defined, NaN, if the stirred store destroys nothing.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    References
    ----------
    [Haller 2010] the ratio, there of entropy produced; [Sifnaios 2022] internal exergy destruction.

    Notes
    -----
    Exergy that leaves with the loss through the walls is no mixing: take it off first, or insulation is judged too.

    Examples
    --------
    >>> print(f"{stratification_efficiency(destroyed=0.15e6, destroyed_mixed=0.60e6):.2f}")
    0.75
    """
    destroyed = require(destroyed, "destroyed exergy", "J", at_least=0)
    stirred = require(destroyed_mixed, "exergy destroyed by the stirred store", "J", at_least=0)
    return (1.0 - np.divide(destroyed, np.where(stirred > 0.0, stirred, np.nan)))[()]
