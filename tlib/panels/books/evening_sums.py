"""Book 04, the sums of the evening: by hand, with lines left out, and held against the computed store."""

from tlib import sizing
from tlib.figures import balance, bars
from tlib.panels.books import evening_fire
from tlib.panels.books.places import larkrigg
from tlib.panels.faded_example import FadedExample

__all__ = [
    "BY_HAND", "SECOND", "THIRD", "account", "check", "room_picture", "second_evening", "sums", "third_evening",
]  # fmt: skip

KWH = 3.6e6
BY_HAND = {"logs": 8.0, "moisture": 0.20, "efficiency": 0.75, "share": 0.65, "store": 35.0, "limit": 80.0}
"""The numbers of the worked sum; shares as plain numbers, temperatures [°C]."""
SECOND = BY_HAND | {"store": 50.0, "limit": 85.0}
THIRD = {"logs": 10.0, "moisture": 0.25, "efficiency": 0.70, "share": 0.60, "store": 42.0, "limit": 85.0}


def sums(given):
    """Return the sum of an evening at Larkrigg, each line with its working.

    Parameters
    ----------
    given : mapping
        As `BY_HAND`.

    Returns
    -------
    tuple of tlib.sizing.Line
    """
    return sizing.evening_working(**given, volume=larkrigg().store.volume)


def second_evening():
    """Return the same sum for the next evening, with three of its lines left to the learner."""
    return FadedExample(
        "second-evening", sums(SECOND), (4, 6, 7), title="The next evening: three lines are yours",
        ask="The same eight kilos of the same wood, but the store is still at 50 °C when the fire is lit. "
        "It may reach 85 °C, no more. Write each line that is yours with its unit.",
    )  # fmt: skip


def third_evening():
    """Return the same sum for a third evening, with every line left to the learner."""
    return FadedExample(
        "third-evening", sums(THIRD), title="The third evening: every line is yours",
        ask="Ten kilos at 25 % moisture. The burner makes use of 70 % of the heat, and the water gets 60 % of that. "
        "The 300 litres stand at 42 °C and may reach 85 °C.",
    )  # fmt: skip


def room_picture():
    """Return the picture that opens the book: the heat of eight kilos against the room in the store.

    Returns
    -------
    tlib.figures.picture.Picture
    """
    volume, water = larkrigg().store.volume, sums(BY_HAND)[3].value
    limits = [
        bars.Limit(f"to {limit} °C", float(sizing.headroom(volume, BY_HAND["store"], limit))) for limit in (85, 90, 95)
    ]
    return bars.headroom_bar(
        limits, water, title="What eight kilos bring, and what the store can take",
        words="The store is at 35 °C all through. The heat of eight kilos of dry logs fits below 85 °C. "
        "From 50 °C it would not.",
    )  # fmt: skip


def check():
    """Return what the computed evening says beside the hand sum, in one sentence and with the books closed.

    Returns
    -------
    str
        Two sentences.
    """
    day = evening_fire.as_it_begins()
    by_hand, computed = sums(BY_HAND)[3].value / KWH, day.ledger["fire to water"] / KWH
    agree = "agree" if day.ledger.closure <= 1e-12 else "do NOT agree"
    return (
        f"Heat to the water: {by_hand:.1f} kWh by hand, {computed:.1f} kWh in the computed store.\n"
        f"Over the day, heat in, heat out and heat kept {agree}."
    )


def account():
    """Return the picture of the evening's heats as an account: what came in, where it went, what is left.

    Returns
    -------
    tlib.figures.picture.Picture
    """
    return balance.ledger_balance(
        evening_fire.as_it_begins().ledger, title="Where the heat of eight kilos went",
        words="All heat that came from the fire went to the taps, was lost on the way, or is still there.",
    )  # fmt: skip
