"""The store picture, read from its markup: values printed, heights true, labels apart, words and rows agreeing."""

import re
from itertools import combinations
from xml.etree import ElementTree

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tlib.figures import lettering, palette
from tlib.figures.store import Bracket, Coil, Element, Marker, Port, banded, hot_water_coil, store_picture
from tlib.figures.tank import TANK
from tlib.validation import OutOfRange

SVG = "{http://www.w3.org/2000/svg}"
EVENING = (34, 36, 41, 55, 68, 74, 77, 78, 79, 80, 81, 81)
HOT_WATER = hot_water_coil(0.08, 0.97, cold="10 °C", outlet="67 °C, before blending")
LARKRIGG = (
    Port("boiler", 0.95, "resting", kind="boiler"),
    Port("heating", 0.60, "out", "flow 74 °C"),
    Port("log burner", 0.45, "in", "flow 82 °C", "log burner"),
    Port("heating", 0.10, "in", "return 38 °C"),
    Port("log burner", 0.05, "out", "return 34 °C", "log burner"),
    HOT_WATER,
)


def draw(bands=EVENING, parts=(), **others):
    return store_picture(bands, parts, **{"title": "Larkrigg Farm at 21:10", "words": "The top is hot."} | others)


def tree(picture):
    return ElementTree.fromstring(picture.markup)


def texts(picture):
    return [element for element in tree(picture).iter(f"{SVG}text")]


def printed(picture):
    return [element.text for element in texts(picture)]


def box(element):
    """Return (left, top, right, bottom) of a line of words at its widest."""
    x, y, size = (float(element.get(key)) for key in ("x", "y", "font-size"))
    wide = lettering.width(element.text, size, bold=element.get("font-weight") == "600")
    left = x - {"end": 1.0, "middle": 0.5}.get(element.get("text-anchor"), 0.0) * wide
    return left, y - 0.75 * size, left + wide, y + 0.25 * size


def paths(picture, colour):
    return [path for path in tree(picture).iter(f"{SVG}path") if colour in (path.get("stroke"), path.get("fill"))]


def test_every_band_prints_its_temperature_from_the_bottom_up():
    bands = [float(t) for t in EVENING]
    numbers = [element for element in texts(draw(bands)) if re.fullmatch(r"\d+ °C", element.text)]
    upward = sorted(numbers, key=lambda element: -float(element.get("y")))
    assert [element.text for element in upward] == [f"{t:.0f} °C" for t in EVENING]
    assert len({element.get("x") for element in numbers}) == 1  # right-aligned, so digits stand under digits
    assert "tabular-nums" in tree(draw()).get("style")


def test_bands_are_equal_and_have_the_colour_of_their_heat():
    picture = draw(tuple(range(20, 80, 5)))
    for band, temperature in enumerate(range(20, 80, 5)):
        (path,) = paths(picture, palette.heat_colour(temperature))[:1]
        top = float(re.match(r"M\S+ (\S+?)[ah]", path.get("d"))[1])
        top -= 20 if band == 11 else 0  # the uppermost begins below its dome
        assert top == pytest.approx(TANK.y((band + 1) / 12), abs=0.02)


def test_the_picture_has_a_role_a_title_and_its_sentence():
    picture = draw(words="The fire has filled the top.")
    root = tree(picture)
    assert (root.get("role"), root.get("aria-label")) == ("img", picture.words)
    assert picture.words == "The fire has filled the top."
    assert root.find(f"{SVG}title").text == "Larkrigg Farm at 21:10"


def test_the_size_is_fixed_whatever_is_in_it():
    sizes = {(tree(p).get("width"), tree(p).get("height"), tree(p).get("viewBox"))
             for p in (draw(), draw((50,)), draw(parts=LARKRIGG), draw(notice="boiling"))}  # fmt: skip
    assert len(sizes) == 1


def test_no_words_are_smaller_than_twelve_pixels():
    assert min(float(e.get("font-size")) for e in texts(draw(parts=LARKRIGG, notice="boiling"))) >= 12


def test_two_pictures_can_share_a_page():
    assert " id=" not in draw(parts=(*LARKRIGG, Bracket("240 l", 0.2), Marker("guess", 0.4))).markup


@pytest.mark.parametrize("height", [0.0, 0.05, 0.45, 1.0])
@pytest.mark.parametrize("side", ["left", "right"])
def test_an_arrow_touches_the_wall_at_its_true_height(height, side):
    wall = TANK.left if side == "left" else TANK.right
    into = paths(draw(parts=[Port("sun", height, "in", kind="sun", side=side)]), palette.FLOWS["sun"].colour)
    tip = next(re.match(r"M(\S+) (\S+)l", p.get("d")) for p in into if p.get("fill") == palette.FLOWS["sun"].colour)
    assert abs(float(tip[1]) - wall) <= 1
    assert float(tip[2]) == pytest.approx(TANK.bottom - height * TANK.height, abs=0.06)


def test_an_arrow_out_points_away_and_a_resting_port_has_no_head():
    colour = palette.FLOWS["boiler"].colour
    out = paths(draw(parts=[Port("boiler", 0.5, "out", kind="boiler")]), colour)
    tip = next(re.match(r"M(\S+) ", p.get("d")) for p in out if p.get("fill") == colour)
    assert float(tip[1]) < TANK.left - 40
    resting = draw(parts=[Port("boiler", 0.5, "resting", kind="boiler")])
    assert not paths(resting, colour)
    assert "resting" in printed(resting)


def test_a_flow_shows_by_line_style_and_word_as_well_as_colour():
    picture = draw(parts=[Port("heating", 0.5, "out", "flow 74 °C")])
    shaft = next(p for p in paths(picture, palette.FLOWS["heating"].colour) if p.get("stroke"))
    assert shaft.get("stroke-dasharray")
    assert {"heating", "flow 74 °C"} <= set(printed(picture))


@given(st.floats(0, 0.9), st.floats(0.03, 1))
@settings(max_examples=40, deadline=None)
def test_the_coil_begins_and_ends_at_its_heights(lower, rise):
    upper = min(lower + rise, 1.0)
    ends = [Port("cold", lower, "in", "", "hot water", "right"), Port("hot", upper, "out", "", "hot water", "right")]
    drawn = paths(draw(parts=[Coil(*ends)]), palette.FLOWS["hot water"].colour)
    tails = next(p.get("d") for p in drawn if "C" in p.get("d") and "H" in p.get("d"))
    starts = [float(y) for y in re.findall(r"M\S+ (-?[\d.]+)H", tails)]
    assert starts == pytest.approx([TANK.y(lower), TANK.y(upper)], abs=0.01)
    turns = [float(y) for y in re.findall(r"[\d.]+ (-?[\d.]+)", tails.split("H")[-1])]
    assert min(turns) >= TANK.y(upper) - 5
    assert max(turns) <= TANK.y(lower) + 5


def overlaps(one, other):
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def assert_apart(picture):
    boxes = [box(element) for element in texts(picture)]
    for one, other in combinations(boxes, 2):
        assert not overlaps(one, other)
    for left, top, right, bottom in boxes:
        assert left >= 0
        assert top >= 0
        assert right <= 640
        assert bottom <= 484


NAMES = st.text(st.characters(codec="utf-8", exclude_categories=["C"]), max_size=40)
PORTS = st.builds(
    Port, NAMES, st.floats(0, 1), st.sampled_from(["in", "out", "resting"]), NAMES,
    st.sampled_from(list(palette.FLOWS)), st.sampled_from(["left", "right"]),
)  # fmt: skip


@given(st.lists(PORTS, max_size=5), st.lists(st.floats(0, 140), min_size=1, max_size=15))
@settings(max_examples=60, deadline=None)
def test_labels_never_meet_however_close_the_ports(ports, bands):
    assert_apart(draw(bands, ports, title="x" * 200, notice="boiling " * 20))


def test_ten_short_labels_fit_at_one_height():
    assert_apart(draw(parts=[Port(f"port {n}", 0.5, "in", "60 °C") for n in range(9)]))


def test_a_label_that_had_to_move_keeps_a_thin_leader():
    close = [Port("flow", 0.50, "in", "80 °C"), Port("return", 0.49, "out", "40 °C")]
    quiet = [p for p in paths(draw(parts=close), palette.QUIET) if float(p.get("stroke-width")) < 1]
    assert len(quiet) == 2
    assert not [p for p in paths(draw(parts=close[:1]), palette.QUIET) if float(p.get("stroke-width")) < 1]


def test_too_many_labels_are_refused():
    with pytest.raises(OutOfRange, match=r"labels on one side must fit into"):
        draw(parts=[Port(f"port {n}", 0.5, "in", "60 °C") for n in range(20)])


def test_whatever_a_learner_types_stays_words():
    nasty = '<script>alert("x")</script> & \'\x00\n"'
    parts = [
        Port(nasty, 0.5, "in", nasty), Marker(nasty, 0.5, nasty), Bracket(nasty, 0.1), Element(nasty, 0.2, nasty),
    ]  # fmt: skip
    picture = draw(parts=parts, title=nasty, words=nasty, notice=nasty)
    assert "<script" not in picture.markup
    assert "\x00" not in picture.markup
    assert tree(picture).get("aria-label") == picture.words


def test_a_guess_is_a_dashed_line_and_an_open_diamond_at_its_height():
    picture = draw(parts=[Marker("your guess", 0.42, "80 °C down to here")])
    assert {"your guess", "80 °C down to here"} <= set(printed(picture))
    dashed = [p for p in paths(picture, palette.INK) if p.get("stroke-dasharray")]
    assert re.findall(r"[ML]\S+ (\S+?)(?=L|$)", dashed[0].get("d")) == [f"{TANK.y(0.42):.1f}"] * 2
    assert any(p.get("fill") == palette.PAPER and p.get("d").count("l") == 3 for p in paths(picture, palette.INK))


def test_a_bracket_spans_its_heights_in_quiet_ink():
    picture = draw(parts=[Bracket("240 l above 40 °C", 0.2, 0.9)])
    (path,) = [p for p in paths(picture, palette.QUIET) if "V" in p.get("d")]
    high, low = (float(y) for y in re.match(r"M\S+ (\S+?)H\S+?V(\S+?)H", path.get("d")).groups())
    assert (high, low) == pytest.approx((TANK.y(0.9), TANK.y(0.2)), abs=0.6)
    label = next(e for e in texts(picture) if e.text.startswith("240 l"))
    assert label.get("fill") == palette.QUIET


def test_numbers_stay_clear_of_what_runs_across_the_store():
    crossed = draw(parts=[Element("element", 0.375, "1.8 kW")])
    plates = [r for r in tree(crossed).iter(f"{SVG}rect") if r.get("height") == "19"]
    assert [r.get("fill") for r in plates] == [palette.heat_colour(t) for t in EVENING]
    for number in (e for e in texts(crossed) if re.fullmatch(r"\d+ °C", e.text)):
        left, top, right, bottom = box(number)
        held = [(float(r.get("x")), float(r.get("y")), float(r.get("width"))) for r in plates]
        assert any(x <= left + 3 and right <= x + wide and y <= top and bottom <= y + 19 for x, y, wide in held)
    assert not [r for r in tree(draw(parts=LARKRIGG)).iter(f"{SVG}rect") if r.get("height") == "19"]


def test_a_coil_with_no_tap_open_rests():
    resting = draw(parts=[hot_water_coil(0.08, 0.97, drawing=False)])
    assert printed(resting).count("resting") == 2


def test_boiling_is_said_on_the_picture_and_in_its_words():
    notice = "boiling: the sum no longer describes what happens"
    picture = draw((92, 94, 96, 97, 98, 99, 100, 100, 100, 100, 100, 100), notice=notice)
    assert notice in printed(picture)
    assert picture.words == "Boiling: the sum no longer describes what happens. The top is hot."


def test_bands_fade_once_from_what_they_were_and_only_if_motion_is_welcome():
    before = (30, *EVENING[1:])
    picture = draw(before=before)
    style = tree(picture).find(f"{SVG}style").text
    assert "@media (prefers-reduced-motion:no-preference){.tlib-fade{animation" in style
    assert "infinite" not in style
    fading = [p for p in tree(picture).iter(f"{SVG}path") if p.get("class") == "tlib-fade"]
    assert [p.get("style") for p in fading] == [f"--was:{palette.heat_colour(30)}"]
    assert fading[0].get("fill") == palette.heat_colour(EVENING[0])  # without animation the end state shows
    assert tree(draw()).find(f"{SVG}style") is None
    assert draw(before=EVENING).markup == draw().markup


def test_rows_say_what_the_picture_prints():
    parts = (
        *LARKRIGG,
        Marker("your guess", 0.42, "80 °C"),
        Bracket("240 l above 40 °C", 0.2),
        Element("element", 0.3, "off", False),
    )
    picture = draw(parts=parts)
    head, *body = picture.rows
    assert all(len(row) == len(head) for row in body)
    assert [row[2] for row in body[:12]] == [f"{t} °C" for t in reversed(EVENING)]
    shown = " ".join(printed(picture))
    for name, _, reading in body[12:]:
        for word in f"{name} {reading}".replace("in, ", "").replace("out, ", "").replace(",", " ").split():
            assert word in shown
    assert ("log burner", "45 %", "in, flow 82 °C") in body


def test_rows_are_written_only_when_read():
    class Counting(Port):
        read = 0

        def rows(self):
            Counting.read += 1
            return super().rows()

    picture = draw(parts=[Counting("boiler", 0.5, "in")])
    assert Counting.read == 0
    assert len(picture.rows) == len(list(picture.rows)) == 14
    assert Counting.read == 1


def test_the_same_store_gives_the_same_picture():
    assert draw(parts=LARKRIGG) == draw(parts=LARKRIGG)


@given(st.lists(st.floats(5, 99), min_size=1, max_size=60), st.integers(1, 15))
@settings(max_examples=60, deadline=None)
def test_bands_keep_the_heat_of_the_layers(layers, count):
    bands = banded(layers, count)
    assert len(bands) == count
    assert bands.mean() == pytest.approx(np.mean(layers), rel=1e-12)
    assert min(layers) - 1e-9 <= bands.min()
    assert bands.max() <= max(layers) + 1e-9


def test_bands_of_as_many_layers_are_the_layers():
    assert banded(EVENING) == pytest.approx(EVENING, rel=1e-12)


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda: draw(()), r"number of bands must be 1 or more; got 0"),
        (lambda: draw([50] * 16), r"number of bands must be 15 or less; got 16"),
        (lambda: draw([150]), r"temperature must be 140 °C or less; got 150"),
        (lambda: draw(before=(50,)), r"before must have 12 bands, as the store has now; got 1"),
        (lambda: draw(parts=[HOT_WATER] * 3), r"parts must hold 2 coils or fewer; got 3"),
        (lambda: Port("boiler", 1.2, "in"), r"height must be 1 or less; got 1.2"),
        (lambda: Port("boiler", 0.5, "up"), r"flow must be one of in, out, resting; got 'up'"),
        (lambda: Port("boiler", 0.5, "in", side="top"), r"side must be one of left, right; got 'top'"),
        (lambda: Port("boiler", 0.5, "in", kind="coal"), r"flow must be one of log burner"),
        (lambda: Coil(HOT_WATER.upper, HOT_WATER.lower), r"coil must have its lower end below its upper"),
        (lambda: Coil(Port("a", 0.1, "in"), Port("b", 0.9, "out")), r"coil must have both ends on the right"),
        (lambda: Bracket("x", 0.5, 0.5), r"bracket must have its bottom below its top; got 0.5 and 0.5"),
        (lambda: Marker("x", -0.1), r"height must be 0 or more; got -0.1"),
        (lambda: Element("x", float("nan")), r"height must be a finite number; got nan"),
        (lambda: banded([50], 0), r"count must be 1 or more; got 0"),
    ],
)  # fmt: skip
def test_a_picture_that_cannot_be_is_refused(make, says):
    with pytest.raises(OutOfRange, match=says):
        make()
