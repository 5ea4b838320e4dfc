"""What a full store means: its useful heat, how many baths that is, and how long a source takes to bring it."""

from tlib.heat_transfer import stored_heat
from tlib.sizing.lines import Line, heat_line
from tlib.validation import require

__all__ = ["full_store_working"]

KWH = 3.6e6


def full_store_working(*, volume, hot, useful, bath, power):
    """Return the sum of what a full store is worth, each line with its working.

    Parameters
    ----------
    volume : float
        Water in the store [m3]; above 0.
    hot, useful : float
        Its temperature, and the lowest at which it is of use [°C]; `hot` is the higher.
    bath : mapping
        With ``volume`` [m3], ``temperature`` and ``cold`` [°C]: a bath, and the cold water it is made from.
    power : float
        Of the source that fills the store [W]; above 0.

    Returns
    -------
    tuple of Line
        The useful drop, the useful heat, the heat of one bath, the baths, and the hours to fill.

    Raises
    ------
    OutOfRange
        If an input is outside its range, or is not finite.

    Notes
    -----
    By heat alone: as the store cools, the tap may run too cool before all of it is used. Nothing is lost or drawn
    while it fills.

    References
    ----------
    [EU 814/2013] annex I, energy content of hot water; [NIST SP 811] the units of power and heat.

    Examples
    --------
    >>> lines = full_store_working(volume=0.300, hot=80.0, useful=40.0, power=10e3,
    ...                            bath={"volume": 0.120, "temperature": 42.0, "cold": 10.0})
    >>> print(f"{lines[1].name}: {lines[1].working} = {lines[1].says}")
    useful heat: 300 × 40 × 1.163 ÷ 1000 = 14.0 kWh
    """
    drop = float(require(hot - useful, "drop from hot to the lowest useful temperature", "K", above=0))
    rise = float(require(bath["temperature"] - bath["cold"], "rise of the bath's water", "K", above=0))
    power = float(require(power, "power of the source", "W", above=0))
    heat, one = float(stored_heat(volume, drop)), float(stored_heat(bath["volume"], rise))
    litres = "litres × {} × 1.163 ÷ 1000"
    return (
        Line("useful drop", "hot − lowest useful temperature", f"{hot:g} − {useful:g}", drop, "K", "K"),
        heat_line("useful heat", litres.format("useful drop"), f"{1000 * volume:g} × {drop:g} × 1.163 ÷ 1000", heat),
        heat_line("heat of one bath", litres.format("rise of its water"),
                  f"{1000 * bath['volume']:g} × {rise:g} × 1.163 ÷ 1000", one),
        Line("baths", "useful heat ÷ heat of one bath", f"{heat / KWH:.1f} ÷ {one / KWH:.2f}", heat / one, "1", ""),
        Line("time to fill", "useful heat ÷ power", f"{heat / KWH:.1f} ÷ {power / 1000:g}", heat / power, "s", "hour"),
    )  # fmt: skip
