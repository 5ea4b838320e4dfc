"""Words in pictures: widths held to real faces, breaking, pushing apart, tables, captions."""

import re
from functools import cache
from html.parser import HTMLParser
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tlib import units
from tlib.figures import lettering
from tlib.figures.picture import LateRows, Picture, captioned, sentence
from tlib.figures.tabletwin import table_twin
from tlib.validation import OutOfRange

SENTENCES = (
    "67 °C, before blending", "log burner", "Larkrigg Farm at 21:10", "1.8 kW from spare PV", "working band",
    "boiling: the sum no longer describes what happens", "−15.9 kWh", "WWWWMMMM%%%@@", "Fennimore's café – ½ full",
)  # fmt: skip


def faces():
    """Return the files of the wide faces that every installation of the drawing library carries."""
    import matplotlib

    folder = Path(matplotlib.get_data_path()) / "fonts" / "ttf"
    return folder / "DejaVuSans.ttf", folder / "DejaVuSans-Bold.ttf"


@cache
def advances(path):
    """Return how wide a face sets each letter [em], by its own tables."""
    from fontTools.ttLib import TTFont

    font = TTFont(path)
    wide, em = font["hmtx"], font["head"].unitsPerEm
    return {chr(code): wide[glyph][0] / em for code, glyph in font.getBestCmap().items()}


def measured(text, path, size):
    return size * sum(advances(path)[letter] for letter in text)


@pytest.mark.parametrize("text", SENTENCES)
def test_no_face_sets_words_wider_than_we_reckon(text):
    plain, bold = faces()
    assert 0.75 * lettering.width(text, 15) < measured(text, plain, 15) <= lettering.width(text, 15) + 1e-6
    assert measured(text, bold, 17) <= lettering.width(text, 17, bold=True) + 1e-6


def test_every_letter_we_know_is_reckoned_wide_enough():
    plain, bold = faces()
    letters = [chr(code) for code in (*range(32, 127), *map(ord, "°−×½–—…’“”éèüöä²³"))]
    assert all(measured(letter, plain, 100) <= lettering.width(letter, 100) + 1e-6 for letter in letters)
    plain_words = [letter for letter in letters if letter.isalnum()]
    assert all(measured(w, bold, 100) <= lettering.width(w, 100, bold=True) + 1e-6 for w in plain_words)


@given(st.text(max_size=80), st.floats(40, 300), st.integers(1, 4))
@settings(max_examples=100, deadline=None)
def test_lines_fit_and_nothing_is_lost_while_there_is_room(text, room, most):
    lines = lettering.wrap(text, room, 15)
    assert all(lettering.width(line, 15) <= room or len(line) == 1 for line in lines)
    assert re.sub(r"[ \xa0]", "", "".join(lines)) == re.sub(r"[ \xa0]", "", lettering.clean(text))
    assert len(lettering.wrap(text, room, 15, most)) <= most


def test_a_number_is_not_parted_from_its_unit():
    assert lettering.wrap("log burner flow 82 °C", 112, 14) == ("log burner", "flow 82 °C")
    assert all("8 kWh" in line or "8" not in line for line in lettering.wrap("still 8 kWh to come", 60, 14))


def test_a_text_that_is_too_long_is_cut_with_a_sign():
    cut = lettering.fitted("Larkrigg Farm at 21:10 on a wet evening", 150, 15)
    assert cut.endswith("…")
    assert lettering.width(cut, 15) <= 150
    assert lettering.fitted("short", 150, 15) == "short"


def test_control_characters_never_reach_a_page():
    assert lettering.clean("a\x00b\tc\n d\u200b") == "ab c d"


BOXES = st.lists(st.tuples(st.floats(0, 400), st.floats(1, 30)), min_size=1, max_size=10)


@given(BOXES)
@settings(max_examples=200, deadline=None)
def test_boxes_are_pushed_apart_within_the_line_and_keep_their_order(boxes):
    wanted, sizes = sorted(place for place, _ in boxes), [size for _, size in boxes]
    placed = lettering.spread(wanted, sizes, 0, 400, gap=2)
    for (a, b), (x, y) in zip(pairwise(placed), pairwise(sizes), strict=True):
        assert b - a >= (x + y) / 2 + 2 - 1e-6
    assert placed[0] >= sizes[0] / 2 - 1e-6
    assert placed[-1] <= 400 - sizes[-1] / 2 + 1e-6


@given(st.lists(st.floats(0, 100), min_size=2, max_size=6))
@settings(max_examples=40, deadline=None)
def test_the_shifts_are_the_least_there_can_be(wanted):
    """Hold the placement to a general minimiser with the same constraints."""
    import numpy as np
    from scipy.optimize import minimize

    wanted = sorted(wanted)
    placed = lettering.spread(wanted, [10.0] * len(wanted), 0, 100)
    rules = [{"type": "ineq", "fun": lambda y, n=n: y[n + 1] - y[n] - 10} for n in range(len(wanted) - 1)]
    start = np.linspace(5, 95, len(wanted))
    best = minimize(lambda y: np.sum((y - wanted) ** 2), start, bounds=[(5, 95)] * len(wanted), constraints=rules)
    assert np.sum((np.array(placed) - wanted) ** 2) <= best.fun + 1e-3


def test_boxes_that_belong_apart_stay_where_they_belong():
    assert lettering.spread([10, 50, 90], [10, 10, 10], 0, 100) == [10, 50, 90]
    assert lettering.spread([], [], 0, 100) == []


def test_too_many_boxes_are_refused():
    with pytest.raises(OutOfRange, match=r"labels on one side must fit into 30 px; 2 of them do not"):
        lettering.spread([5, 6], [20, 20], 0, 30)


def test_kilowatt_hours_agree_with_the_unit_library():
    assert units.read("1 kWh", "J") == lettering.JOULES_A_KWH
    assert lettering.kwh(units.read("15.9 kWh", "J")) == units.write(15.9 * 3.6e6, "J", "kWh")


@pytest.mark.parametrize(("heat", "says"), [(-1.0, "0.0 kWh"), (-7.2e6, "−2.0 kWh"), (3.6e9, "1,000.0 kWh")])
def test_heat_is_written_with_one_decimal_and_a_true_minus(heat, says):
    assert lettering.kwh(heat) == says


@pytest.mark.parametrize(("seconds", "says"), [(0, "00:00"), (75_600, "21:00"), (86_399, "00:00"), (111_600, "07:00")])
def test_clock_times(seconds, says):
    assert lettering.clock(seconds) == says


class Cells(HTMLParser):
    def __init__(self):
        super().__init__()
        self.found, self.caption, self.open = [], "", ""

    def handle_starttag(self, tag, attrs):
        self.open = tag
        if tag in ("th", "td"):
            self.found.append([tag, dict(attrs).get("scope"), ""])

    def handle_endtag(self, tag):
        self.open = ""

    def handle_data(self, data):
        if self.open == "caption":
            self.caption += data
        elif self.found:
            self.found[-1][2] += data


def test_a_table_has_a_caption_and_scoped_heads():
    cells = Cells()
    cells.feed(table_twin([("band", "reading"), ("top", "81 °C"), ("bottom", "34 °C")], "The store at 21:10"))
    assert cells.caption == "The store at 21:10"
    assert cells.found == [
        ["th", "col", "band"], ["th", "col", "reading"],
        ["th", "row", "top"], ["td", None, "81 °C"], ["th", "row", "bottom"], ["td", None, "34 °C"],
    ]  # fmt: skip


def test_a_table_escapes_what_a_learner_typed():
    written = table_twin([("<b>", "x"), ("<script>", '"&')], "<i>")
    assert not re.search(r"<(b|i|script)>", written)
    cells = Cells()
    cells.feed(written)
    assert [cell[2] for cell in cells.found] == ["<b>", "x", "<script>", '"&']


@pytest.mark.parametrize(
    ("rows", "says"),
    [
        ([], r"rows must hold a head row; got none"),
        ([("a", "b"), ("c",)], r"each row must have 2 cells like the head row; got 1 in \('c',\)"),
    ],
)
def test_a_table_that_cannot_be_is_refused(rows, says):
    with pytest.raises(OutOfRange, match=says):
        table_twin(rows, "x")


def test_late_rows_are_built_once_and_compare_as_rows():
    built = []
    rows = LateRows(lambda: built.append(1) or [["a", "b"], ("c", "d")])
    assert not built
    assert rows[1] == ("c", "d")
    assert list(rows) == [("a", "b"), ("c", "d")]
    assert rows == (("a", "b"), ("c", "d"))
    assert hash(rows) == hash(LateRows(lambda: [("a", "b"), ("c", "d")]))
    assert rows != "ab"
    assert built == [1]


def test_a_picture_is_frozen():
    with pytest.raises(AttributeError, match="cannot assign to field"):
        Picture("", "", ()).words = "other"


def test_a_caption_says_the_words_once_and_escaped():
    page = captioned(Picture("<svg/>", 'A "hot" & full store.', ()))
    assert page.count("A &quot;hot&quot; &amp; full store.") == 1
    assert page.startswith("<figure")


def test_a_notice_comes_first():
    assert sentence("It is hot.", "boiling: stop.") == "Boiling: stop. It is hot."
    assert sentence(" It is \n hot. ") == "It is hot."
