"""What a solar collector makes of the light: gain, efficiency, the sun that is just worth it, and stagnation.

Eta0, a1 and a2 are the three numbers of a collector's test report. The excess is the mean temperature of the
fluid in the collector less that of the air.
"""

import numpy as np

from tlib.compiled import kernel
from tlib.validation import require

__all__ = [
    "bare_collector_gain", "collector_efficiency", "collector_gain", "critical_irradiance", "incidence_modifier",
    "stagnation_excess",
]  # fmt: skip

_GRAZING = np.cos(np.radians(80.0))


@kernel
def bare_collector_gain(irradiance, excess, eta0, a1, a2):
    """Return the heat that a square metre of collector makes [W/m2]: the formula alone, for the engine.

    Parameters
    ----------
    irradiance, excess, eta0, a1, a2 : float
        As in `collector_gain`, which checks them.

    Returns
    -------
    float
        Heat to the fluid [W/m2].

    References
    ----------
    [EN ISO 9806] steady-state efficiency.

    Examples
    --------
    >>> print(f"{bare_collector_gain(800.0, 40.0, 0.78, 3.5, 0.015):.0f}")
    460
    """
    return eta0 * irradiance - a1 * excess - a2 * excess * abs(excess)


def collector_gain(irradiance, excess, eta0, a1, a2):
    """Return the heat that a square metre of collector makes.

    Parameters
    ----------
    irradiance : array_like
        Light on the collector [W/m2]; 0 or more.
    excess : array_like
        Mean fluid temperature less air temperature [K].
    eta0 : array_like
        Efficiency with no excess [-]; above 0, to 1.
    a1 : array_like
        Loss coefficient [W/(m2 K)]; 0 or more.
    a2 : array_like
        Growth of the loss coefficient with excess [W/(m2 K2)]; 0 or more.

    Returns
    -------
    float or ndarray
        Heat to the fluid in the common (broadcast) shape [W/m2]; below 0 the collector cools it.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    References
    ----------
    [EN ISO 9806] steady-state efficiency.

    Notes
    -----
    Tests run with fluid warmer than air; colder fluid is taken to gain as warmer fluid would lose.

    Examples
    --------
    >>> gain = collector_gain(irradiance=700, excess=27, eta0=0.78, a1=3.9, a2=0.015)
    >>> print(f"{4 * gain:.0f} W from 4 square metres")
    1719 W from 4 square metres
    """
    eta0, a1, a2 = _report(eta0, a1, a2)
    irradiance = require(irradiance, "irradiance", "W/m2", at_least=0)
    return bare_collector_gain(irradiance, require(excess, "excess", "K"), eta0, a1, a2)


def collector_efficiency(irradiance, excess, eta0, a1, a2):
    """Return the share of the light that a collector turns into heat in its fluid.

    Parameters
    ----------
    irradiance : array_like
        Light on the collector [W/m2]; 0 or more.
    excess : array_like
        Mean fluid temperature less air temperature [K].
    eta0, a1, a2 : array_like
        The collector's test report, as for `collector_gain`.

    Returns
    -------
    float or ndarray
        Efficiency [-], in the common (broadcast) shape; below 0 the collector cools its fluid. Not defined, NaN,
        without light.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    References
    ----------
    [EN ISO 9806] steady-state efficiency.

    Examples
    --------
    >>> print(f"{collector_efficiency(irradiance=700, excess=27, eta0=0.78, a1=3.9, a2=0.015):.3f}")
    0.614
    """
    gain = collector_gain(irradiance, excess, eta0, a1, a2)
    irradiance = np.asarray(irradiance, dtype=float)
    return np.divide(gain, np.where(irradiance > 0.0, irradiance, np.nan))


def critical_irradiance(excess, eta0, a1, a2):
    """Return the light at which a collector only just makes up its own loss: below it the pump had better rest.

    Parameters
    ----------
    excess : array_like
        Mean fluid temperature less air temperature [K].
    eta0, a1, a2 : array_like
        The collector's test report, as for `collector_gain`.

    Returns
    -------
    float or ndarray
        Irradiance [W/m2], in the common (broadcast) shape; below 0 where the air alone warms the collector.

    Raises
    ------
    OutOfRange
        If an input is outside its range, or is not finite.

    References
    ----------
    [EN ISO 9806] steady-state efficiency, solved for no gain; [Duffie 2013] section 6.10 on the critical level.

    Examples
    --------
    >>> print(f"{critical_irradiance(excess=50, eta0=0.78, a1=3.9, a2=0.015):.0f} W/m2")
    298 W/m2
    """
    eta0, a1, a2 = _report(eta0, a1, a2)
    return -bare_collector_gain(0.0, require(excess, "excess", "K"), eta0, a1, a2) / eta0


def stagnation_excess(irradiance, eta0, a1, a2):
    """Return how far above the air a collector heats itself when nothing takes its heat away.

    Parameters
    ----------
    irradiance : array_like
        Light on the collector [W/m2]; 0 or more.
    eta0, a1, a2 : array_like
        The collector's test report, as for `collector_gain`; a1 above 0.

    Returns
    -------
    float or ndarray
        Temperature less that of the air [K], in the common (broadcast) shape.

    Raises
    ------
    OutOfRange
        If an input is outside its range, or is not finite.

    References
    ----------
    [EN ISO 9806] steady-state efficiency, solved for no gain.

    Notes
    -----
    Well above 100 °C on a bright day: the fluid boils, and what leaves a relief valve is steam. A test report may
    give a higher stagnation temperature, taken dry; the report holds.

    Examples
    --------
    >>> print(f"{stagnation_excess(irradiance=1000, eta0=0.78, a1=3.5, a2=0.012):.0f} K above the air")
    148 K above the air
    """
    eta0, a1, a2 = _report(eta0, require(a1, "a1", "W/(m2 K)", above=0), a2)
    absorbed = eta0 * require(irradiance, "irradiance", "W/m2", at_least=0)
    return 2.0 * absorbed / (a1 + np.sqrt(a1 * a1 + 4.0 * a2 * absorbed))


def incidence_modifier(incidence, b0=0.2):
    """Return what the glass still lets through when light comes in aslant.

    Parameters
    ----------
    incidence : array_like
        Angle of incidence [degree]; 0 to 180.
    b0 : array_like, optional
        Slant coefficient of the test report [-]; 0 to 0.21.

    Returns
    -------
    float or ndarray
        Share of the light that comes straight in, in the common (broadcast) shape [-]: 1 straight, 0 beyond 80
        degrees.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    References
    ----------
    [Duffie 2013] equation 6.17.10; the end at 80 degrees is common practice, no source.

    Examples
    --------
    >>> print(f"{incidence_modifier(60):.2f}")
    0.80
    """
    cosine = np.cos(np.radians(require(incidence, "incidence", "degree", at_least=0, at_most=180)))
    b0 = require(b0, "b0", "", at_least=0, at_most=0.21)
    aslant = 1.0 - b0 * (1.0 / np.maximum(cosine, _GRAZING) - 1.0)
    return np.where(cosine > _GRAZING, aslant, 0.0)[()]


def _report(eta0, a1, a2):
    return (
        require(eta0, "eta0", "", above=0, at_most=1),
        require(a1, "a1", "W/(m2 K)", at_least=0),
        require(a2, "a2", "W/(m2 K2)", at_least=0),
    )
