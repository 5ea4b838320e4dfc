"""A pump meets a circuit: where the pump's curve crosses the circuit's."""

import numpy as np

from tlib.compiled import elementwise, kernel
from tlib.hydraulics.friction import bare_pressure_drop, checked_pipe
from tlib.validation import require
from tlib.water_properties import density, viscosity

__all__ = ["flow_for_power", "operating_flow", "pump_flow", "pump_power", "pump_pressure"]

WATER_HEAT = 4186.8
"""Specific heat of the taught sums [J/(kg K)]: 1.163 Wh for each kilogram and kelvin."""

_HALVINGS = 60  # halves the first interval down to its last digit


@kernel
def bare_pump_pressure(mass_flow, shut_off, greatest_flow):
    """Return the pressure a pump gives at a flow, by a parabola through its two ends [Pa]."""
    share = mass_flow / greatest_flow
    return shut_off * (1.0 - share * share)


def _checked_pump(shut_off, greatest_flow):
    shut_off = require(shut_off, "pressure at no flow", "Pa", above=0)
    return shut_off, require(greatest_flow, "greatest flow of the pump", "kg/s", above=0)


def pump_pressure(mass_flow, shut_off, greatest_flow):
    """Pressure a pump gives at a flow.

    Parameters
    ----------
    mass_flow : array_like
        Flow [kg/s]; 0 to `greatest_flow`.
    shut_off : array_like
        Pressure at no flow [Pa]; above 0.
    greatest_flow : array_like
        Flow at no pressure [kg/s]; above 0.

    Returns
    -------
    float or ndarray
        Pressure [Pa], in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    ``shut_off (1 - (mass_flow / greatest_flow)**2)``: a parabola, near enough for a small pump at a fixed speed. A pump
    that sets its own speed follows another curve; take its own data.

    References
    ----------
    [Cengel 2006] example on the operating point of a pump, curve fit of the same form.

    Examples
    --------
    >>> print(f"{pump_pressure(mass_flow=0.3, shut_off=40e3, greatest_flow=0.6) / 1000:.0f} kPa")
    30 kPa
    """
    shut_off, greatest_flow = _checked_pump(shut_off, greatest_flow)
    mass_flow = require(mass_flow, "mass flow", "kg/s", at_least=0)
    require(mass_flow / greatest_flow, "mass flow over the greatest flow", "(a plain number)", at_most=1)
    return bare_pump_pressure(mass_flow, shut_off, greatest_flow)


@kernel
def bare_operating_flow(shut_off, greatest_flow, resistance):
    """Return the flow at which a pump's parabola meets a circuit of constant resistance [kg/s]."""
    return np.sqrt(shut_off / (shut_off / (greatest_flow * greatest_flow) + resistance))


def operating_flow(shut_off, greatest_flow, resistance):
    """Flow at which a pump meets a circuit whose drop grows with the square of the flow.

    Parameters
    ----------
    shut_off, greatest_flow : array_like
        The pump's two ends, as in `pump_pressure`.
    resistance : array_like
        Pressure drop of the circuit over the square of its flow [Pa s2/kg2]; 0 or more.

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
    [Cengel 2006] example on the operating point of a pump.

    Examples
    --------
    >>> flow = operating_flow(shut_off=40e3, greatest_flow=0.6, resistance=20e3 / 0.3**2)
    >>> print(f"{flow:.3f} kg/s")
    0.346 kg/s
    """
    shut_off, greatest_flow = _checked_pump(shut_off, greatest_flow)
    resistance = require(resistance, "resistance of the circuit", "Pa s2/kg2", at_least=0)
    return bare_operating_flow(shut_off, greatest_flow, resistance)


@kernel
def bare_pump_flow(shut_off, greatest_flow, bore, length, fittings, density, viscosity, roughness):
    """Return the flow at which a pump's parabola meets the drop of a pipe [kg/s]."""
    low, high = 0.0, greatest_flow
    for _ in range(_HALVINGS):
        flow = 0.5 * (low + high)
        used = bare_pressure_drop(flow, bore, length, fittings, density, viscosity, roughness)
        if used < bare_pump_pressure(flow, shut_off, greatest_flow):
            low = flow
        else:
            high = flow
    return 0.5 * (low + high)


def pump_flow(shut_off, greatest_flow, bore, length, fittings=0.0, temperature=60.0, roughness=1.5e-6):
    """Flow at which a pump meets a circuit of one pipe with its fittings.

    Parameters
    ----------
    shut_off, greatest_flow : array_like
        The pump's two ends, as in `pump_pressure`.
    bore, length, fittings, temperature, roughness : array_like
        The circuit, as in `tlib.hydraulics.pressure_drop`.

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
    [White 2011] section 11.5, matching pumps to system characteristics.

    Examples
    --------
    >>> flow = pump_flow(shut_off=40e3, greatest_flow=0.6, bore=0.0202, length=40.0, fittings=20.0)
    >>> print(f"{flow:.2f} kg/s")
    0.31 kg/s
    """
    shut_off, greatest_flow = _checked_pump(shut_off, greatest_flow)
    bore, length, fittings, roughness = checked_pipe(bore, length, fittings, roughness)
    return elementwise(bare_pump_flow)(
        shut_off, greatest_flow, bore, length, fittings, density(temperature), viscosity(temperature), roughness
    )


def pump_power(volume_flow, pressure, efficiency=1.0):
    """Power a pump takes for a flow against a pressure.

    Parameters
    ----------
    volume_flow : array_like
        Flow [m3/s]; 0 or more.
    pressure : array_like
        Pressure the pump gives [Pa]; 0 or more.
    efficiency : array_like, optional
        Hydraulic power over power taken [-]; above 0, no more than 1. At 1, the hydraulic power itself.

    Returns
    -------
    float or ndarray
        Power [W], in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    References
    ----------
    [White 2011] equation 11.3.

    Examples
    --------
    >>> print(f"{pump_power(volume_flow=1 / 3600, pressure=30e3):.2f} W")
    8.33 W
    """
    volume_flow = require(volume_flow, "volume flow", "m3/s", at_least=0)
    pressure = require(pressure, "pressure of the pump", "Pa", at_least=0)
    return volume_flow * pressure / require(efficiency, "efficiency", "(a plain number)", above=0, at_most=1)


def flow_for_power(power, difference):
    """Flow that carries a power at a given drop of temperature.

    Parameters
    ----------
    power : array_like
        Heat to carry [W]; 0 or more.
    difference : array_like
        Flow temperature less return temperature [K]; above 0.

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
    With 1.163 Wh for each kilogram and kelvin, as the taught sums count it.

    References
    ----------
    [EN 12828] annex on flow rates; the constant is common practice.

    Examples
    --------
    Ten kilowatts at 15 K need 573 litres an hour (a kilogram a litre).

    >>> print(f"{3600 * flow_for_power(power=10e3, difference=15.0):.0f} l/h")
    573 l/h
    """
    power = require(power, "power", "W", at_least=0)
    return power / (WATER_HEAT * require(difference, "temperature difference", "K", above=0))
