"""Two streams become one: the shares of hot and cold in a blending or loading valve."""

import numpy as np

from tlib.compiled import elementwise, kernel
from tlib.validation import require

__all__ = ["hot_share", "mixed_temperature", "valve_opening", "valve_share"]

_COLDEST, _HOTTEST = -40.0, 200.0  # what flows in heating and solar circuits [°C]


@kernel
def bare_hot_share(hot, cold, mixed):
    """Return the share of hot water in a mixture [-]."""
    return (mixed - cold) / (hot - cold)


def hot_share(hot, cold, mixed):
    """Share of hot water in a mixture of a wanted temperature.

    Parameters
    ----------
    hot, cold : array_like
        Temperatures of the two streams [°C]; hot above cold.
    mixed : array_like
        Temperature wanted [°C]; from cold to hot.

    Returns
    -------
    float or ndarray
        Hot water as a share of the mixture, by mass [-], 0 to 1, in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite: no mixture can be hotter or colder than both streams.

    Notes
    -----
    Both streams are taken to have the same specific heat; between 10 and 85 °C this is true to half a percent. The
    same sum gives the share that a loading valve sends round again: hot is the burner's flow, cold the store's
    return, mixed the wanted burner return.

    References
    ----------
    [EU 814/2013] annex I, mixed water at 40 °C rests on the same balance.

    Examples
    --------
    >>> print(f"{hot_share(hot=62.0, cold=10.0, mixed=48.0):.3f}")
    0.731
    """
    hot, cold = _streams(hot, cold)
    mixed = require(mixed, "mixed temperature", "°C", at_least=_COLDEST, at_most=_HOTTEST)
    require(mixed - cold, "mixed temperature less cold temperature", "K", at_least=0)
    require(hot - mixed, "hot temperature less mixed temperature", "K", at_least=0)
    return bare_hot_share(hot, cold, mixed)


def _streams(hot, cold):
    hot = require(hot, "hot temperature", "°C", at_least=_COLDEST, at_most=_HOTTEST)
    cold = require(cold, "cold temperature", "°C", at_least=_COLDEST, at_most=_HOTTEST)
    require(hot - cold, "hot temperature less cold temperature", "K", above=0)
    return hot, cold


def mixed_temperature(share, hot, cold):
    """Temperature of a mixture of two streams.

    Parameters
    ----------
    share : array_like
        Hot water as a share of the mixture, by mass [-]; 0 to 1.
    hot, cold : array_like
        Temperatures of the two streams [°C]; -40 to 200. Either may be the hotter one.

    Returns
    -------
    float or ndarray
        Temperature [°C], in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    Equal specific heat, as in `hot_share`.

    References
    ----------
    [EU 814/2013] annex I, mixed water at 40 °C rests on the same balance.

    Examples
    --------
    A quarter of the store at 80 °C, stirred into three quarters at 20 °C:

    >>> print(f"{mixed_temperature(0.25, 80.0, 20.0):.0f} °C")
    35 °C
    """
    share = require(share, "share of hot water", "of the mixture", at_least=0, at_most=1)
    hot = require(hot, "hot temperature", "°C", at_least=_COLDEST, at_most=_HOTTEST)
    cold = require(cold, "cold temperature", "°C", at_least=_COLDEST, at_most=_HOTTEST)
    return share * hot + (1.0 - share) * cold


@kernel
def bare_valve_share(hot, cold, wanted):
    """Return the hot share that an ideal valve takes; it stops at its ends [-]."""
    if hot <= cold:
        return 1.0 if hot < wanted else 0.0
    return min(1.0, max(0.0, (wanted - cold) / (hot - cold)))


def valve_share(hot, cold, wanted):
    """Hot share that an ideal thermostatic valve settles at; it saturates, as the real one does.

    Parameters
    ----------
    hot, cold : array_like
        Temperatures at the valve's two ports [°C]; -40 to 200.
    wanted : array_like
        Its setting [°C]; 0 to 100.

    Returns
    -------
    float or ndarray
        Share taken from the hot port [-], 0 to 1, in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    Between its ends this is `hot_share`. With the hot port no warmer than the cold one the valve stands at an end:
    open to the hot port while that is below the setting, else shut to it. A real valve also needs some difference
    between hot and mixed water to work at all; see its instructions.

    References
    ----------
    The balance of `hot_share`; a valve that stops at its ends is common practice, no source.

    Examples
    --------
    >>> print(f"{valve_share(hot=80.0, cold=30.0, wanted=60.0):.1f}", f"{valve_share(45.0, 10.0, 48.0):.1f}")
    0.6 1.0
    """
    hot = require(hot, "hot temperature", "°C", at_least=_COLDEST, at_most=_HOTTEST)
    cold = require(cold, "cold temperature", "°C", at_least=_COLDEST, at_most=_HOTTEST)
    wanted = require(wanted, "valve setting", "°C", at_least=0, at_most=100)
    return elementwise(bare_valve_share)(hot, cold, wanted)


@kernel
def bare_valve_opening(temperature, opens, band):
    """Return the travel of a thermostatic element [-]."""
    return np.minimum(1.0, np.maximum(0.0, (temperature - opens) / band))


def valve_opening(temperature, opens, band):
    """Return the opening of a thermostatic loading valve at a steady temperature of its element.

    Parameters
    ----------
    temperature : array_like
        Of the element [°C]; -40 to 200.
    opens : array_like
        Temperature at which it starts to open [°C]; 0 to 100.
    band : array_like
        Degrees from shut to fully open [K]; above 0. About 10 K is common.

    Returns
    -------
    float or ndarray
        Opening to the store [-], 0 to 1, in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    References
    ----------
    Straight travel between two ends is common practice, no source; use the figures of the appliance's instructions.

    Examples
    --------
    >>> print(f"{valve_opening(65.0, opens=60.0, band=10.0):.1f}")
    0.5
    """
    temperature = require(temperature, "element temperature", "°C", at_least=_COLDEST, at_most=_HOTTEST)
    opens = require(opens, "opening temperature", "°C", at_least=0, at_most=100)
    band = require(band, "band of the valve", "K", above=0)
    return bare_valve_opening(temperature, opens, band)
