"""Published rules on standing loss: the European label's classes, and the British rating of store losses."""

from tlib.tables import table
from tlib.validation import OutOfRange, require

__all__ = [
    "energy_class",
    "energy_class_bounds",
    "sap_foam_loss",
    "sap_jacket_loss",
    "sap_temperature_factor",
]

_LITRES = 1000.0
_WATTS = 1000.0 / 24.0
"""Watts in one kilowatt-hour a day."""


def energy_class_bounds(volume):
    """Return the greatest standing loss of each class of the European label for hot water storage tanks.

    Parameters
    ----------
    volume : float
        Storage volume [m3]; above 0, up to 2.

    Returns
    -------
    dict of str to float
        Class, from "A+" to "F", and its bound [W]. A store is of the first class whose bound its loss stays below;
        the last class, "G", has none.

    Raises
    ------
    OutOfRange
        If the volume is outside the range above, is not finite, or is not a single number.

    Notes
    -----
    Measured at 65 °C in a room of 20 °C. The label itself covers tanks up to 500 litres. Since 26 September 2017
    stores up to 2000 litres may not lose more than the bound of class C.

    References
    ----------
    [EU 812/2013] annex II table 2; [EU 814/2013] annex II point 2.

    Examples
    --------
    >>> print(f"{energy_class_bounds(0.300)['C']:.1f} W")
    98.2 W
    """
    volume = _one(require(volume, "storage volume", "m3", above=0, at_most=2))
    power = (volume * _LITRES) ** 0.4
    return {name: fixed + growing * power for name, (fixed, growing) in table("published_limits")["classes"].items()}


def energy_class(loss, volume):
    """Return the class of the European label that a standing loss earns.

    Parameters
    ----------
    loss : float
        Standing loss at 65 °C in a room of 20 °C [W]; 0 or more.
    volume : float
        Storage volume [m3]; above 0, up to 2.

    Returns
    -------
    str
        "A+" to "G".

    Raises
    ------
    OutOfRange
        If an input is outside the range above, is not finite, or is not a single number.

    References
    ----------
    [EU 812/2013] annex II table 2.

    Examples
    --------
    >>> energy_class(2000 / 24, 0.300)
    'C'
    """
    loss = _one(require(loss, "standing loss", "W", at_least=0))
    return next((name for name, bound in energy_class_bounds(volume).items() if loss < bound), "G")


def sap_foam_loss(volume, thickness, temperature_factor=1.0):
    """Return the loss that the British energy rating counts for a store insulated in the factory.

    Parameters
    ----------
    volume : array_like
        Storage volume [m3]; above 0, up to 2.
    thickness : array_like
        Insulation [m]; above 0, up to 0.3.
    temperature_factor : array_like, optional
        From `sap_temperature_factor` [-]; above 0, up to 2.

    Returns
    -------
    float or ndarray
        Loss [W] in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    A figure for rating houses, not for the store in front of you: a label or a test outranks it.

    References
    ----------
    [SAP 10.2] table 2 note 1, table 2a note 2; the same in [SAP 2012].

    Examples
    --------
    >>> print(f"{sap_foam_loss(0.300, 0.080) * 24 / 1000:.2f} kWh/day")
    2.55 kWh/day
    """
    return _sap_loss("foam", volume, thickness, temperature_factor)


def sap_jacket_loss(volume, thickness, temperature_factor=1.0):
    """Return the loss that the British energy rating counts for a store in a loose jacket.

    Parameters
    ----------
    volume : array_like
        Storage volume [m3]; above 0, up to 2.
    thickness : array_like
        Insulation [m]; above 0, up to 0.3.
    temperature_factor : array_like, optional
        From `sap_temperature_factor` [-]; above 0, up to 2.

    Returns
    -------
    float or ndarray
        Loss [W] in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    References
    ----------
    [SAP 10.2] table 2 note 1, table 2a note 2; the same in [SAP 2012].

    Examples
    --------
    >>> print(f"{sap_jacket_loss(0.120, 0.080) * 24 / 1000:.2f} kWh/day")
    2.88 kWh/day
    """
    return _sap_loss("jacket", volume, thickness, temperature_factor)


def sap_temperature_factor(kind, *details):
    """Return the factor by which the British energy rating allows for how hot a kind of store is kept.

    Parameters
    ----------
    kind : str
        "cylinder" (an indirect cylinder or one with an immersion heater), or "thermal store".
    *details : str
        What else is true of it. Cylinder: "no thermostat", "separately timed". Thermal store: "separately timed",
        "outside an airing cupboard".

    Returns
    -------
    float
        Factor [-] for `sap_foam_loss` and `sap_jacket_loss`.

    Raises
    ------
    OutOfRange
        If the kind or a detail is not one of these.

    References
    ----------
    [SAP 2012] table 2b, second-hand.

    Examples
    --------
    >>> print(f"{sap_temperature_factor('thermal store', 'separately timed'):.3f}")
    0.875
    """
    kinds = table("published_limits")["sap"]["temperature_factor"]
    if kind not in kinds:
        raise OutOfRange(f"kind of store must be one of {', '.join(kinds)}; got {kind!r}.")
    factor = kinds[kind]["factor"]
    for detail in details:
        if detail not in kinds[kind]["times"]:
            raise OutOfRange(f"detail of a {kind} must be one of {', '.join(kinds[kind]['times'])}; got {detail!r}.")
        factor *= kinds[kind]["times"][detail]
    return factor


def _sap_loss(insulation, volume, thickness, temperature_factor):
    litres = require(volume, "storage volume", "m3", above=0, at_most=2) * _LITRES
    millimetres = require(thickness, "thickness of the insulation", "m", above=0, at_most=0.3) * 1000.0
    temperature_factor = require(temperature_factor, "temperature factor", "[-]", above=0, at_most=2)
    sap = table("published_limits")["sap"]
    fixed, over, plus = sap[insulation]
    for_each_litre = fixed + over / (millimetres + plus)
    return for_each_litre * litres * (sap["volume_factor_one_at"] / litres) ** (1.0 / 3.0) * temperature_factor * _WATTS


def _one(value):
    if value.ndim:
        raise OutOfRange(f"volume and loss must be single numbers; got an array of shape {value.shape}.")
    return float(value)
