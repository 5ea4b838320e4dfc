"""Book 03, the slow leak: where the heat of a store goes when nobody uses any."""

import math

import numpy as np

from tlib import sizing
from tlib.combustion import net_calorific_value
from tlib.figures import chart, losses
from tlib.figures.store import Bracket, Port, banded, store_picture
from tlib.heat_transfer import (
    cool_down,
    cylinder_loss_coefficient,
    end_loss_coefficient,
    energy_class,
    sap_foam_loss,
    stored_heat,
)
from tlib.panels.books.places import larkrigg, quillbeck
from tlib.panels.controls import Control
from tlib.panels.faded_example import FadedExample
from tlib.panels.panel import Panel
from tlib.panels.prediction import Prediction, echo
from tlib.simulation import engine_is_ready, run_store

__all__ = [
    "BY_HAND", "GUESSES", "MORE", "PRESETS", "SECOND", "SIGHT", "THIRD", "check", "cooling", "panel", "parts",
    "pictures", "prediction", "second_store", "sums", "third_store", "week_alone",
]  # fmt: skip

KWH, HOUR, DAY = 3.6e6, 3600.0, 86_400.0
FOAM, FILM = 0.025, 8.0
"""Conductivity of the foam [W/(m K)], and the film of still air and radiation outside it [W/(m2 K)]."""
PIPE = 0.028
"""Outside diameter of the bare pipe [m]. All of it is counted as hot as the store, as one-pipe circulation makes it."""
A_KILO = float(net_calorific_value(0.20)) * 0.75 * 0.65
"""Heat that a kilo of dry logs brings to the water, as in book 04 [J/kg]."""
GUESSES = {"To less than half, about 40 %": 0.40, "To half, 50 %": 0.50, "To more than half, about 60 %": 0.60}
"""What twice the foam leaves of the loss, by the words of the prediction."""
THICKNESSES = np.arange(25.0, 151.0, 5.0)

SIGHT = (
    Control("volume", 150, 500, 10, 300, "l"),
    Control("store", 40, 90, 1, 80, "°C", "Hot all through when the last tap is shut.", label="Store temperature"),
    Control("room", 5, 25, 1, 15, "°C", "Where the store stands.", label="Room temperature"),
    Control("insulation", 25, 150, 5, 50, "mm", "Foam all round."),
    Control("days", 0.5, 4, 0.5, 2, "days", "How long nobody uses any heat.", label="Left alone for"),
)
MORE = (
    Control("bare_pipe", 0, 6, 0.5, 0, "m", "28 mm, without insulation, and hot along all of its length."),
    Control("store_height", 0.9, 2, 0.02, 1.26, "m", "The same litres, tall and slim or short and wide."),
)
PRESETS = {
    "As it came": {},
    "New and thick": {"insulation": 100},
    "Old jacket": {"insulation": 25, "bare_pipe": 2},
    "Cold cupboard": {"room": 5},
    "Fittings bare": {"bare_pipe": 4},
}


def parts(volume, insulation, bare_pipe, store_height):
    """Return the loss coefficient of each part of a store.

    Parameters
    ----------
    volume : float
        [l].
    insulation : float or ndarray
        [mm].
    bare_pipe, store_height : float
        [m].

    Returns
    -------
    dict of str to float or ndarray
        "side", "two ends" and "bare pipe" [W/K], the last one only if there is any.
    """
    wide = math.sqrt(4 * volume / 1000 / (math.pi * store_height))
    foam = insulation / 1000
    found = {
        "side": cylinder_loss_coefficient(wide, store_height, foam, FOAM, FILM),
        "two ends": 2 * end_loss_coefficient(wide, foam, FOAM, FILM),
    }
    if bare_pipe:
        found["bare pipe"] = cylinder_loss_coefficient(PIPE, bare_pipe, 0.0, FOAM, FILM)
    return found


def cooling(volume, store, room, days, loss, store_height=1.26):
    """Return how a store cools while nobody uses any heat, from the engine.

    Parameters
    ----------
    volume : float
        [l].
    store, room : float
        [°C].
    days : float
        How long.
    loss : float
        Loss coefficient [W/K].
    store_height : float, optional
        [m].

    Returns
    -------
    tlib.simulation.Result
    """
    tank = larkrigg().store.model_copy(
        update={"volume": volume / 1000, "height": store_height, "loss": float(loss), "room": float(room)}
    )
    return run_store(tank, (), start=float(store), duration=days * DAY, step=600.0)


def pictures(volume, store, room, insulation, days, bare_pipe, store_height, prediction=None):
    """Return where the heat goes, what thicker foam would save, and how the store cools.

    Parameters
    ----------
    volume : float
        [l].
    store, room : float
        [°C].
    insulation : float
        [mm].
    days : float
        [days].
    bare_pipe, store_height : float
        [m].
    prediction : str, optional
        Which of `GUESSES` the learner locked.

    Returns
    -------
    tuple of Picture
        The leaks, the loss against the foam, the curve of cooling.
    """
    leaking = parts(volume, insulation, bare_pipe, store_height)
    loss = sum(leaking.values())
    run = cooling(volume, store, room, days, loss, store_height)
    return (
        _leaks(leaking, volume, store, room, insulation, bare_pipe),
        _thicker(volume, store - room, insulation, bare_pipe, store_height, prediction),
        _cools(run, volume, store, room, days, loss),
    )


def _leaks(leaking, volume, store, room, insulation, bare_pipe):
    foam = f"{insulation:g} mm of foam"
    notes = {"side": foam, "two ends": foam, "bare pipe": f"{bare_pipe:g} m"}
    watts = {name: float(each) * (store - room) for name, each in leaking.items()}
    whole, label = sum(watts.values()), 45.0 * float(leaking["side"] + leaking["two ends"])
    week = whole * 7 * DAY / KWH
    return losses.leaks(
        [losses.Leak(name, notes[name], power) for name, power in watts.items()], max(300.0, whole, label),
        beside=losses.Leak("on its label", "65 °C in a room of 20 °C", label), title="Where the heat leaks out",
        words=f"Kept at {store:g} °C the store leaks {whole:.0f} W: {whole * DAY / KWH:.1f} kWh a day. "
        f"In a week that is {week:.0f} kWh, which takes {week * KWH / A_KILO:.0f} kg of dry logs. "
        f"Its label says {label:.0f} W, class {energy_class(label, volume / 1000)}: "
        "tested without pipes, at 65 °C in a room of 20 °C.",
    )  # fmt: skip


def _cools(run, volume, store, room, days, loss):
    mean = run.layers.mean(axis=1)
    gone = float(stored_heat(volume / 1000, store - mean[-1])) / KWH
    said = f"{days:g} {'day' if days == 1 else 'days'}"
    return chart.curve_chart(
        run.time / HOUR, [chart.Line("store", tuple(mean), "top"), chart.Line("room", (room,) * mean.size, "bottom")],
        along=("time", "hours"), axis=chart.Axis(0, 90, "°C"), title="How the store cools",
        words=f"After {said} without use the store is at {mean[-1]:.0f} °C. {gone:.1f} kWh are gone. It leaks "
        f"{loss * (store - room):.0f} W at first and {loss * (mean[-1] - room):.0f} W at the end: "
        "the smaller the gap to its room, the less leaks.",
    )  # fmt: skip


def _thicker(volume, gap, insulation, bare_pipe, store_height, prediction):
    curve = gap * sum(parts(volume, THICKNESSES, bare_pipe, store_height).values())
    thin, double = (float(np.interp(at, THICKNESSES, curve)) for at in (50.0, 100.0))
    now = float(np.interp(insulation, THICKNESSES, curve))
    guess = chart.Guess("loss", 100.0, thin * GUESSES[prediction]) if prediction else None
    return chart.curve_chart(
        THICKNESSES, [chart.Line("loss", tuple(curve), "top")], along=("foam", "mm"),
        axis=chart.Axis(0, 10 * math.ceil(curve.max() / 10), "W"), guess=guess, title="What thicker foam saves",
        words=f"With {insulation:g} mm of foam the store loses {now:.0f} W. From 50 to 100 mm the loss falls from "
        f"{thin:.0f} to {double:.0f} W: to {100 * double / thin:.0f} % of it, which is more than half. "
        f"{'Foam on the store does nothing for the bare pipe. ' if bare_pipe else ''}{echo(prediction)}".strip(),
    )  # fmt: skip


TEST = {"test_store": 65.0, "test_room": 20.0}
NIGHT = {"duration": 8 * HOUR}
BY_HAND = TEST | NIGHT | {"label": 2.0 * KWH / DAY, "store": 80.0, "room": 15.0, "volume": 0.300}
"""The numbers of the worked sum: a label of 2.0 kWh a day, by the European test [W, °C, °C, m3, s]."""
SECOND = TEST | NIGHT | {"label": 2.4 * KWH / DAY, "store": 75.0, "room": 10.0, "volume": 0.500}
THIRD = TEST | NIGHT | {"label": 1.4 * KWH / DAY, "store": 70.0, "room": 22.0, "volume": 0.180}


def sums(given):
    """Return the sum from a label to the real loss, each line with its working.

    Parameters
    ----------
    given : mapping
        As `BY_HAND`.

    Returns
    -------
    tuple of tlib.sizing.Line
    """
    return sizing.standing_working(**given)


def second_store():
    """Return the same sum for Quillbeck Hall, with three of its lines left to the learner."""
    return FadedExample(
        "label-hall", sums(SECOND), (2, 3, 4), title="Quillbeck Hall: three lines are yours",
        ask="The label of the hall's store, 500 litres, says 2.4 kWh a day, tested at 65 °C in a room of 20 °C. It "
        "really stands at 75 °C in a cold room at 10 °C, and a night has 8 hours. "
        "Write each line that is yours with its unit.",
    )  # fmt: skip


def third_store():
    """Return the same sum for Tansy Wharf, with every line left to the learner."""
    return FadedExample(
        "label-terrace", sums(THIRD), title="3 Tansy Wharf: every line is yours",
        ask="Ottoline's label says 1.4 kWh a day, tested like the others. Her 180 litres stand at 70 °C in a kitchen "
        "at 22 °C. The last two lines are about a night of 8 hours; your calculator has a button e^x.",
    )  # fmt: skip


def check():
    """Return what the computed store says beside the formula, and the loss of factory foam by the energy rating.

    Returns
    -------
    str
        Three sentences.
    """
    night = cooling(300, 80, 15, 1 / 3, sums(BY_HAND)[1].value)
    by_hand = float(cool_down(0.300, sums(BY_HAND)[1].value, 80.0, 15.0, 8 * HOUR))
    thin, thick = (float(sap_foam_loss(0.300, foam)) * DAY / KWH for foam in (0.050, 0.100))
    return (
        f"After 8 hours: {by_hand:.1f} °C by the formula, {night.layers[-1].mean():.1f} °C in the computed store.\n"
        f"The public energy rating counts {thin:.2f} kWh a day for 50 mm of foam and {thick:.2f} for 100 mm, before "
        "its factor for temperature."
    )


def week_alone():
    """Return the picture of the hall's store after a week without use, from the engine.

    Returns
    -------
    tlib.figures.picture.Picture
    """
    run = run_store(quillbeck().store, (), start=80.0, duration=7 * DAY, step=600.0)
    first, last = (abs(float(run.powers["standing loss"][at])) for at in (1, -1))
    leaks = (
        Bracket("heat leaks through the foam, all round", 0.0, side="right"),
        Port("pipe to the radiators", 0.65, "resting", "leaks at its bare valve"),
        Port("pipe from the radiators", 0.1, "resting", "leaks at its bare valve"),
    )  # fmt: skip
    return store_picture(
        banded(run.layers[-1]), leaks, title="Quillbeck Hall after a week alone: it was at 80 °C",
        words="No tap was open and no pump ran. Yet the store went from 80 °C to "
        f"{run.layers[-1].mean():.0f} °C on average. At first {first:.0f} W leaked out, and {last:.0f} W in the end.",
    )  # fmt: skip


def prediction():
    """Return the question that is locked before the panel opens."""
    return Prediction(
        "twice-the-foam",
        "A store has 50 mm of foam all round. It gets another 50 mm, so the foam is twice as thick. To how much does "
        "the loss fall?",
        tuple(GUESSES),
    )


def panel():
    """Return the panel of book 03, which opens when the prediction is locked.

    Returns
    -------
    Panel
        The question, then controls with the leaks, the cooling and the foam beside them.
    """
    return Panel(
        SIGHT, PRESETS, pictures, more=MORE, prediction=prediction(), getting_ready=lambda: not engine_is_ready(),
        title="Leave the store alone",
    )  # fmt: skip
