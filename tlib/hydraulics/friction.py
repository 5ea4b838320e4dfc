"""Friction of water in a pipe: from smooth, slow flow to rough, fast flow. Friction factors are Darcy's."""

import math

import numpy as np

from tlib.compiled import elementwise, kernel
from tlib.hydraulics.tubes import bore_area
from tlib.validation import require
from tlib.water_properties import density, viscosity

__all__ = [
    "flow_at_drop",
    "friction_factor",
    "haaland_friction_factor",
    "pressure_drop",
    "reynolds_number",
    "swamee_jain_friction_factor",
    "water_speed",
]

LAMINAR_UP_TO, TURBULENT_FROM = 2000.0, 4000.0
"""Reynolds numbers between which the flow may be either, and the factor goes straight from one law to the other."""

_FASTEST, _ROUGHEST = 1e8, 0.05  # where the Moody chart ends
_HEAVIEST = 1000.0  # kg/s; far beyond any house
_NEWTON_STEPS = 4  # from the explicit estimate, three reach the last digit
_DROP_EXPONENT = 1.8  # between 1 of laminar and 2 of rough flow; it only sets how fast the search closes in
_SEARCH_STEPS = 200


@kernel
def bare_haaland(reynolds, relative_roughness):
    """Return Haaland's explicit friction factor [-]."""
    root = -1.8 * np.log10((relative_roughness / 3.7) ** 1.11 + 6.9 / reynolds)
    return 1.0 / (root * root)


@kernel
def bare_colebrook(reynolds, relative_roughness):
    """Return the friction factor of Colebrook and White, by Newton's method from Haaland's estimate [-]."""
    rough, smooth = relative_roughness / 3.7, 2.51 / reynolds
    root = 1.0 / math.sqrt(bare_haaland(reynolds, relative_roughness))
    for _ in range(_NEWTON_STEPS):
        inside = rough + smooth * root
        slope = 1.0 + 2.0 * smooth / (inside * math.log(10.0))
        root -= (root + 2.0 * math.log10(inside)) / slope
    return 1.0 / (root * root)


@kernel
def bare_friction_factor(reynolds, relative_roughness):
    """Return the friction factor of any flow: laminar, turbulent, and the straight line between the two [-]."""
    if reynolds <= LAMINAR_UP_TO:
        return 64.0 / reynolds
    if reynolds >= TURBULENT_FROM:
        return bare_colebrook(reynolds, relative_roughness)
    laminar = 64.0 / LAMINAR_UP_TO
    turbulent = bare_colebrook(TURBULENT_FROM, relative_roughness)
    share = (reynolds - LAMINAR_UP_TO) / (TURBULENT_FROM - LAMINAR_UP_TO)
    return laminar + share * (turbulent - laminar)


@kernel
def bare_pressure_drop(mass_flow, bore, length, fittings, density, viscosity, roughness):
    """Return the pressure a flow uses up; it has the sign of the flow [Pa]."""
    if mass_flow == 0.0:
        return 0.0
    speed = 4.0 * abs(mass_flow) / (math.pi * bore * bore * density)
    factor = bare_friction_factor(density * speed * bore / viscosity, roughness / bore)
    drop = (factor * length / bore + fittings) * 0.5 * density * speed * speed
    return math.copysign(drop, mass_flow)


@kernel
def bare_flow_at_drop(drop, bore, length, fittings, density, viscosity, roughness):
    """Return the flow that uses up a pressure; it has the sign of the pressure [kg/s]."""
    if drop == 0.0:
        return 0.0
    flow = math.pi * bore * viscosity * 1000.0  # Reynolds number 4000
    for _ in range(_SEARCH_STEPS):
        used = bare_pressure_drop(flow, bore, length, fittings, density, viscosity, roughness)
        step = (abs(drop) / used) ** (1.0 / _DROP_EXPONENT)
        flow *= step
        if abs(step - 1.0) < 1e-14:
            break
    return math.copysign(flow, drop)


def _checked_factor_inputs(reynolds, relative_roughness, above):
    reynolds = require(reynolds, "Reynolds number", "(a plain number)", above=above, at_most=_FASTEST)
    rough = require(relative_roughness, "relative roughness", "of the bore", at_least=0, at_most=_ROUGHEST)
    return reynolds, rough


def friction_factor(reynolds, relative_roughness=0.0):
    """Darcy friction factor of flow in a round pipe.

    Parameters
    ----------
    reynolds : array_like
        Reynolds number [-]; above 0, no more than 1e8.
    relative_roughness : array_like, optional
        Roughness of the wall over the bore [-]; 0 to 0.05.

    Returns
    -------
    float or ndarray
        Darcy friction factor [-], four times Fanning's, in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    Laminar ``64 / Re`` up to 2000; Colebrook and White from 4000; between the two a straight line from one end value
    to the other, so that the factor is continuous and rises steadily. Real flow there may be of either kind and may
    flicker, so no formula is right to better than some tens of per cent: our line is a convention.

    References
    ----------
    [Colebrook 1939] equation for the transition region; [White 2011] equations 6.13 and 6.48, Moody chart.

    Examples
    --------
    >>> print(f"{friction_factor(1000.0):.3f} {friction_factor(1e5, 1e-4):.4f}")
    0.064 0.0185
    """
    return elementwise(bare_friction_factor)(*_checked_factor_inputs(reynolds, relative_roughness, above=0))


def haaland_friction_factor(reynolds, relative_roughness=0.0):
    """Darcy friction factor of turbulent flow by Haaland's explicit formula: no search needed.

    Parameters
    ----------
    reynolds : array_like
        Reynolds number [-]; above 2300, no more than 1e8.
    relative_roughness : array_like, optional
        Roughness of the wall over the bore [-]; 0 to 0.05.

    Returns
    -------
    float or ndarray
        Darcy friction factor [-], in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    Within about 1.5 % of Colebrook and White.

    References
    ----------
    [Haaland 1983]; [White 2011] equation 6.49.

    Examples
    --------
    >>> print(f"{haaland_friction_factor(1e5, 1e-4):.4f}")
    0.0183
    """
    return bare_haaland(*_checked_factor_inputs(reynolds, relative_roughness, above=2300))


def swamee_jain_friction_factor(reynolds, relative_roughness=0.0):
    """Darcy friction factor of turbulent flow by the explicit formula of Swamee and Jain.

    Parameters
    ----------
    reynolds : array_like
        Reynolds number [-]; above 2300, no more than 1e8. The authors state 5000 and more.
    relative_roughness : array_like, optional
        Roughness of the wall over the bore [-]; 0 to 0.05. The authors state 1e-6 to 0.01.

    Returns
    -------
    float or ndarray
        Darcy friction factor [-], in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    Within about 3 % of Colebrook and White over the authors' range, and 3.5 % over ours from 4000 up.

    References
    ----------
    [Swamee 1976] explicit equation for the friction factor.

    Examples
    --------
    >>> print(f"{swamee_jain_friction_factor(1e5, 1e-4):.4f}")
    0.0185
    """
    reynolds, rough = _checked_factor_inputs(reynolds, relative_roughness, above=2300)
    return 0.25 / np.log10(rough / 3.7 + 5.74 / reynolds**0.9) ** 2


def checked_pipe(bore, length, fittings, roughness):
    """Return the numbers of a pipe as floats, or refuse the first that is out of range."""
    bore_area(bore)  # refuses a bore that is none
    length = require(length, "length", "m", at_least=0)
    fittings = require(fittings, "sum of the fittings' resistance coefficients", "(a plain number)", at_least=0)
    roughness = require(roughness, "roughness", "m", at_least=0)
    bore = np.asarray(bore, dtype=float)[()]
    require(roughness / bore, "relative roughness", "of the bore", at_most=_ROUGHEST)
    return bore, length, fittings, roughness


def _checked_flow(mass_flow):
    return require(mass_flow, "mass flow", "kg/s", at_least=-_HEAVIEST, at_most=_HEAVIEST)


def water_speed(mass_flow, bore, temperature=60.0):
    """Mean speed of water in a pipe.

    Parameters
    ----------
    mass_flow : array_like
        Flow [kg/s]; its sign is its direction.
    bore : array_like
        Inside diameter [m]; above 0, no more than 1.
    temperature : array_like, optional
        Of the water [°C]; as `tlib.water_properties.density` allows at the pressure of the air.

    Returns
    -------
    float or ndarray
        Speed [m/s], in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    References
    ----------
    [White 2011] section 3.3, conservation of mass.

    Examples
    --------
    Ten kilowatts at a drop of 15 K, in 28 mm copper:

    >>> print(f"{water_speed(mass_flow=0.1592, bore=0.0262, temperature=67.5):.2f} m/s")
    0.30 m/s
    """
    return _checked_flow(mass_flow) / (density(temperature) * bore_area(bore))


def reynolds_number(mass_flow, bore, temperature=60.0):
    """Reynolds number of water in a pipe.

    Parameters
    ----------
    mass_flow : array_like
        Flow [kg/s]; its direction does not matter.
    bore : array_like
        Inside diameter [m]; above 0, no more than 1.
    temperature : array_like, optional
        Of the water [°C]; as `tlib.water_properties.viscosity` allows at the pressure of the air.

    Returns
    -------
    float or ndarray
        Reynolds number [-], in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    References
    ----------
    [White 2011] equation 6.1.

    Examples
    --------
    >>> print(f"{reynolds_number(mass_flow=0.1592, bore=0.0262, temperature=67.5):.0f}")
    18518
    """
    bore_area(bore)
    return 4.0 * np.abs(_checked_flow(mass_flow)) / (np.pi * np.asarray(bore) * viscosity(temperature))


def pressure_drop(mass_flow, bore, length, fittings=0.0, temperature=60.0, roughness=1.5e-6):
    """Pressure that water uses up in a pipe with its fittings.

    Parameters
    ----------
    mass_flow : array_like
        Flow [kg/s]; its sign is its direction.
    bore : array_like
        Inside diameter [m]; above 0, no more than 1.
    length : array_like
        Length of pipe [m]; 0 or more.
    fittings : array_like, optional
        Sum of the resistance coefficients of the fittings, on the speed in this pipe [-]; 0 or more.
    temperature : array_like, optional
        Of the water [°C]; as `tlib.water_properties.viscosity` allows at the pressure of the air.
    roughness : array_like, optional
        Of the wall [m]; 0 to a twentieth of the bore. New drawn copper has 0.0015 mm.

    Returns
    -------
    float or ndarray
        Pressure drop [Pa], of the sign of the flow, in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    Darcy and Weisbach, with `friction_factor`. Steady, fully developed flow; heights cancel in a closed circuit.

    References
    ----------
    [White 2011] equations 6.10 and 6.78.

    Examples
    --------
    >>> drop = pressure_drop(mass_flow=0.2, bore=0.0202, length=1.0, temperature=70.0)
    >>> print(f"{drop:.0f} Pa")
    231 Pa
    """
    mass_flow = _checked_flow(mass_flow)
    bore, length, fittings, roughness = checked_pipe(bore, length, fittings, roughness)
    return elementwise(bare_pressure_drop)(
        mass_flow, bore, length, fittings, density(temperature), viscosity(temperature), roughness
    )


def flow_at_drop(drop, bore, length, fittings=0.0, temperature=60.0, roughness=1.5e-6):
    """Flow that a given push drives through a pipe with its fittings: `pressure_drop` read backwards.

    Parameters
    ----------
    drop : array_like
        Pressure difference between the ends [Pa]; -1e7 to 1e7. Its sign is the direction of the flow.
    bore, length, fittings, temperature, roughness : array_like
        As in `pressure_drop`; length and fittings not both 0.

    Returns
    -------
    float or ndarray
        Mass flow [kg/s], in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    References
    ----------
    [White 2011] section 6.7, flow rate for a given head loss.

    Examples
    --------
    >>> flow = flow_at_drop(drop=231.4, bore=0.0202, length=1.0, temperature=70.0)
    >>> print(f"{flow:.2f} kg/s")
    0.20 kg/s
    """
    drop = require(drop, "pressure difference", "Pa", at_least=-1e7, at_most=1e7)
    bore, length, fittings, roughness = checked_pipe(bore, length, fittings, roughness)
    require(length / bore + fittings, "length over bore plus fittings", "(a plain number)", above=0)
    return elementwise(bare_flow_at_drop)(
        drop, bore, length, fittings, density(temperature), viscosity(temperature), roughness
    )
