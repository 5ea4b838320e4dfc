"""Films inside tubes, straight or wound to a helix: Nusselt numbers from Reynolds and Prandtl numbers."""

import numpy as np

from tlib.compiled import elementwise, kernel
from tlib.validation import require

__all__ = [
    "critical_reynolds_in_helix",
    "nusselt_dittus_boelter",
    "nusselt_gnielinski",
    "nusselt_in_helix",
    "nusselt_in_tube",
]

LAMINAR = 3.66
"""Nusselt number of developed laminar flow with one wall temperature, [Incropera] table 8.1."""
LAMINAR_TO, TURBULENT_FROM = 2300.0, 4000.0
"""Reynolds numbers between which `nusselt_in_tube` goes over in a straight line, after [Gnielinski 2013]."""
HELIX_FULLY_TURBULENT, HELIX_TO = 2.2e4, 1.5e5
TIGHTEST = 0.25
"""Bore over coil diameter of the tightest helix."""


@kernel
def smooth_friction(reynolds):
    """Darcy friction factor of a smooth tube by Petukhov, as Gnielinski's equation takes it."""
    return (0.79 * np.log(reynolds) - 1.64) ** -2


@kernel
def gnielinski(reynolds, prandtl, friction):
    """Nusselt number by Gnielinski; numbers are not checked."""
    eighth = friction / 8.0
    return eighth * (reynolds - 1000.0) * prandtl / (1.0 + 12.7 * np.sqrt(eighth) * (prandtl ** (2.0 / 3.0) - 1.0))


@kernel
def tube(reynolds, prandtl):
    """Nusselt number in a straight tube: laminar, a straight line, Gnielinski; numbers are not checked."""
    if reynolds <= LAMINAR_TO:
        return LAMINAR
    if reynolds >= TURBULENT_FROM:
        return gnielinski(reynolds, prandtl, smooth_friction(reynolds))
    share = (reynolds - LAMINAR_TO) / (TURBULENT_FROM - LAMINAR_TO)
    top = gnielinski(TURBULENT_FROM, prandtl, smooth_friction(TURBULENT_FROM))
    return (1.0 - share) * LAMINAR + share * top


@kernel
def helix_turns_turbulent(ratio):
    """Critical Reynolds number by Schmidt for bore over coil diameter; numbers are not checked."""
    return 2300.0 * (1.0 + 8.6 * ratio**0.45)


@kernel
def helix(reynolds, prandtl, ratio):
    """Nusselt number in a helix by Schmidt's three ranges; numbers are not checked."""
    if reynolds <= helix_turns_turbulent(ratio):
        power = 0.5 + 0.2903 * ratio**0.194
        return 3.65 + 0.08 * (1.0 + 0.8 * ratio**0.9) * reynolds**power * prandtl ** (1.0 / 3.0)
    if reynolds <= HELIX_FULLY_TURBULENT:
        gain, power = 14.8 * (1.0 + ratio) * ratio ** (1.0 / 3.0), 0.8 - 0.22 * ratio**0.1
    else:
        gain, power = 3.6 * (1.0 - ratio) * ratio**0.8, 0.8
    return 0.023 * (1.0 + gain) * reynolds**power * prandtl ** (1.0 / 3.0)


def nusselt_in_tube(reynolds, prandtl):
    """Return the Nusselt number of developed flow in a long, straight, smooth tube.

    Parameters
    ----------
    reynolds : array_like
        Reynolds number [-]; 0 to 5e6.
    prandtl : array_like
        Prandtl number of the water at its mean temperature [-]; 0.5 to 2000.

    Returns
    -------
    float or ndarray
        Nusselt number on the bore [-] in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    Up to 2300 laminar with one wall temperature, 3.66; from 4000 Gnielinski with the smooth-tube friction of
    Petukhov; between them a straight line in the Reynolds number, after Gnielinski 2013. Other books switch at
    2300 or at 10 000: between 2300 and 4000 no two agree, and nor do two tubes. The start of a tube does better.

    References
    ----------
    [Incropera] table 8.1, equations 8.21 and 8.62; [Gnielinski 2013].

    Examples
    --------
    >>> print(" ".join(f"{nu:.2f}" for nu in nusselt_in_tube([1500.0, 20000.0], 4.34)))
    3.66 122.20
    """
    reynolds = require(reynolds, "Reynolds number", "[-]", at_least=0, at_most=5e6)
    prandtl = require(prandtl, "Prandtl number", "[-]", at_least=0.5, at_most=2000)
    return elementwise(tube)(reynolds, prandtl)


def nusselt_gnielinski(reynolds, prandtl, friction):
    """Return the Nusselt number of turbulent flow in a tube whose friction factor is known.

    Parameters
    ----------
    reynolds : array_like
        Reynolds number [-]; 2300 to 5e6.
    prandtl : array_like
        Prandtl number [-]; 0.5 to 2000.
    friction : array_like
        Darcy friction factor [-]; above 0, up to 0.1.

    Returns
    -------
    float or ndarray
        Nusselt number on the bore [-] in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    References
    ----------
    [Incropera] equation 8.62.

    Examples
    --------
    >>> print(f"{nusselt_gnielinski(reynolds=1e5, prandtl=1.2, friction=0.0185):.1f}")
    254.6
    """
    reynolds = require(reynolds, "Reynolds number", "[-]", at_least=2300, at_most=5e6)
    prandtl = require(prandtl, "Prandtl number", "[-]", at_least=0.5, at_most=2000)
    friction = require(friction, "friction factor", "[-]", above=0, at_most=0.1)
    return gnielinski(reynolds, prandtl, friction)


def nusselt_dittus_boelter(reynolds, prandtl, exponent=0.4):
    """Return the Nusselt number of turbulent flow in a tube by the oldest rule in use.

    Parameters
    ----------
    reynolds : array_like
        Reynolds number [-]; 10 000 to 1.2e6.
    prandtl : array_like
        Prandtl number [-]; 0.6 to 160.
    exponent : array_like, optional
        0.4 where the wall heats the water, 0.3 where it cools it; 0.3 to 0.4.

    Returns
    -------
    float or ndarray
        Nusselt number on the bore [-] in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    Good to about 25 %. `nusselt_in_tube` holds for more flows and is the one this package uses.

    References
    ----------
    [Incropera] equation 8.60.

    Examples
    --------
    >>> print(f"{nusselt_dittus_boelter(reynolds=1e5, prandtl=1.2):.1f}")
    247.4
    """
    reynolds = require(reynolds, "Reynolds number", "[-]", at_least=1e4, at_most=1.2e6)
    prandtl = require(prandtl, "Prandtl number", "[-]", at_least=0.6, at_most=160)
    exponent = require(exponent, "exponent", "[-]", at_least=0.3, at_most=0.4)
    return 0.023 * reynolds**0.8 * prandtl**exponent


def critical_reynolds_in_helix(bore, coil_diameter):
    """Return the Reynolds number at which flow in a helix turns turbulent.

    Parameters
    ----------
    bore : array_like
        Inside diameter of the tube [m]; above 0, at most a quarter of the coil diameter.
    coil_diameter : array_like
        Diameter of the helix, from middle to middle of the tube [m]; above 0.

    Returns
    -------
    float or ndarray
        Critical Reynolds number [-] in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    Schmidt's rule. Bends calm the flow: a coil stays laminar at three times the flow of a straight tube. Ito's rule
    gives values about 3 % higher.

    References
    ----------
    [Schmidt 1967] critical Reynolds number.

    Examples
    --------
    >>> print(f"{critical_reynolds_in_helix(bore=0.020, coil_diameter=0.45):.0f}")
    7172
    """
    return helix_turns_turbulent(_curvature(bore, coil_diameter))


def nusselt_in_helix(reynolds, prandtl, bore, coil_diameter):
    """Return the Nusselt number of developed flow in a tube wound to a helix.

    Parameters
    ----------
    reynolds : array_like
        Reynolds number [-]; 0 to 150 000.
    prandtl : array_like
        Prandtl number of the water at its mean temperature [-]; 0.5 to 2000.
    bore : array_like
        Inside diameter of the tube [m]; above 0, at most a quarter of the coil diameter.
    coil_diameter : array_like
        Diameter of the helix, from middle to middle of the tube [m]; above 0.

    Returns
    -------
    float or ndarray
        Nusselt number on the bore [-] in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    Schmidt's three ranges: laminar up to `critical_reynolds_in_helix`, turbulent up to 22 000, and fully turbulent.
    At the critical number the rule steps up by about a third; the flow itself goes over more gently. Of two other
    accepted rules for hot-water coils, that of Xin and Ebadian lies about 15 % lower, the VDI atlas 15 % higher.

    References
    ----------
    [Schmidt 1967]; laminar range also [VDI 2002] section Gc equation 5, with 3.66 for 3.65.

    Examples
    --------
    >>> print(f"{nusselt_in_helix(reynolds=19312.0, prandtl=4.3386, bore=0.0202, coil_diameter=0.40):.1f}")
    135.7
    """
    reynolds = require(reynolds, "Reynolds number", "[-]", at_least=0, at_most=HELIX_TO)
    prandtl = require(prandtl, "Prandtl number", "[-]", at_least=0.5, at_most=2000)
    return elementwise(helix)(reynolds, prandtl, _curvature(bore, coil_diameter))


def _curvature(bore, coil_diameter):
    bore = require(bore, "bore", "m", above=0)
    coil_diameter = require(coil_diameter, "coil diameter", "m", above=0)
    return require(bore / coil_diameter, "bore over coil diameter", "[-]", at_most=TIGHTEST)
