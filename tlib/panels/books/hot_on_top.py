"""Book 02, why hot stays on top: water comes into a store for twenty minutes, and finds its place or spoils it."""

import numpy as np

from tlib import sizing
from tlib.figures import before_after, store
from tlib.panels.books.places import larkrigg
from tlib.panels.controls import Control
from tlib.panels.faded_example import FadedExample
from tlib.panels.panel import Panel
from tlib.panels.playback import Playback
from tlib.panels.prediction import Prediction, echo
from tlib.simulation import Loop, engine_is_ready, run_store
from tlib.solar_radiation import collector_efficiency
from tlib.stratification import mix_number, usable_heat
from tlib.thermal_store import FILL_DENSITY

__all__ = [
    "BY_HAND", "MINUTES", "MORE", "PRESETS", "SECOND", "SIGHT", "TAPS", "THIRD", "check", "come_in", "ends_of",
    "frame", "home", "panel", "pictures", "prediction", "second_store", "sums", "third_store", "two_layers",
    "two_stores",
]  # fmt: skip

KWH, LAYERS, BANDS = 3.6e6, 50, 12
MINUTES = 20.0
"""How long water comes in [min]; as much leaves at the bottom."""
TAPS = 60.0
"""Only heat that is hotter than this makes hot taps, through the coil [°C]; book 07 works it out."""
MOST = 300 * 1.163 * (85.0 - TAPS) / 1000
"""What the whole bar of that heat stands for: Larkrigg's store, all at 85 °C [kWh]."""
PIPE, STIRS = 0.022, 0.3
"""Bore of the inlet [m], and the share of its jet's flow that is exchanged with each layer within reach [-]: a plain
pipe end; the share is an assumption, to be calibrated against measurements."""

SIGHT = (
    Control("hot_share", 0, 100, 5, 40, "%", "How much of the store, from the top down, is hot."),
    Control("inlet_height", 0, 1, 0.05, 1, "", "Where the water comes in: 0 is the bottom, 1 is the top."),
    Control("inlet_flow", 2, 40, 1, 3, "l/min", "For 20 minutes. A fast flow is a jet that stirs."),
    Control("inlet_temperature", 20, 85, 1, 45, "°C"),
    Control("hot", 50, 85, 1, 75, "°C", "The hot water on top.", label="Hot water"),
)
MORE = (Control("cold", 20, 50, 1, 35, "°C", "The cool water below it.", label="Cool water"),)
PRESETS = {
    "Warm water put in high": {},
    "Sun put in low": {"inlet_height": 0.1},
    "Sun put in at its own height": {"inlet_height": 0.6},
    "Pump too big": {"inlet_height": 0.5, "inlet_flow": 40},
}


def two_layers(hot_share, hot, cold):
    """Return the layers of a store whose upper part is hot and whose lower part is cool.

    Parameters
    ----------
    hot_share : float
        Share of the store that is hot [-].
    hot, cold : float
        [°C].

    Returns
    -------
    ndarray
        Temperatures from the bottom up [°C], shape (50,); the layer that holds the edge has their mean.
    """
    cool = np.clip((1.0 - hot_share) * LAYERS - np.arange(LAYERS), 0.0, 1.0)
    return cool * cold + (1.0 - cool) * hot


def come_in(hot_share, inlet_height, inlet_flow, inlet_temperature, hot, cold):
    """Return what becomes of the store while water comes in for twenty minutes, and as much leaves at the bottom.

    Parameters
    ----------
    hot_share : float
        [%].
    inlet_height : float
        0 (bottom) to 1 (top) [-].
    inlet_flow : float
        [l/min].
    inlet_temperature, hot, cold : float
        [°C]; a cold above hot counts as hot.

    Returns
    -------
    tlib.simulation.Result
        Twenty minutes.
    """
    flow = inlet_flow / 60_000 * FILL_DENSITY
    inlet = Loop(0.0, inlet_height, flow, inlet_temperature, opening=PIPE, exchange=STIRS)
    start = two_layers(hot_share / 100, hot, min(cold, hot))
    return run_store(larkrigg().store, [inlet], start=start.tolist(), duration=60 * MINUTES, layers=LAYERS)


def home(layers, temperature):
    """Return the height at which the water of a store in layers is as warm as this [-].

    Parameters
    ----------
    layers : array_like
        From the bottom up [°C], none cooler than the one below.
    temperature : float
        [°C].

    Returns
    -------
    float
        0 (bottom) to 1 (top).

    Examples
    --------
    >>> home([35.0, 35.0, 75.0, 75.0], 45.0)
    0.5
    """
    return float(np.mean(np.asarray(layers) < temperature))


def ends_of(hot, cold, inlet_temperature):
    """Return the coolest and the warmest there is, between which stirring is counted before and after [°C]."""
    return min(cold, hot, inlet_temperature), max(hot, inlet_temperature)


def pictures(hot_share, inlet_height, inlet_flow, inlet_temperature, hot, cold, prediction=None):
    """Return the store after water has come in, and what that did to it.

    Parameters
    ----------
    hot_share, inlet_height, inlet_flow, inlet_temperature, hot, cold : float
        As `come_in` takes them.
    prediction : str, optional
        What the learner locked.

    Returns
    -------
    tuple of Picture
        The store, then before and after.
    """
    run = come_in(hot_share, inlet_height, inlet_flow, inlet_temperature, hot, cold)
    before, after = run.layers[0], run.layers[-1]
    ends = ends_of(hot, cold, inlet_temperature)
    return (
        _store(before, after, inlet_height, inlet_flow, inlet_temperature, prediction),
        _did(before, after, ends),
    )


def _store(before, after, height, flow, temperature, prediction):
    came, place = f"{MINUTES * flow:g} l at {temperature:g} °C", home(before, temperature)
    inlet = store.Port("comes in", height, "in", came, "sun")
    out = f"{before[0]:.0f} °C at first, {after[0]:.0f} °C now"
    parts = [store.Plume(inlet, place), store.Port("goes out", 0.0, "out", out, "heating", "right")]
    parts += _zones(before)
    bands, was = store.banded(after, BANDS), store.banded(before, BANDS)
    return store.store_picture(
        bands, parts, before=was, title=f"{MINUTES:g} minutes later: {MINUTES * flow:g} litres came in",
        words=f"{_way(height, place)} {_top(was[-1], bands[-1])} {echo(prediction)}".strip(),
    )  # fmt: skip


def frame(run, time):
    """Return the store at a moment of the twenty minutes, for the player.

    Parameters
    ----------
    run : tlib.simulation.Result
        As `come_in` gives it.
    time : float
        After the water began to come in [s].

    Returns
    -------
    tuple of Picture
        One.
    """
    before, now = run.layers[0], run.layers[run.at(time)]
    was, bands = store.banded(before, BANDS), store.banded(now, BANDS)
    minutes = f"{time / 60:.0f} minute{'' if round(time / 60) == 1 else 's'} later"
    words = f"{_top(was[-1], bands[-1])} The bottom is at {bands[0]:.0f} °C."
    return (store.store_picture(bands, _zones(before), title=minutes, words=words),)


def _run(prediction, **values):
    return come_in(**values)


def _top(was, now):
    same = round(was) == round(now)
    return f"The top is still at {now:.0f} °C." if same else f"The top was {was:.0f} °C and is now {now:.0f} °C."


def _zones(before):
    """Return brackets that say beside the store how warm its two parts were."""
    edge = float(np.mean(before < before[-1])) if before[0] < before[-1] else 0.0
    zones = ((0.0, edge, before[0]), (edge, 1.0, before[-1]))
    return [store.Bracket(f"before: {value:.0f} °C", low, high) for low, high, value in zones if low < high]


def _way(height, place):
    if abs(place - height) < 0.03:
        return "The water stays at the height where it came in, and spreads out there."
    if place < height:
        return "The water is heavier than what lies below its inlet. It sinks, and mixes on its way."
    return "The water is lighter than what lies above its inlet. It rises, and mixes on its way."


def _did(before, after, ends):
    litres = 1000 * larkrigg().store.volume
    mixes = [float(mix_number(layers, *ends)) if ends[0] < ends[1] else np.nan for layers in (before, after)]
    hot = [float(usable_heat(layers, litres, TAPS)) / KWH for layers in (before, after)]
    pairs = (
        before_after.Pair("top of the store", "", *(store.banded(layers, BANDS)[-1] for layers in (before, after)),
                          90, "°C", 0),
        before_after.Pair(f"heat above {TAPS:g} °C", "what makes hot taps", *hot, MOST, "kWh"),
        before_after.Pair("how stirred", "0 in layers, 1 all mixed", *mixes, 1, decimals=2),
    )  # fmt: skip
    return before_after.before_after(
        pairs, title="What that did to the store",
        words=_did_words(before, after, hot, mixes, ends),
    )  # fmt: skip


def _did_words(before, after, hot, mixes, ends):
    heat = (np.mean(after) - np.mean(before)) * larkrigg().store.volume * 1000 * 1.163 / 1000
    gained = f"The store {'gained' if heat > 0 else 'lost'} {abs(heat):.1f} kWh." if abs(heat) >= 0.05 else ""
    taps = f"Its heat above {TAPS:g} °C went from {hot[0]:.1f} to {hot[1]:.1f} kWh."
    if not np.all(np.isfinite(mixes)):
        return f"{gained} {taps} It has one temperature, so there is no stirring to count.".strip()
    counted = f"counted from {ends[0]:g} to {ends[1]:g} °C"
    return f"{gained} {taps} Stirring, {counted}, went from {mixes[0]:.2f} to {mixes[1]:.2f}.".strip()


BY_HAND = {"volume": 0.300, "hot_part": 0.120, "hot": 75.0, "cold": 35.0, "useful": 40.0}
"""The numbers of the worked sum [m3, m3, °C, °C, °C]."""
SECOND = {"volume": 0.500, "hot_part": 0.250, "hot": 80.0, "cold": 30.0, "useful": 45.0}
THIRD = {"volume": 0.180, "hot_part": 0.108, "hot": 70.0, "cold": 40.0, "useful": 42.0}


def sums(given):
    """Return the sum of what stirring costs, each line with its working.

    Parameters
    ----------
    given : mapping
        As `BY_HAND`.

    Returns
    -------
    tuple of tlib.sizing.Line
    """
    return sizing.stirring_working(**given)


def second_store():
    """Return the same sum for Quillbeck Hall, with two of its lines left to the learner."""
    return FadedExample(
        "stirred-hall", sums(SECOND), (1, 3), title="Quillbeck Hall: two lines are yours",
        ask="Half of the 500 litres are at 80 °C, and half at 30 °C. The taps of the hall need 45 °C or more. A big "
        "pump then mixes it all. Write each line that is yours with its unit.",
    )  # fmt: skip


def third_store():
    """Return the same sum for Tansy Wharf, with every line left to the learner."""
    return FadedExample(
        "stirred-terrace", sums(THIRD), title="3 Tansy Wharf: every line is yours",
        ask="Of Ottoline's 180 litres, 108 are at 70 °C and the rest is at 40 °C. Her heat is of use from 42 °C up. "
        "Then all of it is mixed.",
    )  # fmt: skip


def two_stores(mixed):
    """Return the picture of one of two stores that hold the same heat.

    Parameters
    ----------
    mixed : bool
        The one that was stirred, or the one in layers.

    Returns
    -------
    tlib.figures.picture.Picture
    """
    layers = two_layers(0.4, 75.0, 35.0)
    bands = store.banded(np.full(LAYERS, layers.mean()) if mixed else layers, 10)
    above = float(usable_heat(bands, FILL_DENSITY * larkrigg().store.volume, 40.0)) / KWH
    name, state, hot = ("Store B", "mixed", "no water") if mixed else ("Store A", "in layers", "120 litres")
    zone = store.Bracket("none above 60 °C", 0.0) if mixed else store.Bracket("120 l above 60 °C", 0.6)
    return store.store_picture(
        bands, [zone], title=f"{name}, {state}: average {bands.mean():.0f} °C",
        words=f"{name} has {hot} above 60 °C. Above 40 °C it holds {above:.1f} kWh.",
    )  # fmt: skip


def check():
    """Return what stirring does in the computed store, and what a flat collector makes of a low and a high place.

    Returns
    -------
    str
        Three sentences.

    Notes
    -----
    The collector is the course's own: eta 0.78, loss 3.9 W/(m2 K), 600 W/m2, air at 15 °C.
    """
    jet = come_in(40, 0.5, 40, 45, 75, 35).layers[-1]
    rest = run_store(larkrigg().store, (), start=jet.tolist(), duration=4 * 3600.0).layers[-1]
    stirred, later = (float(mix_number(layers, 35.0, 75.0)) for layers in (jet, rest))
    low, high = (100 * float(collector_efficiency(600.0, mean - 15.0, 0.78, 3.9, 0.0)) for mean in (30.0, 65.0))
    kept = "no better" if later >= stirred else "BETTER"
    return (
        f"A fast jet stirs the store to {stirred:.2f}. Four hours later its layers are {kept}.\n"
        f"The sun at 30 °C brings {low:.0f} % of its light into the water, at 65 °C only {high:.0f} %."
    )


def prediction():
    """Return the question that is locked before the panel opens."""
    return Prediction(
        "warm-at-the-top",
        "The top of a store is at 75 °C. In 20 minutes 60 litres of warm water, at 45 °C, are put in at the top. "
        "They bring heat, and as much cool water leaves at the bottom. What happens to the top?",
        ("It stays at 75 °C", "It gets cooler", "It gets hotter, as heat has come in"),
    )


def panel():
    """Return the panel of book 02, which opens when the prediction is locked.

    Returns
    -------
    Panel
        The question, then controls with the store, and what was done to it.
    """
    return Panel(
        SIGHT, PRESETS, pictures, more=MORE, prediction=prediction(), getting_ready=lambda: not engine_is_ready(),
        title="Let water in for twenty minutes",
        play=Playback(frame, _run, paces={"One minute a step": 1}, opens="Watch it minute by minute"),
    )  # fmt: skip
