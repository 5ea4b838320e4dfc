"""Circulation without a pump: warm water rises, cool water falls, until push and friction are equal."""

import numpy as np

from tlib.compiled import elementwise, kernel
from tlib.hydraulics.friction import bare_pressure_drop, checked_pipe
from tlib.hydraulics.tubes import bore_area
from tlib.validation import OutOfRange, require
from tlib.water_properties import bare_density, bare_viscosity, density

__all__ = ["gravity_flow", "gravity_flow_at_constant_resistance", "gravity_flow_from", "gravity_head"]

GRAVITY = 9.81
"""As taught and as the hand sums use it [m/s2]."""

WATER_HEAT = 4186.8
"""Specific heat of the taught sums [J/(kg K)]: 1.163 Wh for each kilogram and kelvin."""

HOTTEST, COLDEST = 99.9, 4.0
"""Between these, warmer water is lighter and does not boil at the pressure of the air [°C]."""

_LOOP_EXPONENT = 2.8  # push falls with the flow, friction grows with its 1.8th power; it only sets the search's pace
_SEARCH_STEPS = 200


def gravity_head(flow_temperature, return_temperature, height):
    """Pressure that drives a circuit because its rising water is warmer than its falling water.

    Parameters
    ----------
    flow_temperature, return_temperature : array_like
        Of the rising and the falling water [°C]; 0.01 to 99.9.
    height : array_like
        Middle of what cools the water above the middle of what warms it [m]; -100 to 100.

    Returns
    -------
    float or ndarray
        Driving pressure [Pa], in the common shape of the inputs; below 0 it drives the water backwards.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    ``g (density of return - density of flow) height``, each leg at one temperature.

    References
    ----------
    [Gravity table] circulating pressure for each metre; [White 2011] section 2.3, hydrostatics.

    Examples
    --------
    >>> print(f"{gravity_head(flow_temperature=80.0, return_temperature=60.0, height=2.0):.0f} Pa")
    224 Pa
    """
    height = require(height, "height", "m", at_least=-100, at_most=100)
    flow_temperature = require(flow_temperature, "flow temperature", "°C", at_least=0.01, at_most=HOTTEST)
    return_temperature = require(return_temperature, "return temperature", "°C", at_least=0.01, at_most=HOTTEST)
    return GRAVITY * (density(return_temperature) - density(flow_temperature)) * height


@kernel
def bare_loop(mass_flow, power, known, sign, height, bore, length, fittings, roughness):
    """Return push and friction of a loop at a flow [Pa]; `sign` is 1 if the return is known, -1 if the flow is."""
    other = known + sign * power / (WATER_HEAT * mass_flow)
    push = GRAVITY * height * sign * (bare_density(known) - bare_density(other))
    mean = 0.5 * (known + other)
    used = bare_pressure_drop(mass_flow, bore, length, fittings, bare_density(mean), bare_viscosity(mean), roughness)
    return push, used


@kernel
def bare_gravity_flow(power, known, sign, height, bore, length, fittings, roughness):
    """Return the flow at which push equals friction [kg/s]: 0 without a push, NaN if none is found in liquid water."""
    if height <= 0.0 or power <= 0.0:
        return 0.0
    limit = HOTTEST if sign > 0.0 else COLDEST
    least = sign * power / (WATER_HEAT * (limit - known))
    flow = least
    for _ in range(_SEARCH_STEPS):
        push, used = bare_loop(flow, power, known, sign, height, bore, length, fittings, roughness)
        step = (push / used) ** (1.0 / _LOOP_EXPONENT)
        if flow == least and step < 1.0:
            return np.nan
        flow = max(least, flow * step)
        if abs(step - 1.0) < 1e-13:
            break
    return flow


def _checked_loop(power, height, bore, length, fittings, roughness):
    power = require(power, "power", "W", at_least=0)
    height = require(height, "height", "m", at_least=-100, at_most=100)
    bore, length, fittings, roughness = checked_pipe(bore, length, fittings, roughness)
    require(length / bore + fittings, "length over bore plus fittings", "(a plain number)", above=0)
    return power, height, bore, length, fittings, roughness


def _settled(flow, fate):
    if np.any(np.isnan(flow)):
        raise OutOfRange(f"power must be what gravity carries before the water {fate}; it is too much for this pipe.")
    return flow


def gravity_flow(power, return_temperature, height, bore, length, fittings, roughness=1.5e-6):
    """Flow that settles in a circuit without a pump, when the heat it carries and the return temperature are known.

    Parameters
    ----------
    power : array_like
        Heat carried [W]; 0 or more.
    return_temperature : array_like
        Of the falling water [°C]; 4 to 95.
    height : array_like
        Middle of what cools the water above the middle of what warms it [m]; -100 to 100.
    bore : array_like
        Inside diameter of the pipe [m]; above 0, no more than 1.
    length : array_like
        Length of pipe, there and back [m]; 0 or more.
    fittings : array_like
        Sum of the resistance coefficients of the fittings [-]; 0 or more, and not 0 with `length`.
    roughness : array_like, optional
        Of the wall [m]; 0 to a twentieth of the bore.

    Returns
    -------
    float or ndarray
        Mass flow [kg/s], in the common shape of the inputs; 0 where there is no height to drive it.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite, or the rising water would boil before the push is
        enough to carry the power.

    Notes
    -----
    Push equals friction. Each leg has one temperature; friction is counted at the mean of the two, the heat with
    1.163 Wh for each kilogram and kelvin. No flow means that the heat stays in the burner, which then boils: a heat
    leak needs height, no valve that can shut, and the appliance's own instructions.

    References
    ----------
    [White 2011] equations 6.10 and 6.78 for the friction; the balance is that of `gravity_head`.

    Examples
    --------
    >>> flow = gravity_flow(1500.0, return_temperature=77.4, height=2.0, bore=0.0262, length=10.0, fittings=12.0)
    >>> print(f"{3600 * flow:.0f} l/h")
    166 l/h
    """
    loop = _checked_loop(power, height, bore, length, fittings, roughness)
    known = require(return_temperature, "return temperature", "°C", at_least=COLDEST, at_most=95)
    return _settled(elementwise(bare_gravity_flow)(loop[0], known, 1.0, *loop[1:]), "boils")


def gravity_flow_from(power, flow_temperature, height, bore, length, fittings, roughness=1.5e-6):
    """Flow that settles in a circuit without a pump, when the heat it carries and the flow temperature are known.

    Parameters
    ----------
    power : array_like
        Heat carried [W]; 0 or more.
    flow_temperature : array_like
        Of the rising water [°C]; 10 to 99.9.
    height, bore, length, fittings, roughness : array_like
        As in `gravity_flow`.

    Returns
    -------
    float or ndarray
        Mass flow [kg/s], in the common shape of the inputs; 0 where there is no height to drive it.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite, or the falling water would be colder than 4 °C before
        the push is enough to carry the power.

    Notes
    -----
    As `gravity_flow`, with the other end of the loop known.

    References
    ----------
    [White 2011] equations 6.10 and 6.78 for the friction; the balance is that of `gravity_head`.

    Examples
    --------
    >>> flow = gravity_flow_from(1500.0, flow_temperature=85.0, height=2.0, bore=0.0262, length=10.0, fittings=12.0)
    >>> print(f"{3600 * flow:.0f} l/h")
    166 l/h
    """
    loop = _checked_loop(power, height, bore, length, fittings, roughness)
    known = require(flow_temperature, "flow temperature", "°C", at_least=10, at_most=HOTTEST)
    return _settled(elementwise(bare_gravity_flow)(loop[0], known, -1.0, *loop[1:]), "comes back at 4 °C")


def gravity_flow_at_constant_resistance(power, height, bore, resistance, expansion=5e-4, density=985.0):
    """Flow that settles in a circuit without a pump, if its resistance did not depend on the flow: a closed form.

    Parameters
    ----------
    power : array_like
        Heat carried [W]; 0 or more.
    height : array_like
        Middle of what cools the water above the middle of what warms it [m]; 0 to 100.
    bore : array_like
        Inside diameter of the pipe [m]; above 0, no more than 1.
    resistance : array_like
        Sum of all resistance coefficients, friction of the pipe included [-]; above 0.
    expansion : array_like, optional
        Expansion coefficient of the water [1/K]; above 0, no more than 0.001.
    density : array_like, optional
        Of the water [kg/m3]; above 0.

    Returns
    -------
    float or ndarray
        Mass flow [kg/s], in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    ``(2 density**2 area**2 g expansion height power / (c resistance))**(1/3)``: eight times the power moves twice the
    flow. The real flow of `gravity_flow` moves a little more than that, as friction falls with speed.

    References
    ----------
    Push ``g density expansion height difference`` set equal to drop ``resistance density speed**2 / 2``; exact.

    Examples
    --------
    >>> flow = gravity_flow_at_constant_resistance(1500.0, height=2.5, bore=0.0254, resistance=60.0)
    >>> print(f"{flow:.4f} kg/s")
    0.0332 kg/s
    """
    power = require(power, "power", "W", at_least=0)
    height = require(height, "height", "m", at_least=0, at_most=100)
    resistance = require(resistance, "sum of the resistance coefficients", "(a plain number)", above=0)
    expansion = require(expansion, "expansion coefficient", "1/K", above=0, at_most=1e-3)
    flowing = require(density, "density", "kg/m3", above=0) * bore_area(bore)
    return np.cbrt(2.0 * flowing**2 * GRAVITY * expansion * height * power / (WATER_HEAT * resistance))
