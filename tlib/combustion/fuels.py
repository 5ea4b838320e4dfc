"""Fuels from the table: what they are made of, what they hold, and the carbon they put out."""

from dataclasses import dataclass
from functools import cache

from tlib.combustion.wood import net_calorific_value
from tlib.tables import table
from tlib.validation import OutOfRange, require

__all__ = ["Fuel", "carbon_emitted", "fuel_mass", "fuel_record", "fuel_volume"]

_KILOWATT_HOUR = 3.6e6
_FACTORS = ("rating", "reporting")


@dataclass(frozen=True)
class Fuel:
    """What the sums need to know of a fuel; the table holds the source and date of every figure.

    Attributes
    ----------
    name : str
        As the table has it.
    carbon, hydrogen, oxygen : float
        Mass shares of the dry fuel [-]; all 0 for electricity.
    moist : bool
        Whether it comes with moisture of its own, as wood does.
    net, gross : float
        Calorific values of the dry fuel, the water of its hydrogen leaving as vapour or as liquid [J/kg].
    basis : str
        Which of the two its kilowatt-hours are counted on: ``"net"``, ``"gross"``, or ``"metered"``.
    density : float
        As sold by volume [kg/m3]; 0 if it is not.
    rating, reporting : float
        Carbon factors [kg CO2e for each kWh of fuel]; NaN where the table has none.
    """

    name: str
    carbon: float = 0.0
    hydrogen: float = 0.0
    oxygen: float = 0.0
    moist: bool = False
    net: float = 0.0
    gross: float = 0.0
    basis: str = "gross"
    density: float = 0.0
    rating: float = float("nan")
    reporting: float = float("nan")


@cache
def fuel_record(name):
    """Return a fuel of the table by its name.

    Parameters
    ----------
    name : str
        ``"wood"``, ``"natural gas"``, ``"heating oil"``, ``"bottled gas"`` or ``"grid electricity"``.

    Returns
    -------
    Fuel
        Its figures.

    Raises
    ------
    OutOfRange
        If the table has no such fuel.

    References
    ----------
    The table ``fuels`` names source, date and how obtained for each figure.

    Examples
    --------
    >>> print(f"{fuel_record('wood').net / 1e6:.1f} MJ/kg dry")
    19.0 MJ/kg dry
    """
    known = table("fuels")
    if name not in known:
        raise OutOfRange(f"fuel must be one of {', '.join(known)}; got {name!r}.")
    row = known[name]
    elements = {key: row.get("elements", {}).get(key, 0.0) for key in ("carbon", "hydrogen", "oxygen")}
    figures = {key: row[key]["value"] for key in ("net", "gross", "density", *_FACTORS) if key in row}
    return Fuel(name=name, moist=row["moist"], basis=row["basis"], **elements, **figures)


def fuel_of(fuel):
    """Return the record of a fuel given by its name, or as the record itself."""
    return fuel if isinstance(fuel, Fuel) else fuel_record(fuel)


def fuel_mass(fuel, fuel_heat, moisture=0.0):
    """Mass of fuel that holds a given heat.

    Parameters
    ----------
    fuel : str or Fuel
        A fuel that burns.
    fuel_heat : array_like
        Heat in the fuel, before any loss [J], on the fuel's own basis: net for wood, gross for gas and oil; 0 or more.
    moisture : array_like, optional
        Water over the whole weight, wet basis [-]; 0 to 0.7, and 0 for all but wood.

    Returns
    -------
    float or ndarray
        Mass as fired [kg], in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If the fuel is unknown or does not burn, or an input is outside the range above or not finite.

    References
    ----------
    [DESNZ 2025] fuel properties; [EN ISO 18125] for the moisture of wood.

    Examples
    --------
    A year's wood at Larkrigg Farm, 18,462 kWh at 20 % moisture:

    >>> print(f"{fuel_mass('wood', 18462 * 3.6e6, moisture=0.20) / 1000:.1f} t")
    4.5 t
    """
    record = burning_fuel(fuel, moisture)
    fuel_heat = require(fuel_heat, "heat in the fuel", "J", at_least=0)
    if record.moist:
        return fuel_heat / net_calorific_value(moisture, dry=record.net)
    return fuel_heat / {"net": record.net, "gross": record.gross}[record.basis]


def burning_fuel(fuel, moisture):
    """Return the record of a fuel that burns, or refuse one that does not, or moisture where it has none."""
    record = fuel_of(fuel)
    if record.carbon + record.hydrogen <= 0:
        raise OutOfRange(f"fuel must be one that burns; got {record.name!r}.")
    if not record.moist:
        require(moisture, f"moisture of {record.name}", "of the wet weight", at_least=0, at_most=0)
    return record


def fuel_volume(fuel, fuel_heat):
    """Volume of a fuel sold by volume that holds a given heat.

    Parameters
    ----------
    fuel : str or Fuel
        ``"natural gas"`` or ``"heating oil"``, or a record with a density.
    fuel_heat : array_like
        Heat in the fuel, before any loss [J], on the fuel's own basis; 0 or more.

    Returns
    -------
    float or ndarray
        Volume [m3], in the shape of the heat.

    Raises
    ------
    OutOfRange
        If the fuel is unknown or not sold by volume, or the heat is below 0 or not finite.

    References
    ----------
    [DESNZ 2025] fuel properties.

    Examples
    --------
    >>> print(f"{1000 * fuel_volume('heating oil', 14603 * 3.6e6):.0f} l")
    1419 l
    """
    record = fuel_of(fuel)
    if record.density <= 0:
        raise OutOfRange(f"fuel must be one that is sold by volume; got {record.name!r}.")
    return fuel_mass(record, fuel_heat) / record.density


def carbon_emitted(fuel, fuel_heat, factor="rating"):
    """Greenhouse gas put out for the heat in a fuel, counted as carbon dioxide.

    Parameters
    ----------
    fuel : str or Fuel
        Any fuel of the table, electricity too.
    fuel_heat : array_like
        Heat in the FUEL, before any loss [J], on the fuel's own basis; 0 or more.
    factor : {"rating", "reporting"}, optional
        Which column of the table: for rating a building (with the supply chain), or for reporting a year (burning
        alone).

    Returns
    -------
    float or ndarray
        Carbon dioxide equivalent [kg], in the shape of the heat.

    Raises
    ------
    OutOfRange
        If the fuel or the column is unknown, the table has no such figure, or the heat is below 0 or not finite.

    Notes
    -----
    Factors differ by purpose and change by year; the table says which year. Wood counts no carbon that its tree took
    up. To compare two ways of heating, count the same useful heat on both sides, room heat included.

    References
    ----------
    [SAP 10.2] table 12; [DESNZ 2025].

    Examples
    --------
    >>> print(f"{carbon_emitted('heating oil', 14603 * 3.6e6) / 1000:.2f} t")
    4.35 t
    """
    record = fuel_of(fuel)
    if factor not in _FACTORS:
        raise OutOfRange(f"carbon factor must be one of {', '.join(_FACTORS)}; got {factor!r}.")
    each = require(getattr(record, factor), f"{factor} factor of {record.name} in the table", "kg CO2e/kWh", at_least=0)
    return require(fuel_heat, "heat in the fuel", "J", at_least=0) / _KILOWATT_HOUR * each
