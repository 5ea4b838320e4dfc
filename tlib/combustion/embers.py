"""A charge of logs with a bed of embers: most of it flames away, and a part glows on for longer."""

from tlib.combustion.burning import BURN_TIME_LEAVES, bare_burnt_share, bare_time_scale
from tlib.compiled import elementwise, kernel
from tlib.validation import require

__all__ = ["burnt_share_with_embers", "time_scale_with_embers"]

# Our model. Two terms of about 70/30 are common in models of batch burning; the shapes are from memory.
EMBERS = 0.3
"""Share of the charge's heat that comes from the embers [-]."""
SLOWER = 2.0
"""Time scale of the embers over that of the flames [-]."""
EMBER_SHAPE = 1.2
"""Shape of the embers' burn [-]: near 1, at which a glow dies away in proportion to what is left of it."""
_HALVINGS = 60


@kernel
def bare_burnt_share_with_embers(age, time_scale, shape, embers, slower):
    """Return the share of a charge with embers that is burnt by an age [-]; numbers are not checked."""
    glowing = bare_burnt_share(age, slower * time_scale, EMBER_SHAPE)
    return (1.0 - embers) * bare_burnt_share(age, time_scale, shape) + embers * glowing


@kernel
def bare_time_scale_with_embers(burn_time, shape, embers, slower):
    """Return the time scale with which 95 % is burnt at the burn time [s], by halving; numbers are not checked."""
    flames_alone = bare_time_scale(burn_time, shape)
    if embers == 0.0:
        return flames_alone
    embers_alone = bare_time_scale(burn_time, EMBER_SHAPE) / slower
    short, long = min(flames_alone, embers_alone), max(flames_alone, embers_alone)
    for _ in range(_HALVINGS):
        middle = 0.5 * (short + long)
        if bare_burnt_share_with_embers(burn_time, middle, shape, embers, slower) > 1.0 - BURN_TIME_LEAVES:
            short = middle
        else:
            long = middle
    return 0.5 * (short + long)


def burnt_share_with_embers(age, time_scale, shape=1.8, embers=EMBERS, slower=SLOWER):
    """Share of a charge of logs that has burnt by a given age, if a part of it glows on as embers.

    Parameters
    ----------
    age : array_like
        Time since the charge was lit, counted at the rated air setting [s]; 0 or more.
    time_scale : array_like
        Time scale of the flames, as from `time_scale_with_embers` [s]; above 0.
    shape : array_like, optional
        Shape of the flames' burn, as in `burnt_share` [-]; 1 to 4.
    embers : array_like, optional
        Share of the charge's heat that comes from the embers [-]; 0 to 1. At 0 this is `burnt_share`.
    slower : array_like, optional
        Time scale of the embers over that of the flames [-]; 1 to 10.

    Returns
    -------
    float or ndarray
        Burnt share [-], 0 to 1, in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    ``(1 - embers) W(age; time_scale, shape) + embers W(age; slower * time_scale, 1.2)`` with the Weibull form ``W`` of
    `burnt_share`. Both terms begin when the charge is lit. It counts heat, not weight: charcoal holds more heat in each
    kilogram than wood.

    References
    ----------
    [Weibull 1951] the distribution; two terms for flames and embers are our model, not a published burn curve.

    Examples
    --------
    >>> scale = time_scale_with_embers(burn_time=3 * 3600.0)
    >>> print(f"{burnt_share_with_embers(1.5 * 3600.0, scale):.2f}")
    0.80
    """
    age = require(age, "age of the fire", "s", at_least=0)
    time_scale = require(time_scale, "time scale", "s", above=0)
    return bare_burnt_share_with_embers(age, time_scale, *_checked(shape, embers, slower))


def time_scale_with_embers(burn_time, shape=1.8, embers=EMBERS, slower=SLOWER):
    """Time scale of a burn with embers of which the burn time is known.

    Parameters
    ----------
    burn_time : array_like
        Time in which 95 % of the charge's heat is given, embers and all [s]; above 0. This is our definition.
    shape, embers, slower : array_like, optional
        As in `burnt_share_with_embers`.

    Returns
    -------
    float or ndarray
        Time scale of the flames [s], in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    Found by halving between the time scales of the flames alone and of the embers alone.

    References
    ----------
    [Weibull 1951] the distribution; the 95 % is our definition.

    Examples
    --------
    >>> print(f"{time_scale_with_embers(burn_time=3 * 3600.0) / 60.0:.0f} min")
    55 min
    """
    burn_time = require(burn_time, "burn time", "s", above=0)
    return elementwise(bare_time_scale_with_embers)(burn_time, *_checked(shape, embers, slower))


def _checked(shape, embers, slower):
    shape = require(shape, "shape of the burn", "(a plain number)", at_least=1, at_most=4)
    embers = require(embers, "share of the embers", "(a plain number)", at_least=0, at_most=1)
    return shape, embers, require(slower, "slowness of the embers", "(a plain number)", at_least=1, at_most=10)
