"""Book 01, how much heat is in there: a full store in kilowatt-hours, baths, showers and hours."""

import numpy as np

from tlib import sizing
from tlib.figures import heat_block, store, worth
from tlib.figures.heat_scale import Mark
from tlib.figures.lettering import kwh
from tlib.heat_transfer import stored_heat
from tlib.panels.books.places import larkrigg
from tlib.panels.controls import Control
from tlib.panels.faded_example import FadedExample
from tlib.panels.panel import Panel
from tlib.panels.prediction import Prediction, echo
from tlib.simulation import Element, run_store

__all__ = [
    "BY_HAND", "GUESSES", "PRESETS", "SECOND", "SIGHT", "THIRD", "area", "check", "full", "panel", "pictures",
    "prediction", "second_store", "sums", "third_store", "three_sources",
]  # fmt: skip

KWH = 3.6e6
BATH = {"volume": 0.120, "temperature": 42.0, "cold": 10.0}
SHOWER = {"volume": 0.048, "temperature": 40.0, "cold": 8.0}
"""A bath of 120 litres, and a shower of six minutes at eight litres a minute, each from its cold water."""
GUESSES = {"2 times": 2.0, "3 times": 3.0, "4 times": 4.0}
"""How often the heat of half the litres and half the drop is in the whole, by the words of the prediction."""

SIGHT = (
    Control("volume", 150, 500, 10, 300, "l", "All the water in the store."),
    Control("hot", 40, 90, 1, 80, "°C", "The store has it all through.", label="Store temperature"),
    Control("lowest_useful", 25, 50, 1, 40, "°C", "Cooler water is no use here.", label="Lowest useful temperature"),
    Control("source_power", 1, 25, 1, 10, "kW", "How fast the source brings heat."),
)
PRESETS = {
    "Full at night": {},
    "The morning after": {"hot": 55},
    "Biggest but cool": {"volume": 500, "hot": 50},
    "Half of both": {"volume": 150, "hot": 60},
}
MOST = float(stored_heat(0.500, 90.0 - 25.0))
"""The most useful heat that the controls allow [J]."""


def pictures(volume, hot, lowest_useful, source_power, prediction=None):
    """Return the store, what its heat is worth, and why, for the values of the controls.

    Parameters
    ----------
    volume : float
        [l].
    hot, lowest_useful : float
        [°C].
    source_power : float
        [kW].
    prediction : str, optional
        Which of `GUESSES` the learner locked.

    Returns
    -------
    tuple of Picture
        The store, what its heat is worth, and its heat as an area.
    """
    drop = max(hot - lowest_useful, 0.0)
    heat, half = (float(stored_heat(part * volume / 1000, part * drop)) for part in (1.0, 0.5))
    worth_of_it = _worth(volume, hot, lowest_useful, source_power, heat, half, prediction)
    return full(volume, hot, lowest_useful), worth_of_it, area(volume, hot, lowest_useful)


def full(volume, hot, lowest_useful):
    """Return the picture of a store that is hot all through, filling from its lowest useful temperature.

    Parameters
    ----------
    volume : float
        [l].
    hot, lowest_useful : float
        [°C].

    Returns
    -------
    tlib.figures.picture.Picture
    """
    heavy = " With the store itself that is over half a tonne: have the floor checked." if volume >= 450 else ""
    weight = store.Bracket(f"{volume:g} l, which weigh about {volume:g} kg", 0.0, 1.0, side="right")
    return store.store_picture(
        np.full(12, float(hot)), [weight],
        before=np.full(12, float(min(hot, lowest_useful))), title=f"A store of {volume:g} litres at {hot:g} °C",
        words=f"All {volume:g} litres are at {hot:g} °C. The water alone weighs about {volume:g} kg.{heavy}",
    )  # fmt: skip


def area(volume, hot, lowest_useful):
    """Return the picture of the useful heat as an area, with half the litres and half the drop inside it.

    Parameters
    ----------
    volume : float
        [l].
    hot, lowest_useful : float
        [°C].

    Returns
    -------
    tlib.figures.picture.Picture
    """
    drop = max(hot - lowest_useful, 0.0)
    whole, part = (
        heat_block.Block(share * volume / 1000, warm, kwh(float(stored_heat(share * volume / 1000, share * drop))))
        for share, warm in ((1.0, hot), (0.5, lowest_useful + drop / 2))
    )
    squares, square = volume / 100 * drop / 10, float(stored_heat(0.100, 10.0)) / KWH
    words = (
        f"Litres go across and degrees go up, so the area is the heat. "
        f"A square is 100 litres by 10 degrees: {square:.3f} kWh. "
        f"This store has {squares:.1f} squares. The dashed part has half the litres and half the drop, "
        "and fills one quarter."
        if drop else "All of the water lies at or below the line of lowest use, so there is no area to count."
    )  # fmt: skip
    return heat_block.heat_block(
        whole, part, lowest_useful, most=0.5, span=(20.0, 90.0), words=words,
        title="Why twice both is four times" if drop else "No useful heat",
    )  # fmt: skip


def _worth(volume, hot, lowest_useful, power, heat, half, prediction):
    baths, showers = (heat / _one(use) for use in (BATH, SHOWER))
    rows = (
        worth.Count("baths", baths, "120 l at 42 °C", "bath"),
        worth.Count("showers", showers, "6 minutes, 8 l a minute", "drop"),
        worth.Count("hours to fill", heat / KWH / power, f"at {power:g} kW", "hour", "log burner"),
    )
    marks = [Mark("half the litres, half the drop", half)] if heat else []
    if heat and prediction and GUESSES[prediction] != 4.0:
        marks.append(Mark("your guess for that half", heat / GUESSES[prediction], guess=True))
    if not heat:
        words = f"Water at {hot:g} °C is not above {lowest_useful:g} °C, so none of its heat is of use."
    else:
        words = (
            f"From {hot:g} down to {lowest_useful:g} °C, {volume:g} litres give {heat / KWH:.1f} kWh. "
            f"By heat alone that is {_whole(baths, 'bath')} or {_whole(showers, 'shower')}. "
            f"Half the litres with half the drop hold {half / KWH:.1f} kWh: a quarter, so twice both is 4 times."
        )
    return worth.heat_gauge(
        heat, MOST, rows, marks, temperature=hot, title="What its heat is worth",
        words=f"{words} {echo(prediction)}".strip(),
    )  # fmt: skip


def _whole(number, name):
    """Write how many can be had to the end: the last one, which is filled in part, would run cold."""
    count = int(number + 1e-9)
    return f"{count or 'no'} whole {name}{'' if count < 2 else 's'}"


def _one(use):
    return float(stored_heat(use["volume"], use["temperature"] - use["cold"]))


def three_sources():
    """Return the picture of the same heat brought by three sources: an amount, and three rates.

    Returns
    -------
    tlib.figures.picture.Picture
    """
    heat = sums(BY_HAND)[1].value
    sources = (("immersion heater", 3, "spare PV"), ("log burner", 10, "log burner"), ("boiler", 18, "boiler"))
    products = [f"{kw} kW × {heat / KWH / kw:.2f} h" for _, kw, _ in sources]
    return worth.counts(
        [worth.Count("hours", heat / KWH / kw, f"{name}, {kw} kW", "hour", kind) for name, kw, kind in sources],
        title=f"The same {heat / KWH:.0f} kWh from three sources",
        words=f"Each box is one hour. {products[0]}, {products[1]} and {products[2]} all make {kwh(heat)}. "
        "The amount is the same, the rate is not: more kilowatts, fewer hours.",
    )


BY_HAND = {"volume": 0.300, "hot": 80.0, "useful": 40.0, "power": 10e3}
"""The numbers of the worked sum: Larkrigg's store and its log burner [m3, °C, °C, W]."""
SECOND = {"volume": 0.180, "hot": 70.0, "useful": 45.0, "power": 3e3}
THIRD = {"volume": 0.500, "hot": 85.0, "useful": 40.0, "power": 15e3}


def sums(given):
    """Return the sum of what a full store is worth, each line with its working.

    Parameters
    ----------
    given : mapping
        As `BY_HAND`.

    Returns
    -------
    tuple of tlib.sizing.Line
    """
    return sizing.full_store_working(**given, bath=BATH)


def second_store():
    """Return the same sum for Tansy Wharf, with three of its lines left to the learner."""
    return FadedExample(
        "second-store", sums(SECOND), (2, 4, 5), title="3 Tansy Wharf: three lines are yours",
        ask="Ottoline's store holds 180 litres at 70 °C, of use down to 45 °C. An immersion heater of 3 kW fills it. "
        "A bath is again 120 litres at 42 °C, made from water at 10 °C. Write each line that is yours with its unit.",
    )  # fmt: skip


def third_store():
    """Return the same sum for Quillbeck Hall, with every line left to the learner."""
    return FadedExample(
        "third-store", sums(THIRD), title="Quillbeck Hall: every line is yours",
        ask="The store of the village hall holds 500 litres at 85 °C, of use down to 40 °C. Its log burner gives the "
        "water 15 kW. A bath is as before.",
    )  # fmt: skip


def check():
    """Return what the computed store says beside the hand sum.

    Returns
    -------
    str
        Two sentences.

    Notes
    -----
    The computed store has no loss here, as the hand sum has none; book 03 adds it.
    """
    power, seconds = BY_HAND["power"], 60.0 * round(sums(BY_HAND)[4].value / 60)
    hot = BY_HAND["useful"] + power * seconds / float(stored_heat(BY_HAND["volume"], 1.0))
    tank = larkrigg().store.model_copy(update={"loss": 0.0})
    heater = Element(0.0, 1.0, power)
    warmed = run_store(tank, (), elements=[heater], start=BY_HAND["useful"], duration=seconds)
    agree = "agree" if warmed.ledger.closure <= 1e-12 else "do NOT agree"
    return (
        f"{power / 1000:g} kW for {seconds / 60:g} minutes: {hot:.1f} °C by hand, "
        f"{warmed.layers[-1].mean():.1f} °C in the computed store.\nHeat in and heat kept {agree}."
    )


def prediction():
    """Return the question that is locked before the panel opens."""
    return Prediction(
        "twice-both",
        "One store has twice the litres of another, and it may cool by twice as many degrees. How many times the "
        "useful heat does it hold?",
        tuple(GUESSES),
    )


def panel():
    """Return the panel of book 01, which opens when the prediction is locked.

    Returns
    -------
    Panel
        The question, then controls with the store and its worth beside them.
    """
    return Panel(SIGHT, PRESETS, pictures, prediction=prediction(), title="Fill the store")
