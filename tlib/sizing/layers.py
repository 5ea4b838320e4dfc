"""What stirring costs: the useful heat of a store in two layers, and of the same store mixed."""

from tlib.heat_transfer import stored_heat
from tlib.sizing.lines import Line, heat_line
from tlib.validation import require

__all__ = ["stirring_working"]

KWH = 3.6e6


def stirring_working(*, volume, hot_part, hot, cold, useful):
    """Return the sum of what stirring a store of two layers costs, each line with its working.

    Parameters
    ----------
    volume, hot_part : float
        Water in the store, and the part of it on top that is hot [m3]; `hot_part` above 0, no more than `volume`.
    hot, cold : float
        Temperatures of the two layers [°C]; `hot` is the higher.
    useful : float
        The lowest temperature at which heat is of use [°C]; from `cold` to `hot`.

    Returns
    -------
    tuple of Line
        The mixed temperature; the useful heat in layers, and once mixed; what is left of it.

    Raises
    ------
    OutOfRange
        If an input is outside its range, or is not finite.

    Notes
    -----
    Mixing moves no heat out of the store. It only lowers how hot the heat is.

    References
    ----------
    [EU 814/2013] annex I, energy content of hot water; the mean by litres needs no source.

    Examples
    --------
    >>> lines = stirring_working(volume=0.300, hot_part=0.120, hot=75.0, cold=35.0, useful=40.0)
    >>> print(f"{lines[0].working} = {lines[0].says}")
    (120 × 75 + 180 × 35) ÷ 300 = 51.0 °C
    """
    volume = float(require(volume, "volume", "m3", above=0))
    part = float(require(hot_part, "hot part", "m3", above=0, at_most=volume))
    hot = float(require(hot, "hot", "°C", at_least=cold, at_most=100))
    useful = float(require(useful, "lowest useful temperature", "°C", at_least=cold, at_most=hot))
    mixed = (part * hot + (volume - part) * cold) / volume
    layered, stirred = float(stored_heat(part, hot - useful)), float(stored_heat(volume, max(mixed - useful, 0.0)))
    litres, below, above = 1000 * part, 1000 * (volume - part), f"× {hot - useful:g}"
    return (
        Line("mixed temperature", "(litres × hot + litres × cold) ÷ all litres",
             f"({litres:g} × {hot:g} + {below:g} × {cold:g}) ÷ {1000 * volume:g}", mixed, "degC", "degC"),
        heat_line("useful heat in layers", "hot litres × degrees above useful × 1.163 ÷ 1000",
                  f"{litres:g} {above} × 1.163 ÷ 1000", layered),
        heat_line("useful heat once mixed", "all litres × degrees above useful × 1.163 ÷ 1000",
                  f"{1000 * volume:g} × {max(mixed - useful, 0.0):g} × 1.163 ÷ 1000", stirred),
        Line("what is left of it", "useful heat once mixed ÷ useful heat in layers × 100",
             f"{stirred / KWH:.2f} ÷ {layered / KWH:.2f} × 100", stirred / layered, "1", "%"),
    )  # fmt: skip
