"""What a store loses when nobody uses any heat: from its label to its real temperatures."""

from tlib.heat_transfer import cool_down, label_loss_coefficient, standing_loss, stored_heat, time_constant
from tlib.sizing.lines import Line, heat_line
from tlib.validation import require

__all__ = ["standing_working"]

DAY, HOUR, KWH = 86_400.0, 3600.0, 3.6e6


def standing_working(*, label, test_store, test_room, store, room, volume, duration):
    """Return the sum from a label's standing loss to the real one, each line with its working.

    Parameters
    ----------
    label : float
        Heat that the store lost in its test, as a mean power [W]; above 0.
    test_store, test_room : float
        Temperatures of the test [°C].
    store, room : float
        Real temperatures of the store and the room [°C]; the store is the warmer.
    volume : float
        Water in the store [m3]; above 0.
    duration : float
        How long nobody uses any heat, such as a night [s]; above 0.

    Returns
    -------
    tuple of Line
        The label's loss in watts, the loss for each degree, the real loss in watts and in a day, how slow it is: the
        time constant, by how much it cools in the time, and the heat that is gone by then.

    Raises
    ------
    OutOfRange
        If an input is outside its range, or is not finite.

    Notes
    -----
    Bare pipes and fittings are not on the label. As the store cools, it loses less.

    References
    ----------
    [EU 812/2013] standing loss at 65 °C in a room of 20 °C; [Incropera] lumped capacity.

    Examples
    --------
    >>> lines = standing_working(label=2000 / 24, test_store=65.0, test_room=20.0, store=80.0, room=15.0, volume=0.300,
    ...                          duration=28800.0)
    >>> print(f"{lines[2].name}: {lines[2].working} = {lines[2].says}")
    real loss: 1.85 × (80 − 15) = 120 W
    """
    label = float(require(label, "loss of the label", "W", above=0))
    require(store - room, "store less room", "K", above=0)
    volume = float(require(volume, "volume", "m3", above=0))
    duration = float(require(duration, "duration", "s", above=0))
    each = float(label_loss_coefficient(label, test_store, test_room))
    real = float(standing_loss(each, store, room))
    slow = float(time_constant(volume, each))
    fall = store - float(cool_down(volume, each, store, room, duration))
    return (
        Line("loss of the label", "kWh a day × 1000 ÷ 24", f"{label * DAY / KWH:g} × 1000 ÷ 24", label, "W", "W"),
        Line("loss for each degree", "loss of the label ÷ (test store − test room)",
             f"{label:.1f} ÷ ({test_store:g} − {test_room:g})", each, "W/K", "W/K"),
        Line("real loss", "loss for each degree × (store − room)", f"{each:.2f} × ({store:g} − {room:g})", real,
             "W", "W"),
        Line("real loss in a day", "real loss × 24 ÷ 1000", f"{real:.0f} × 24 ÷ 1000", real, "W", "kWh/day"),
        Line("time constant", "litres × 1.163 ÷ loss for each degree", f"{1000 * volume:g} × 1.163 ÷ {each:.2f}",
             slow, "s", "hour"),
        Line("fall of the store", "(store − room) × (1 − e^(−hours ÷ time constant))",
             f"({store:g} − {room:g}) × (1 − e^(−{duration / HOUR:g} ÷ {slow / HOUR:.0f}))", fall, "K", "K"),
        heat_line("heat gone", "litres × fall × 1.163 ÷ 1000", f"{1000 * volume:g} × {fall:.2f} × 1.163 ÷ 1000",
                  stored_heat(volume, fall), figures=2),
    )  # fmt: skip
