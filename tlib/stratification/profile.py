"""Measures of a profile's shape: how far a store is from perfectly layered, and how steady its layers are."""

import numpy as np

from tlib.validation import OutOfRange, require

__all__ = ["column", "mix_number", "richardson_number", "stratification_number", "thermocline_thickness"]

GRAVITY = 9.80665
"""Standard acceleration of free fall [m/s2]."""


def column(layers, name="layers"):
    """Return a profile as floats once it is known to be one: finite temperatures on a last axis.

    Parameters
    ----------
    layers : array_like
        Temperatures from the bottom up on the last axis [°C].
    name : str
        What the sentence calls it.

    Returns
    -------
    ndarray
        The profile as floats.

    Raises
    ------
    OutOfRange
        If it is a single number, has no layer, or holds a temperature that is not finite or below absolute zero.
    """
    layers = require(layers, name, "°C", above=-273.15)
    if np.ndim(layers) == 0 or np.shape(layers)[-1] == 0:
        raise OutOfRange(f"{name} must be a list of temperatures; got {np.asarray(layers).tolist()}.")
    return layers


def mix_number(layers, cold, hot):
    """Say how far a store is stirred: 0 is perfectly layered, 1 is fully mixed.

    Parameters
    ----------
    layers : array_like
        Temperatures from the bottom up on the last axis, shape (..., layers) [°C].
    cold, hot : array_like
        The fixed ends of the scale [°C], such as the mains and the source; hot not below cold. They broadcast with
        the leading axes of `layers`.

    Returns
    -------
    float or ndarray
        MIX number [-], without the last axis. Not defined, NaN, where no store of two zones at `cold` and `hot`
        holds the same heat: at one end of the scale or beyond it.

    Raises
    ------
    OutOfRange
        If a temperature is not finite, `hot` is below `cold`, or `layers` is a single number.

    References
    ----------
    [Davidson 1994] the MIX number; [Andersen 2007] the first moment of the heat as its measure.

    Notes
    -----
    ``(M2 - M) / (M2 - M1)`` with M the mean of temperature times height, M2 that of two zones at `hot` and `cold`
    with the edge where the heat is the same (inside a layer if need be), M1 that of the mean temperature
    everywhere. The ends must stay the same while profiles are compared: with its own coolest and warmest layer as
    ends a half-stirred store looks better than it is. Above 1 the store is upside down.

    Examples
    --------
    >>> print(f"{mix_number([35, 35, 38, 62, 74, 75], cold=35, hot=75):.3f}")
    0.045
    """
    layers, cold = column(layers), require(cold, "cold", "°C")
    span = require(np.subtract(require(hot, "hot", "°C"), cold), "hot less cold", "K", at_least=0)
    count = layers.shape[-1]
    heights = (np.arange(count) + 0.5) / count
    mean = layers.mean(axis=-1)
    with np.errstate(divide="ignore", invalid="ignore"):
        share = (mean - cold) / span
        moment = np.mean((layers - mean[..., np.newaxis]) * heights, axis=-1)
        mix = 1.0 - moment / (0.5 * span * share * (1.0 - share))
    return np.where((share > 0.0) & (share < 1.0), mix, np.nan)[()]


def stratification_number(layers, reference):
    """Compare the mean rise of temperature with height to that of a reference profile.

    Parameters
    ----------
    layers : array_like
        Temperatures from the bottom up on the last axis, shape (..., layers) [°C].
    reference : array_like
        The profile to compare with, such as that at the start [°C]; as many layers, leading axes that broadcast.

    Returns
    -------
    float or ndarray
        Stratification number [-]: 1 as the reference, 0 fully mixed; above 1 is possible. Not defined, NaN, where
        the reference has the same temperature at top and bottom.

    Raises
    ------
    OutOfRange
        If a temperature is not finite, either is a single number, or the layers differ in number.

    References
    ----------
    [Fernandez-Seara 2007] the definition.

    Notes
    -----
    The mean of the steps between layers is the top less the bottom, so the number is blind to what lies between.

    Examples
    --------
    >>> print(f"{stratification_number([30, 40, 50, 60], [20, 40, 60, 80]):.2f}")
    0.50
    """
    layers, reference = column(layers), column(reference, "reference")
    if layers.shape[-1] != reference.shape[-1]:
        raise OutOfRange(
            f"layers and reference must have as many layers; got {layers.shape[-1]} and {reference.shape[-1]}."
        )
    rise, reference_rise = layers[..., -1] - layers[..., 0], reference[..., -1] - reference[..., 0]
    return _ratio(rise, np.where(reference_rise == 0.0, np.nan, reference_rise))


def richardson_number(expansion, difference, height, speed):
    """Weigh the buoyancy that keeps layers apart against the motion that stirs them.

    Parameters
    ----------
    expansion : array_like
        Thermal expansion coefficient at the mean temperature [1/K].
    difference : array_like
        Temperature of the upper less that of the lower water [K]; below 0 the column is upside down.
    height : array_like
        The length chosen [m]; above 0.
    speed : array_like
        The speed chosen [m/s]; 0 or more.

    Returns
    -------
    float or ndarray
        Richardson number [-], in the common (broadcast) shape: without limit at rest; not defined, NaN, at rest
        without a difference.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    References
    ----------
    [Rendall 2021] review of the definitions in use.

    Notes
    -----
    Published limits for mixing range from below 0.25 to 100 because some take the whole height and the speed of the
    rising water, others the width and the speed of the inlet. Always say which height and which speed were used.

    Examples
    --------
    The whole height of a store with water rising at 1 cm/s:

    >>> print(f"{richardson_number(expansion=4.57e-4, difference=60, height=1.5, speed=0.01):.0f}")
    4033
    """
    expansion = require(expansion, "expansion", "1/K")
    difference = require(difference, "difference", "K")
    height = require(height, "height", "m", above=0)
    speed = require(speed, "speed", "m/s", at_least=0)
    return _ratio(GRAVITY * expansion * difference * height, np.square(speed))


def thermocline_thickness(layers, height, cold, hot):
    """Measure how thick the zone is in which a store goes from cold to hot.

    Parameters
    ----------
    layers : array_like
        Temperatures from the bottom up on the last axis, shape (..., layers) [°C].
    height : array_like
        Height of the store [m]; above 0.
    cold, hot : array_like
        The ends of the scale [°C]; hot above cold. With `height` they broadcast with the leading axes of `layers`.

    Returns
    -------
    float or ndarray
        Height between 10 % and 90 % of the way from cold to hot [m], without the last axis; the outermost places
        where a profile passes those levels more than once. Below 0 if the store is upside down. Not defined, NaN,
        if the profile does not pass both levels.

    Raises
    ------
    OutOfRange
        If an input is outside the range above or not finite, or `layers` is a single number.

    References
    ----------
    [Carslaw 1959] section 2.4: a step that only conducts is 3.625 times the root of diffusivity times time thick.

    Notes
    -----
    Temperature is taken as straight between the middles of layers, so nothing shows as thinner than 0.8 layers.

    Examples
    --------
    >>> print(f"{thermocline_thickness([20, 20, 30, 50, 70, 80, 80], height=1.4, cold=20, hot=80):.3f}")
    0.560
    """
    layers, height, cold = column(layers), require(height, "height", "m", above=0), require(cold, "cold", "°C")
    span = require(np.subtract(require(hot, "hot", "°C"), cold), "hot less cold", "K", above=0)
    share = (layers - np.expand_dims(cold, -1)) / np.expand_dims(span, -1)
    upside = share.shape[-1] - 1.0 - _lowest_place(share[..., ::-1], 0.9)
    return ((upside - _lowest_place(share, 0.1)) * height / share.shape[-1])[()]


def _lowest_place(share, level):
    """Return where along the last axis, counted in layers, a profile first passes a level; NaN if it never does."""
    below, above = share[..., :-1], share[..., 1:]
    passes = ((below - level) * (above - level) <= 0.0) & (below != above)
    if not passes.size:
        return np.full(share.shape[:-1], np.nan)
    first = passes.argmax(axis=-1, keepdims=True)
    start, step = (np.take_along_axis(part, first, axis=-1)[..., 0] for part in (below, above - below))
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(passes.any(axis=-1), first[..., 0] + (level - start) / step, np.nan)


def _ratio(numerator, denominator):
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.divide(numerator, denominator)
