"""Book 00, a day at Larkrigg Farm: through which parts heat passes now, quarter of an hour by quarter of an hour."""

from functools import cache

import numpy as np

from tlib.figures.schematic import Passing, schematic
from tlib.installation.schematic_plan import plan_of
from tlib.panels.books.places import larkrigg
from tlib.panels.controls import Control
from tlib.panels.panel import Panel
from tlib.panels.playback import Playback
from tlib.panels.prediction import Prediction, echo
from tlib.simulation import Conditions, Day, Draw, Fault, Firing, Heating, Start, engine_is_ready, simulate

__all__ = ["PRESETS", "SIGHT", "SLOT", "day", "frame", "panel", "passing_at", "pictures", "prediction", "words_at"]

HOUR, KW = 3600.0, 1000.0
BEGINS, ENDS = 6.0, 24.0
"""Time of day at which the run begins and ends [h]."""
SLOT = 0.25
"""Time over which heat is averaged [h]: a valve that opens for a minute would else be missed."""
POWER_CUT = (18.75, 19.75)
"""From when to when the power is off [h]."""
NO_POWER = "no power: every pump stands still"
LEAST = 0.05
"""Less heat than this is not told of [kW]."""

SIGHT = (
    Control(
        "time_of_day", BEGINS, ENDS - SLOT, SLOT, 7.25, "hours",
        "18.5 is half past six in the evening. Arrow keys go on by a quarter of an hour.",
    ),
)  # fmt: skip
PRESETS = {"Morning": {}, "Sunny noon": {"time_of_day": 12.5}, "Evening fire": {"time_of_day": 18.5},
           "Power cut": {"time_of_day": 19.0}}  # fmt: skip
PACES = {"A quarter of an hour a step": 15}

GIVES = {
    "fire to water": ("fire", "the fire gives its water {heat}"),
    "boiler to store": ("boiler", "the boiler gives the store {heat}"),
    "solar to store": ("sun", "the sun gives the store {heat}"),
}
TAKES = {
    "heating": ("rooms", "the rooms take {heat}"),
    "hot water": ("taps", "the taps take {heat}"),
    "heat leak": ("heat leak", "the heat-leak radiator takes {heat}"),
    "thermal valve": ("to waste", "the thermal valve sends {heat} to waste with mains water"),
}
BACK = {
    "burner to store": ("takes back", "the burner takes {heat} back from the store"),
    "boiler to store": ("takes back", "the boiler takes {heat} back from the store"),
    "solar to store": ("takes back", "the roof takes {heat} back from the store"),
}
"""When a pump runs on past a source that has cooled."""


@cache
def day():
    """Return a sunny day in spring: boiler and showers, sun, a fire at six, and an hour without power from 18:45.

    Returns
    -------
    tlib.simulation.Result
        From 06:00 to midnight.
    """
    return simulate(
        larkrigg(),
        Conditions(
            start=Start(store=tuple(np.linspace(30.0, 62.0, 50).tolist())),
            begins=BEGINS * HOUR,
            duration=(ENDS - BEGINS) * HOUR,
            weather=Day(coldest=6.0, warmest=15.0, sun=750.0, rises=6 * HOUR, sets=19 * HOUR),
            draws=tuple(Draw(_after(clock), 0.048, 40.0, 8 / 60) for clock in (7.25, 7.5, 7.75, 13.0, 21.5)),
            firing=(Firing(_after(18.0), 8.0, 0.20),),
            programme=(Heating(_after(6.5), _after(8.0), 2500.0), Heating(_after(17.0), _after(22.0), 2500.0)),
            boiler=((_after(7.0), _after(8.25)),),
            faults=(Fault("power cut", *map(_after, POWER_CUT)),),
        ),
    )


def _after(clock):
    """Return a time of day [h] in seconds after the run's begin."""
    return (clock - BEGINS) * HOUR


def _mean(name, clock):
    """Return a heat flow's mean over the quarter of an hour from a time of day [kW]."""
    result = day()
    rows = slice(result.at(_after(clock)), result.at(_after(clock + SLOT)))
    return float(np.mean(result.powers[name][rows])) / KW


def passing_at(clock):
    """Return the heat that passes in the quarter of an hour from a time of day.

    Parameters
    ----------
    clock : float
        Time of day [h]; 6 to 23.75.

    Returns
    -------
    tuple of Passing
        Each heat flow that is worth telling of.
    """
    found = []
    for name, (word, _) in (GIVES | {"burner to store": ("to store", "")} | TAKES).items():
        heat = _mean(name, clock)
        gives_back = heat < 0 and name in BACK
        if abs(heat) >= LEAST:
            found.append(Passing(name, BACK[name][0] if gives_back else word, f"{abs(heat):.1f} kW"))
    return tuple(found)


def words_at(clock):
    """Return what happens in the quarter of an hour from a time of day, in short sentences.

    Parameters
    ----------
    clock : float
        Time of day [h]; 6 to 23.75.

    Returns
    -------
    str
        Who gives heat, who takes it, and how warm the store is.
    """
    gives = _told(GIVES, clock, sign=1)
    takes = _told(TAKES, clock, sign=-1) + _told(BACK, clock, sign=-1)
    said = [f"From {_clock(clock)} to {_clock(clock + SLOT)} {_list(gives) or 'nothing gives heat'}."]
    if (arrives := _mean("burner to store", clock)) >= LEAST:
        said.append(f"{arrives:.1f} kW go on from the burner to the store. The burner itself keeps or gives the rest.")
    if takes:
        said.append(_sentence(_list(takes)))
    if POWER_CUT[0] <= clock < POWER_CUT[1]:
        said.append("The power is off, so no pump runs. The fire does not know it and burns on.")
    if _mean("thermal valve", clock) <= -LEAST:
        said.append("What runs out at the tundish, an open funnel, is near boiling: stand clear, and call for help.")
    top, bottom = (float(day().layers[day().at(_after(clock)), layer]) for layer in (-1, 0))
    return " ".join([*said, f"The store is {top:.0f} °C on top and {bottom:.0f} °C at the bottom."])


def _told(flows, clock, sign):
    """Return a clause for each heat flow that goes the given way."""
    heats = {says: sign * _mean(name, clock) for name, (_, says) in flows.items()}
    return [says.format(heat=f"{heat:.1f} kW") for says, heat in heats.items() if heat >= LEAST]


def _list(clauses):
    *first, last = clauses or [""]
    return f"{', '.join(first)} and {last}" if first else last


def _sentence(text):
    return f"{text[:1].upper()}{text[1:]}."


def _clock(clock):
    minutes = round(60 * clock) % (24 * 60)
    return f"{minutes // 60:02d}:{minutes % 60:02d}"


def pictures(time_of_day, prediction=None):
    """Return the installation with the parts marked through which heat passes.

    Parameters
    ----------
    time_of_day : float
        When the quarter of an hour begins [h].
    prediction : str, optional
        What the learner thought, told while the power is off.

    Returns
    -------
    tuple of Picture
        One.
    """
    title = f"{larkrigg().name}, {_clock(time_of_day)}"
    heat, words = passing_at(time_of_day), words_at(time_of_day)
    if POWER_CUT[0] <= time_of_day < POWER_CUT[1]:
        words = f"{words} {echo(prediction)}".strip()
    notice = NO_POWER if POWER_CUT[0] <= time_of_day < POWER_CUT[1] else ""
    return (schematic(plan_of(larkrigg()), (), heat, title=title, words=words, notice=notice),)


def frame(result, time):
    """Return the picture of the quarter of an hour that holds a moment of the day, for the player.

    Parameters
    ----------
    result : tlib.simulation.Result
        What `day` returns.
    time : float
        After its start [s].

    Returns
    -------
    tuple of Picture
        One.
    """
    quarters = min(int(time / HOUR / SLOT + 1e-9), round((ENDS - BEGINS) / SLOT) - 1)
    return pictures(result.begins / HOUR + quarters * SLOT)


def prediction():
    """Return the question that is locked before the day opens."""
    return Prediction(
        "power-cut",
        "A fire burns at Larkrigg Farm. At a quarter to seven in the evening the electric power fails. Where does the "
        "heat of the fire go now?",
        (
            "Into the store: the charge pump runs on",
            "Into the heat-leak radiator, and away with mains water if the burner gets too hot",
            "Nowhere: without power the fire goes out",
        ),
    )


def panel():
    """Return the day at Larkrigg Farm, which opens when the prediction is locked.

    Returns
    -------
    Panel
        The question, then a clock with the installation beside it.
    """
    return Panel(
        SIGHT, PRESETS, pictures, prediction=prediction(), getting_ready=lambda: not engine_is_ready(),
        title="Through which parts does heat pass now?", play=Playback(frame, lambda **_: day(), paces=PACES),
    )  # fmt: skip
