"""A workbook of the tests' own with each piece of the kit in it: a panel with a player, exercises, a caution."""

PANEL = """\
import numpy as np

from tlib import panels
from tlib.figures import chart, store
from tlib.simulation import Ledger, Result

panels.learner("98")
"""

PLAYER = """\
time = np.arange(0.0, 72_001.0, 60.0)


def run(top):
    layers = np.linspace(20.0, top, 12) - 10.0 * (time / 72_000.0)[:, None]
    return Result(time=time, layers=layers, flows={}, powers={}, ledger=Ledger({}, 0.0, 1.0), begins=64_800.0)


def moment(day, at):
    now = day.layers[day.at(at)]
    return (store.store_picture(now, title="The store", words=f"The top is {now[-1]:.2f} °C now."),)


def day(top):
    now = run(top)
    line = chart.Line("top", tuple(now.layers[:, -1]), "top")
    pictures = (
        store.store_picture(now.layers[0], title="The store", words=f"At first the top is {top:.0f} °C."),
        chart.day_chart(tuple(time), (line,), begins_at=64_800.0, title="The day", words="It cools all day."),
    )
    return pictures


player = panels.Playback(moment, run)
panel = panels.Panel((panels.Control("top", 40, 90, 5, 80, "°C"),), {}, day, title="Watch it cool", play=player)
panel
"""

TEXT = "print('A line of text for the printer. ' * 40)"

EXERCISES = """\
display(panels.answer("logs-to-water-1"))
display(panels.answer("logs-tonight-1"))
"""

CAUTION = """\
display(panels.words("coil", "thermal store"))
display(panels.caution("04"))
"""

CELLS = (PANEL, PLAYER, TEXT, EXERCISES, CAUTION)
