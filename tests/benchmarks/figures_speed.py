"""How long each picture takes: `python tests/benchmarks/figures_speed.py` prints wall and processor time.

The wall time is what a learner waits for; the processor time is what the picture costs, also on a busy machine.
"""

import time

import numpy as np

from tlib.figures.balance import Heat, heat_balance
from tlib.figures.bars import Limit, headroom_bar
from tlib.figures.chart import Axis, Band, Event, Guess, Line, curve_chart, day_chart
from tlib.figures.store import Bracket, Coil, Element, Marker, Port, store_picture
from tlib.figures.tabletwin import table_twin

ROUNDS = 60
SAID = {"title": "Larkrigg Farm at 21:10", "words": "The fire has filled the top two thirds."}
HOURS = np.linspace(0, 24, 1441)
KWH = 3.6e6


def store(n):
    parts = [
        Port("boiler", 0.95, "resting", kind="boiler"), Port("heating", 0.60, "out", "flow 74 °C"),
        Port("log burner", 0.45, "in", "flow 82 °C", "log burner"), Port("heating", 0.10, "in", "return 38 °C"),
        Port("log burner", 0.05, "out", "return 34 °C", "log burner"), Element("element", 0.3, "1.8 kW"),
        Coil(Port("cold mains in", 0.08, "in", "10 °C", "hot water", "right"),
             Port("hot water out", 0.97, "out", "67 °C", "hot water", "right")),
        Bracket("240 l above 40 °C", 0.2, 1.0, "right"), Marker("your guess", 0.42, "80 °C"),
    ]  # fmt: skip
    bands = np.linspace(34, 75, 12) + n % 7
    return store_picture(bands, parts, before=bands - 1, **SAID)


def lines(n):
    wave = np.sin(HOURS / 4 + n / 10)
    return [Line("top", 70 + 10 * wave), Line("middle", 60 + 14 * wave), Line("bottom", 40 + 15 * wave)]


def day(n, title=SAID["title"]):
    return day_chart(
        HOURS * 3600, lines(n), begins_at=61200, events=[Event("fire lit", 5400, 16200)], band=Band(75, 85),
        guess=Guess("bottom", 43200, 60), now=43200, title=title, words=SAID["words"],
    )  # fmt: skip


def curve(n):
    x = np.linspace(25, 150, 80)
    return curve_chart(
        x, [Line("loss", (1800 + n) / x, "heating")], along=("insulation", "mm"), axis=Axis(0, 80, "W"), **SAID
    )


def balance(n):
    into = [Heat("log burner", (15 + n / 10) * KWH, "log burner"), Heat("sun", 2 * KWH, "sun")]
    out = [Heat("hot water", 4 * KWH, "hot water"), Heat("heating", 6 * KWH, "heating"), Heat("standing loss", KWH)]
    return heat_balance(into, out, (6 + n / 10) * KWH, **SAID)


PICTURES = {
    "store picture": store,
    "day chart, slider moved": day,
    "day chart, all redrawn": lambda n: day(n, f"Day {n}"),
    "curve chart": curve,
    "heat balance": balance,
    "headroom bar": lambda n: headroom_bar(
        [Limit("to 90 °C", 4 * KWH), Limit("to 95 °C", 6 * KWH)], n * KWH / 5, **SAID
    ),
    "table twin of a store": lambda n: table_twin(store(n).rows, "The store"),
}


def main():
    print(f"{'picture':28} {'wall p50':>9} {'p95':>7} {'processor p50':>14}   (ms)   {'markup':>8}")
    for name, draw in PICTURES.items():
        draw(0)
        wall, processor = [], []
        for n in range(1, ROUNDS + 1):
            a, b = time.perf_counter(), time.process_time()
            picture = draw(n)
            wall.append(1e3 * (time.perf_counter() - a))
            processor.append(1e3 * (time.process_time() - b))
        size = len(getattr(picture, "markup", picture)) / 1024
        p50, p95, cpu = np.percentile(wall, 50), np.percentile(wall, 95), np.percentile(processor, 50)
        print(f"{name:28} {p50:9.1f} {p95:7.1f} {cpu:14.1f}          {size:5.0f} kB")


if __name__ == "__main__":
    main()
