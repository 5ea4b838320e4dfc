"""The vented system: feed-and-expansion cistern and open vent."""

from tlib.tables import table
from tlib.validation import require

__all__ = ["cistern_allowance", "cistern_rise", "vent_height"]


def cistern_allowance(system_volume):
    """Return the room above its cold water line that the 4 % rule gives a feed-and-expansion cistern.

    Parameters
    ----------
    system_volume : array_like
        All water of the system [m3]; 0 or more.

    Returns
    -------
    float or ndarray
        Room for growth [m3] in the shape of the input.

    Raises
    ------
    OutOfRange
        If the volume is outside the range above, or is not finite.

    Notes
    -----
    Water filled at 10 °C grows 3.9 % to 95 °C and 4.3 % to 100 °C: the rule is just enough for a store that stays
    below boiling, and not for one that boils. `expansion_volume` gives the true figure.

    References
    ----------
    Common practice; [Raccolta R] chapter R.3.B gives 4.2 % at 100 °C.

    Examples
    --------
    >>> print(f"{1000 * cistern_allowance(system_volume=0.410):.1f} litres")
    16.4 litres
    """
    share = table("expansion_vessels")["cistern_share"]
    return require(system_volume, "system volume", "m3", at_least=0) * share


def cistern_rise(growth, area):
    """Return how far the water in a feed-and-expansion cistern rises.

    Parameters
    ----------
    growth : array_like
        Growth of the system's water [m3]; 0 or more.
    area : array_like
        Water surface in the cistern [m2]; above 0.

    Returns
    -------
    float or ndarray
        Rise [m] in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    The cold water line is set low: float valve shut, and this rise still below the overflow.

    References
    ----------
    Geometry: a volume over a surface.

    Examples
    --------
    >>> print(f"{1000 * cistern_rise(growth=0.0177, area=0.24):.0f} mm")
    74 mm
    """
    return require(growth, "growth", "m3", at_least=0) / require(area, "water surface", "m2", above=0)


def vent_height(head):
    """Return how far above the cistern's water the open vent must rise.

    Parameters
    ----------
    head : array_like
        Height of the cistern's water above where its feed joins the system [m]; 0 or more.

    Returns
    -------
    float or ndarray
        Rise of the vent above the water [m] in the shape of the input.

    Raises
    ------
    OutOfRange
        If the head is outside the range above, or is not finite.

    Notes
    -----
    150 mm, and 40 mm for each metre of head, for gravity circulation. A pump that pushes towards the vent needs its
    own head added. No valve in the vent or in the cold feed, ever.

    References
    ----------
    [Water Regulations Guide] G20.3, second-hand.

    Examples
    --------
    >>> print(f"{1000 * vent_height(head=5.0):.0f} mm")
    350 mm
    """
    rule = table("expansion_vessels")["vent"]
    return rule["base"] + rule["slope"] * require(head, "head", "m", at_least=0)
