"""Charts: what is laid out, where it stands, what is really painted, and that nothing piles up."""

import base64
import gc
import io
import re
import subprocess
import sys
from html import unescape
from itertools import combinations
from unittest.mock import patch

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tlib.figures import canvas, chart_layout, indexed_png, palette
from tlib.figures.canvas import Box, Diamond, Trace, Words
from tlib.figures.chart import Axis, Band, Event, Guess, Line, curve_chart, day_chart
from tlib.validation import OutOfRange

HOURS = np.linspace(0, 14, 841)
SIZE = (640, 360)
SAID = {"title": "One evening's fire carries to the morning", "words": "The top is still above 78 °C at breakfast."}


def evening(**others):
    rise = 1 / (1 + np.exp(-2 * (HOURS - 3.5)))
    lines = [Line("top", 62 + 18 * rise), Line("middle", 42 + 36 * rise), Line("bottom", 33 + 20 * rise)]
    return day_chart(HOURS * 3600, **{"lines": lines, "begins_at": 17 * 3600} | SAID | others)


def shapes(make, **others):
    """Return what a chart lays out, without painting it."""
    with patch("tlib.figures.chart.png", return_value="") as painted:
        make(**others)
    (_, still, moving), _ = painted.call_args
    return [*still, *moving]


def words(laid):
    return {shape.text: shape for shape in laid if isinstance(shape, Words)}


def pixels(picture):
    from PIL import Image

    data = re.search(r"data:image/png;base64,([^\"]+)", picture.markup)[1]
    return np.asarray(Image.open(io.BytesIO(base64.b64decode(data))).convert("RGB"))


def covered(picture, colour):
    """Return where a chart has exactly one colour."""
    return np.all(pixels(picture) == [int(colour[place : place + 2], 16) for place in (1, 3, 5)], axis=2)


def test_the_chart_is_an_image_with_alt_text_and_a_fixed_size():
    picture = evening()
    attributes = dict(re.findall(r'(\w+)="([^"]*)"', picture.markup))
    assert unescape(attributes["alt"]) == picture.words == SAID["words"]
    assert (attributes["width"], attributes["height"]) == ("640", "360")
    assert pixels(picture).shape == (720, 1280, 3)


def test_the_words_are_escaped_where_they_stand_in_the_page():
    picture = evening(words='"><script>alert(1)</script>')
    assert "<script" not in picture.markup
    assert picture.markup.count('"') == 10  # five attributes, none broken open


def test_each_line_ends_in_its_name_and_value_in_its_own_colour():
    said = words(shapes(evening))
    for name, value in (("top", 80), ("middle", 78), ("bottom", 53)):
        assert said[f"{name} {value} °C"].colour == palette.LEVELS[name].colour


def test_there_is_no_legend_and_nothing_small():
    laid = shapes(
        evening, events=[Event("fire lit", 3600, 7200)], band=Band(75, 85), guess=Guess("top", 9000, 60), now=9000
    )
    assert min(shape.size for shape in laid if isinstance(shape, Words)) >= 12
    assert sum("top" in text for text in words(laid)) == 1


def test_clock_times_are_words_where_words_are_plainer():
    assert {"18:00", "midnight", "06:00"} <= set(words(shapes(evening)))
    day = shapes(day_chart, time_s=[0, 86400], lines=[Line("top", (60, 70))], begins_at=0, **SAID)
    assert "noon" in words(day)


def test_the_top_number_carries_the_unit():
    said = words(shapes(evening))
    assert "80 °C" in said
    assert {"20", "40", "60"} <= set(said)


def test_a_line_is_painted_at_its_true_height():
    flat = day_chart([0, 36000], [Line("top", (60, 60), "spare PV")], begins_at=0, axis=Axis(20, 100), **SAID)
    rows = np.flatnonzero(covered(flat, palette.FLOWS["spare PV"].colour)[:, 200:400].any(axis=1))
    plot = chart_layout.Plot(0, 36000, 20, 100)
    assert rows.mean() / canvas.SCALE == pytest.approx((plot.top + plot.floor) / 2, abs=0.75)


def test_a_line_is_painted_from_edge_to_edge_of_its_time():
    flat = day_chart([0, 36000], [Line("top", (60, 60), "spare PV")], begins_at=0, axis=Axis(20, 100), **SAID)
    laid = shapes(day_chart, time_s=[0, 36000], lines=[Line("top", (60, 60))], begins_at=0, **SAID)
    edge = next(s for s in laid if isinstance(s, Trace) and s.colour == palette.RULE)  # a rule runs all across
    painted = covered(flat, palette.FLOWS["spare PV"].colour)
    columns = np.flatnonzero(painted[:, : int(canvas.SCALE * edge.x[1])].any(axis=0)) / canvas.SCALE
    assert columns[0] == pytest.approx(edge.x[0], abs=1)
    assert columns[-1] == pytest.approx(edge.x[1], abs=5)  # the last stroke of a broken line may fall short
    assert words(laid)["04:00"].x == pytest.approx(edge.x[0] + 0.4 * (edge.x[1] - edge.x[0]))


def test_paper_ink_and_line_colours_come_out_exact():
    picture = evening(band=Band(75, 85))
    assert covered(picture, palette.PAPER)[0, 0]
    for colour in (palette.INK, palette.STRIP, palette.LEVELS["top"].colour, palette.LEVELS["middle"].colour):
        assert covered(picture, colour).sum() > 100, colour


def test_the_band_and_its_word_stand_at_its_values():
    laid = shapes(evening, band=Band(40, 50, "legionella range"))
    strip = next(shape for shape in laid if isinstance(shape, Box) and shape.width > 400)
    plot = chart_layout.Plot(0, 1, 20, 90)
    assert (strip.y, strip.y + strip.height) == pytest.approx((plot.y(50), plot.y(40)))
    word = words(laid)["legionella range"]
    assert strip.y < word.y < strip.y + strip.height


def test_an_event_is_a_bar_on_the_axis_from_begin_to_end():
    laid = shapes(evening, events=[Event("fire lit", 1.5 * 3600, 4.5 * 3600)])
    plot = chart_layout.Plot(17, 31, 0, 1)
    bar = next(s for s in laid if isinstance(s, Box) and s.colour == palette.FLOWS["log burner"].colour)
    assert (bar.x, bar.x + bar.width) == pytest.approx((plot.x(18.5), plot.x(21.5)))
    assert bar.y + bar.height == plot.floor
    assert words(laid)["fire lit"].colour == palette.FLOWS["log burner"].colour


def test_events_of_one_word_share_a_row_and_say_it_once():
    showers = [Event("showers", hour * 3600, hour * 3600 + 600, "hot water") for hour in (1, 2, 3, 12)]
    laid = shapes(evening, events=showers)
    bars = [s for s in laid if isinstance(s, Box) and s.colour == palette.FLOWS["hot water"].colour]
    assert len(bars) == 4
    assert len({bar.y for bar in bars}) == 1
    assert sum(isinstance(s, Words) and s.text == "showers" for s in laid) == 1


def test_a_guess_is_an_open_diamond_and_the_gap_is_printed():
    laid = shapes(evening, guess=Guess("bottom", 14 * 3600, 70))
    open_, filled = sorted((s for s in laid if isinstance(s, Diamond)), key=lambda s: s.fill != palette.PAPER)
    assert (open_.fill, filled.fill) == (palette.PAPER, palette.LEVELS["bottom"].colour)
    plot = chart_layout.Plot(0, 14 * 3600, 20, 90)
    assert (open_.y, filled.y) == pytest.approx((plot.y(70), plot.y(53)), abs=0.1)
    assert {"your guess 70 °C", "17 degrees above the result"} <= set(words(laid))


@pytest.mark.parametrize(
    ("value", "says"),
    [(80, "the result is the same"), (79, "1 degree below the result"), (90, "10 degrees above the result")],
)
def test_the_gap_is_that_of_the_printed_numbers(value, says):
    assert says in words(shapes(evening, guess=Guess("top", 14 * 3600, value)))


def test_now_is_a_thin_rule_with_its_time():
    laid = shapes(evening, now=4 * 3600)
    rule = next(s for s in laid if isinstance(s, Trace) and s.x[0] == s.x[1] and s.y[1] - s.y[0] > 200)
    assert rule.x[0] == pytest.approx(chart_layout.Plot(0, 14, 0, 1).x(4))
    assert "now, 21:00" in words(laid)


def test_a_line_that_is_not_defined_at_its_end_says_so():
    values = np.where(HOURS < 3, 44.0, np.nan)
    assert "not defined" in " ".join(words(shapes(evening, lines=[Line("tap", values, "hot water")])))
    assert evening(lines=[Line("tap", values, "hot water")]).rows[-1][1] == "not defined"
    assert "tap not defined" in " ".join(words(shapes(evening, lines=[Line("tap", values * np.nan, "hot water")])))


def test_boiling_is_said_on_the_chart_and_in_its_words():
    notice = "boiling: the sum no longer describes what happens"
    assert notice in words(shapes(evening, notice=notice))
    assert evening(notice=notice).words.startswith("Boiling: the sum no longer describes what happens. ")


def test_rows_agree_with_what_is_printed():
    picture, said = evening(events=[Event("fire lit", 5400, 16200)]), words(shapes(evening))
    head, *body = picture.rows
    assert head == ("time", "top", "middle", "bottom", "what happens")
    assert [row[0] for row in body] == [f"{hour % 24:02d}:00" for hour in range(17, 32)]
    assert all(f"{name} {value}" in said for name, value in zip(head[1:4], body[-1][1:4], strict=True))
    assert [row[0] for row in body if row[4] == "fire lit"] == ["18:00", "19:00", "20:00", "21:00"]


def test_a_curve_has_plain_numbers_along_it():
    laid = shapes(
        curve_chart, x=[25, 150], lines=[Line("loss", (72, 12), "heating")], along=("insulation", "mm"),
        axis=Axis(0, 80, "W"), **SAID,
    )  # fmt: skip
    assert {"insulation, mm", "40", "140", "80 W", "loss 12 W"} <= set(words(laid))


def overlaps(one, other):
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


LINES = st.lists(st.lists(st.floats(0, 100), min_size=5, max_size=5), min_size=1, max_size=7)
EVENTS = st.lists(
    st.builds(
        lambda word, begin, long: Event(word, begin, min(begin + long, 72000)),
        st.sampled_from(["fire lit", "showers", "sun pump", "heating"]), st.floats(0, 72000), st.floats(0, 20000),
    ),
    max_size=6,
)  # fmt: skip


@given(LINES, EVENTS, st.floats(0, 72000), st.floats(0, 100), st.floats(0, 86400))
@settings(max_examples=40, deadline=None)
def test_words_never_meet_and_stay_on_the_page(values, events, at, guess, begins):
    laid = shapes(
        day_chart, time_s=[0, 1e4, 3e4, 6e4, 72000], lines=[Line(f"line {n}", v) for n, v in enumerate(values)],
        begins_at=begins, events=events, band=Band(75, 85), guess=Guess("line 0", at, guess), now=at,
        notice="boiling", **SAID,
    )  # fmt: skip
    boxes = chart_layout.boxes(laid)
    for one, other in combinations(boxes, 2):
        assert not overlaps(one, other)
    assert min(box[0] for box in boxes) >= 0
    assert max(box[2] for box in boxes) <= SIZE[0]
    assert max(box[3] for box in boxes) <= SIZE[1]


def test_free_room_is_found_clear_of_lines():
    trace = Trace((0.0, 100.0), (0.0, 100.0), palette.INK)
    places = [(40, 40, 60, 60), (60, 0, 90, 20)]
    assert chart_layout.free_place(places, [trace], []) == 1
    assert chart_layout.free_place(places, [], [(55, 0, 70, 30)]) == 0


@given(st.floats(-500, 500), st.floats(0.01, 5000))
@settings(max_examples=100, deadline=None)
def test_ticks_are_round_and_within(low, reach):
    ticks = chart_layout.plain_ticks(low, low + reach)
    assert 2 <= len(ticks) <= 6
    assert low - 1e-6 <= ticks[0]
    assert ticks[-1] <= low + reach + 1e-6
    step = ticks[1] - ticks[0]
    assert np.diff(ticks) == pytest.approx([step] * (len(ticks) - 1), rel=1e-6)
    assert f"{step:.0e}"[0] in "125"


def test_a_week_is_counted_in_days():
    assert [said for _, said in chart_layout.clock_ticks(0, 6 * 86400)][:2] == ["day 1", "day 2"]


def test_the_surface_keeps_nothing_from_chart_to_chart():
    from matplotlib.artist import Artist

    def artists():
        gc.collect()
        return sum(issubclass(type(thing), Artist) for thing in gc.get_objects())  # a dead proxy has no class

    evening()
    before = artists()
    for shift in range(12):
        evening(title=f"Chart {shift}", events=[Event("fire lit", shift, 3600)])
    assert artists() == before
    surface = canvas._surface(SIZE)
    assert len(surface.grounds) <= 6
    assert not surface.figure.texts
    assert not surface.figure.lines


def test_a_restored_ground_gives_the_same_picture_as_a_fresh_one():
    first = evening(band=Band(75, 85))
    for n in range(8):
        evening(title=f"Another {n}")
    assert evening(band=Band(75, 85)) == first


def test_importing_the_pictures_loads_no_drawing_library():
    code = (
        "import sys; from tlib.figures import bars, chart, store, tabletwin;"
        "store.store_picture([50], title='', words=''); print('matplotlib' in sys.modules);"
        "chart.day_chart([0, 3600], [chart.Line('top', (1, 2))], begins_at=0, title='', words='');"
        "print('matplotlib.pyplot' in sys.modules)"
    )
    printed = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout
    assert printed.split() == ["False", "False"]


def test_few_colours_come_back_exact():
    colours = np.random.default_rng(1).integers(0, 255, (200, 4), dtype=np.uint8)
    colours[:, 3] = 255
    picture = colours[np.random.default_rng(2).integers(0, 200, (50, 70))]
    places, table = indexed_png.indexed(picture)
    assert np.array_equal(table[places], picture[:, :, :3])


def test_with_many_colours_the_large_areas_stay_exact_and_edges_stay_near():
    rng = np.random.default_rng(3)
    picture = np.full((200, 200, 4), 255, dtype=np.uint8)
    picture[50:150, 50:150, :3] = (0x5E, 0x14, 0x1D)
    picture[0:20, :, :3] = rng.integers(0, 255, (20, 200, 3))
    places, table = indexed_png.indexed(picture)
    back = table[places]
    assert len(table) <= 256
    assert np.array_equal(back[50:], picture[50:, :, :3])
    assert np.abs(back.astype(int) - picture[:, :, :3]).max() <= 32


@pytest.mark.parametrize(
    ("others", "says"),
    [
        ({"lines": []}, r"number of lines must be 1 or more; got 0"),
        ({"lines": [Line("top", (1, 2))]}, r"line 'top' must have 841 values; got 2"),
        ({"lines": [Line("top", np.full(841, np.inf))]}, r"line 'top' must be a finite number"),
        ({"lines": [Line("top", HOURS, "coal")]}, r"flow must be one of log burner"),
        ({"guess": Guess("attic", 0, 70)}, r"guess must name a line of the chart; got 'attic'"),
        ({"guess": Guess("top", 1e6, 70)}, r"place of the guess must be 50400 or less; got 1000000"),
        ({"guess": Guess("top", 0, float("nan"))}, r"guess must be a finite number"),
        ({"now": -1}, r"now must be 0 s or more; got -1"),
        ({"begins_at": float("nan")}, r"begins_at must be a finite number"),
        ({"events": [Event("fire", 1e6, 2e6)]}, r"event 'fire' must lie within the time that the chart shows"),
        ({"events": [Event(f"event {n}", 0, 5e4) for n in range(5)]}, r"events must fit into 4 rows; these need 5"),
    ],
)
def test_a_chart_that_cannot_be_is_refused(others, says):
    with pytest.raises(OutOfRange, match=says):
        evening(**others)


@pytest.mark.parametrize("time", [[0], [0, 0], [2, 1]])
def test_times_that_do_not_rise_are_refused(time):
    with pytest.raises(OutOfRange, match=r"time_s must rise, from at least two values"):
        day_chart(time, [Line("top", time)], begins_at=0, **SAID)


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda: Event("fire", 2, 1), r"event must begin before it ends; got 2 s and 1 s"),
        (lambda: Band(5, 5), r"band must have its low edge below its high one; got 5 and 5"),
        (lambda: Axis(9, 3), r"axis must have its low end below its high one; got 9 and 3"),
    ],
)
def test_a_part_that_cannot_be_is_refused(make, says):
    with pytest.raises(OutOfRange, match=says):
        make()
