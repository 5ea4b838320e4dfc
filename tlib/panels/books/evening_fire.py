"""Book 04, the evening fire and the morning shower: from a basket of logs to the last shower, as pure functions."""

import numpy as np

from tlib import sizing
from tlib.combustion import net_calorific_value
from tlib.figures import bars, chart, store
from tlib.figures.heat_scale import Mark
from tlib.panels.books.places import larkrigg
from tlib.panels.controls import Choice, Control, starts
from tlib.panels.panel import Panel
from tlib.panels.playback import Playback
from tlib.panels.prediction import Prediction, echo
from tlib.simulation import Conditions, Draw, Firing, Heating, Start, engine_is_ready, simulate
from tlib.stratification import usable_heat
from tlib.stratification.column import layer_at
from tlib.thermal_store import FILL_DENSITY

__all__ = [
    "GUESSES", "MORE", "PRESETS", "SIGHT", "as_it_begins", "evening", "frame", "panel", "pictures", "prediction",
    "water_heat",
]  # fmt: skip

HOUR, KWH = 3600.0, 3.6e6
LIT = 18 * HOUR
"""Time of day at which the fire is lit and the run begins [s after midnight]."""
SIX = 12 * HOUR
"""Six in the morning, in seconds after lighting."""
USEFUL = 40.0
"""The lowest useful temperature of the taught sums [°C]."""
SHOWER = {"volume": 0.048, "temperature": 40.0, "flow": 8 / 60}
"""One shower: six minutes at eight litres a minute, 40 °C."""
FIRST_SHOWER, BETWEEN_SHOWERS = 12.5 * HOUR, 0.25 * HOUR
BOILING = "boiling: the sum no longer describes what happens"

DRY, WET = 20, 35
"""Moisture of the wood that the taught sums use, and of the wood in the prediction [%]."""
GUESSES = {"About 5 % less": 0.05, "About 20 % less": 0.20, "About 40 % less": 0.40}
"""How much less heat wet wood gives the water, by the words of the prediction."""

DRAWN_AT = {"18:00, lighting": 0.0, "20:00": 2 * HOUR, "22:00": 4 * HOUR, "06:00": SIX, "09:00": 15 * HOUR}

SIGHT = (
    Control("logs", 0, 20, 0.5, 8, "kg", "In several loads: never fill a burner past its maker's mark."),
    Control("moisture", 12, 50, 1, 20, "%", "Water in the logs, as a share of their whole weight."),
    Control("store_at_lighting", 25, 75, 1, 35, "°C"),
    Control("heating_during_the_burn", 0, 8, 0.5, 0, "kW"),
    Control("share_to_water", 30, 80, 1, 65, "%", "The rest of the useful heat warms the room."),
)
MORE = (
    Control("efficiency", 55, 85, 1, 75, "%", "The rest of the heat in the wood goes up the flue."),
    Control("burn_time", 1, 6, 0.5, 3, "hours", "In this time nearly all of the wood is burnt."),
    Control("morning_showers", 0, 8, 1, 4, "", "From half past six, a quarter of an hour apart."),
    Choice("store_drawn_at", DRAWN_AT, 4 * HOUR),
)
PRESETS = {
    "A good evening": {},
    "Wet wood": {"moisture": 35},
    "The same logs, only wetter": {"moisture": 35, "logs": 10},
    "Lit on a hot store": {"store_at_lighting": 70, "logs": 12},
}


def evening(
    logs, moisture, store_at_lighting, heating_during_the_burn, share_to_water, efficiency, burn_time, morning_showers
):
    """Return a day at Larkrigg that begins when the fire is lit at six in the evening.

    Parameters
    ----------
    logs : float
        As put on the fire [kg].
    moisture, share_to_water, efficiency : float
        [%].
    store_at_lighting : float
        [°C].
    heating_during_the_burn : float
        Heat that the rooms want while the fire burns [kW].
    burn_time : float
        [h].
    morning_showers : int
        How many.

    Returns
    -------
    tlib.simulation.Result
        24 hours, or less if water boils.

    Notes
    -----
    The heat-leak radiator is left out, as in the worked sum; book 06 adds it.
    """
    site = larkrigg().model_copy(update={"heat_leak": None})
    fire = {"efficiency": efficiency / 100, "share_to_water": share_to_water / 100, "burn_time": burn_time * HOUR}
    site = site.model_copy(update={"burner": site.burner.model_copy(update=fire)})
    return simulate(
        site,
        Conditions(
            start=Start(store=float(store_at_lighting)),
            begins=LIT,
            firing=(Firing(0.0, logs, moisture / 100),),
            programme=(Heating(0.0, burn_time * HOUR, 1000.0 * heating_during_the_burn),),
            draws=tuple(Draw(FIRST_SHOWER + i * BETWEEN_SHOWERS, **SHOWER) for i in range(int(morning_showers))),
        ),
    )


def _run(store_drawn_at, prediction, **values):
    return evening(**values)


def as_it_begins():
    """Return the evening with every control where it starts."""
    return evening(**{name: value for name, value in starts(*SIGHT, *MORE).items() if name != "store_drawn_at"})


def pictures(store_drawn_at, prediction=None, **values):
    """Return the heat of the fire, the store and the day for the values of the controls.

    Parameters
    ----------
    store_drawn_at : float
        Time after lighting at which the store is drawn [s].
    prediction : str, optional
        Which of `GUESSES` the learner locked.
    **values
        As `evening` takes them.

    Returns
    -------
    tuple of Picture
        The heat against the room for it, the store, and the day.
    """
    day = evening(**values)
    return _heat(prediction, **values), _store(day, min(store_drawn_at, float(day.time[-1])), values), _day(day, values)


def frame(day, time):
    """Return the store at a moment of the day, for the panel and for the player.

    Parameters
    ----------
    day : tlib.simulation.Result
        As `evening` gives it.
    time : float
        After lighting [s].

    Returns
    -------
    tuple of Picture
        One.
    """
    return (_store(day, time),)


def water_heat(logs, moisture, efficiency, share_to_water):
    """Return the heat of a fire that goes to the water [J]; logs [kg], the others [%]."""
    kilo = float(net_calorific_value(moisture / 100))
    return logs * kilo * efficiency / 100 * share_to_water / 100


def _heat(prediction, *, logs, moisture, store_at_lighting, efficiency, share_to_water, **_):
    """Draw what the fire brings the water against the room in the store, with the same kilos dry and the guess."""
    volume = larkrigg().store.volume
    rooms = [
        bars.Limit(f"{'limit' if at == 85 else 'to'} {at} °C", float(sizing.headroom(volume, store_at_lighting, at)))
        for at in (85, 90, 95)
    ]
    brings, dry = (water_heat(logs, wet, efficiency, share_to_water) for wet in (moisture, DRY))
    marks = [Mark(f"the same at {DRY} %", dry)] if moisture != DRY else []
    marks += (
        [Mark(f"your guess for {WET} %", dry * (1 - GUESSES[prediction]), guess=True)]
        if prediction and moisture in (DRY, WET)
        else []
    )
    return bars.headroom_bar(
        rooms, brings, marks, brings=_case(logs, moisture), title="What the fire brings the water, and the room for it",
        words=" ".join(filter(None, (_heat_words(logs, moisture, brings, dry, rooms[0].room), echo(prediction)))),
    )  # fmt: skip


def _case(logs, moisture):
    return f"{logs:g} kg at {moisture:g} %"


def _heat_words(logs, moisture, brings, dry, room):
    said = f"{logs:g} kg at {moisture:g} % bring the water {brings / KWH:.1f} kWh."
    if moisture != DRY and logs:
        change = 100 * (1 - brings / dry)
        said += f" That is {abs(change):.0f} % {'less' if change > 0 else 'more'} than the same kilos at {DRY} %."
    return f"{said} That is more than the store can take below 85 °C: burn less." if brings > room else said


def _store(day, time, values=None):
    site, k = larkrigg(), day.at(time)
    step = min(k, day.flows["burner to store"].size - 1)
    bands, joins = day.bands(time), site.store.connections
    burning, heating, drawing = (day.flows[name][step] > 0 for name in ("burner to store", "heating", "hot-water coil"))
    flow = f"{day.readings['burner flow'][k]:.0f} °C"
    back = f"{day.layers[k, layer_at(joins['burner_return'], day.layers.shape[1])]:.0f} °C"
    coil = site.hot_water.coil
    way = ("in", "out") if drawing else ("resting", "resting")
    outlet = f"{day.readings['hot-water coil'][step]:.0f} °C, before blending" if drawing else ""
    parts = [
        store.Port("log burner", joins["burner_flow"], *_leg(burning, "in", f"flow {flow}"), "log burner"),
        store.Port("log burner", joins["burner_return"], *_leg(burning, "out", f"return {back}"), "log burner"),
        store.Port("boiler", joins["boiler_flow"], "resting", "", "boiler"),
        store.Port("heating", joins["heating_flow"], *_leg(heating, "out", "flow"), "heating"),
        store.Port("heating", joins["heating_return"], *_leg(heating, "in", "return"), "heating"),
        store.Coil(
            store.Port("cold mains in", coil.bottom, way[0], f"{site.hot_water.cold:.0f} °C", "hot water", "right"),
            store.Port("hot water out", coil.top, way[1], outlet, "hot water", "right"),
        ),
    ]
    warm = int(np.sum(bands >= USEFUL))
    if warm:
        litres = f"{warm * site.store.volume * 1000 / bands.size:.0f} l of it at {USEFUL:.0f} °C or more"
        parts.append(store.Bracket(litres, 1 - warm / bands.size, side="right"))
    case = f", with {_case(values['logs'], values['moisture'])}" if values else ""
    title, words = f"The store at {_clock(time)}{case}", _store_words(bands, day.layers[k], warm)
    notice = BOILING if day.boiled and time == day.time[-1] else ""
    return store.store_picture(bands, parts, title=title, words=words, notice=notice)


def _leg(runs, way, reading):
    return (way, reading) if runs else ("resting", "")


def _store_words(bands, layers, warm):
    room = float(sizing.headroom(larkrigg().store.volume, np.minimum(layers, 100.0), 85.0)) / KWH
    top = f"The top is {bands[-1]:.0f} °C and the bottom {bands[0]:.0f} °C"
    if warm == 0:
        return f"{top}. None of it is warm enough to use, and there is room for {room:.1f} kWh."
    return f"{top}. Up to 85 °C there is still room for {room:.1f} kWh."


def _day(day, values):
    lines = [
        chart.Line(name, tuple(day.layers[:, layer]), kind)
        for name, layer, kind in (("top", 47, "top"), ("middle", 25, "middle"), ("bottom", 3, "bottom"))
    ]
    events = [chart.Event("fire", 0.0, min(values["burn_time"] * HOUR, day.time[-1]), "log burner")]
    events += _heatings(day)
    showers = FIRST_SHOWER + (values["morning_showers"] - 1) * BETWEEN_SHOWERS + 360.0
    if values["morning_showers"] and showers < day.time[-1]:
        events.append(chart.Event("showers", FIRST_SHOWER, showers, "hot water"))
    return chart.day_chart(
        tuple(day.time), tuple(lines), begins_at=LIT, events=tuple(events),
        band=chart.Band(75.0, 85.0, "aim for the top"),
        title="From the evening fire to the morning shower", words=day_words(day, values),
        notice=BOILING if day.boiled else "",
    )  # fmt: skip


def _heatings(day):
    """Return a bar for each stretch in which water goes to the rooms, pauses under half an hour left out."""
    on = day.time[:-1][day.flows["heating"] > 0]
    if not on.size:
        return []
    edges = np.flatnonzero(np.diff(on) > HOUR / 2)
    begins, ends = on[np.r_[0, edges + 1]], on[np.r_[edges, on.size - 1]] + day.time[1]
    return [chart.Event("heating on", begin, end, "heating") for begin, end in zip(begins, ends, strict=True)]


def day_words(day, values):
    """Return what happened in the night, in sentences.

    Parameters
    ----------
    day : tlib.simulation.Result
        As `evening` gives it.
    values : mapping
        With the number of showers, ``morning_showers``.

    Returns
    -------
    str
        Short sentences, the warnings among them only when they are due.
    """
    water = _water_words(day)
    if day.boiled:
        where = "burner" if day.readings["burner flow"][-1] > day.layers[-1, -1] else "store"
        return (
            f"{water} At {_clock(day.time[-1])} the water in the {where} boiled: the sum stops here. "
            "A real system would blow steam from its open vent or its safety valve. Never let it come to this."
        )
    morning = day.layers[day.at(SIX)]
    mass = FILL_DENSITY * larkrigg().store.volume
    left = float(usable_heat(morning, mass, USEFUL))
    night = f"At 06:00 the top is {morning[-1]:.0f} °C, with {left / KWH:.1f} kWh above {USEFUL:.0f} °C."
    return " ".join(filter(None, (water, _near_miss(day), _dump_words(day), night, _shower_words(day, values))))


def _water_words(day):
    given = day.ledger["fire to water"] / KWH
    arrived = np.sum(np.maximum(day.powers["burner to store"], 0.0)) * (day.time[1] - day.time[0]) / KWH
    if given < 0.05:
        return "No fire, no heat."
    kept = "the rest warmed the burner itself and leaked from its case"
    return f"The fire gave the water {given:.1f} kWh. {arrived:.1f} kWh reached the store; {kept}."


def _dump_words(day):
    if not np.any(day.states["high limit"]):
        return ""
    hours = np.mean(day.states["high limit"]) * day.time[-1] / HOUR
    return (
        f"The top passed 90 °C, so a safety thermostat, the high limit, ran the heating for {hours:.1f} hours. "
        "It feels the top, but the heating draws lower down, so it cannot cool what it feels."
    )


def _near_miss(day):
    litres = np.sum(day.flows["tundish"]) * (day.time[1] - day.time[0])
    if litres <= 0.0:
        return ""
    hottest = np.max(day.readings["burner flow"])
    return (
        f"The burner reached {hottest:.0f} °C. Its thermal valve opened and cooled it with {litres:.0f} litres of "
        "mains water, which ran to waste, hot. Treat that as a near miss."
    )


def _shower_words(day, values):
    count = int(values["morning_showers"])
    if count == 0:
        return ""
    tap = day.readings["tap"]
    begins = [FIRST_SHOWER + i * BETWEEN_SHOWERS for i in range(count)]
    coldest = [np.nanmin(tap[day.at(begin) : day.at(begin + 360.0)]) for begin in begins]
    short = [i for i, lowest in enumerate(coldest) if lowest < SHOWER["temperature"] - 0.5]
    if not short:
        return "The shower stays warm." if count == 1 else f"All {count} showers stay warm."
    return f"Shower number {short[0] + 1} runs cool: {coldest[short[0]]:.0f} °C at the tap."


def _clock(time):
    minutes = round((LIT + float(time)) / 60) % (24 * 60)
    return f"{minutes // 60:02d}:{minutes % 60:02d}"


def prediction():
    """Return the question that is locked before the panel opens."""
    return Prediction(
        "wet-wood",
        "Eight kilos of logs at 20 % moisture go on the fire. Tomorrow it will be eight kilos again, from a wetter "
        "pile: 35 %. The burner works just as well. How much heat does the water get now?",
        tuple(GUESSES),
    )


def panel():
    """Return the panel of book 04, which opens when the prediction is locked.

    Returns
    -------
    Panel
        The question, then controls with the heat, the store and the day beside them.
    """
    return Panel(
        SIGHT, PRESETS, pictures, more=MORE, prediction=prediction(), getting_ready=lambda: not engine_is_ready(),
        title="Light the fire", play=Playback(frame, _run),
    )  # fmt: skip
