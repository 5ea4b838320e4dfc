"""What heat is worth: a bar to scale, and as many things as there are, the last one filled in part."""

from itertools import pairwise
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tlib.figures import palette
from tlib.figures.heat_scale import END, WIDE, Mark
from tlib.figures.worth import SYMBOLS, Count, counts, heat_gauge
from tlib.validation import OutOfRange

SVG = "{http://www.w3.org/2000/svg}"
KWH = 3.6e6
SAID = {"title": "A full store", "words": "It is enough for three baths."}
ROWS = (Count("baths", 3.12, "120 l at 42 °C", "bath"), Count("hours", 1.4, "at 10 kW", "hour", "log burner"))


def gauge(heat=14 * KWH, rows=ROWS, marks=()):
    return heat_gauge(heat, 38 * KWH, rows, marks, temperature=80.0, **SAID)


def things(picture, symbol):
    """Return where each thing stands, how much it is made smaller, and how much of it is filled."""
    found = []
    for group in ElementTree.fromstring(picture.markup).iter(f"{SVG}g"):
        if group.find(f"{SVG}path").get("d") == SYMBOLS[symbol]:
            place, scale = group.get("transform").split(") ")
            hides = group.find(f"{SVG}rect")
            wide = {"bath": 26, "drop": 16, "hour": 22}[symbol]
            filled = 1.0 if hides is None else float(hides.get("x")) / wide
            found.append((float(place[10:].split()[0]), float(scale[6:-1]), filled))
    return found


def test_as_many_are_drawn_as_there_are_and_the_last_is_filled_by_its_share():
    baths = things(gauge(), "bath")
    assert [filled for _, _, filled in baths] == pytest.approx([1, 1, 1, 0.12], abs=0.01)
    hours = things(gauge(), "hour")
    assert [filled for _, _, filled in hours] == pytest.approx([1, 0.4], abs=0.01)


@given(st.floats(0, 60), st.sampled_from(sorted(SYMBOLS)))
@settings(max_examples=60, deadline=None)
def test_any_number_fits_on_the_page_and_none_overlap(number, symbol):
    drawn = things(counts([Count("things", number, "each", symbol)], **SAID), symbol)
    assert sum(filled for _, _, filled in drawn) == pytest.approx(number, abs=0.02)
    wide = {"bath": 26, "drop": 16, "hour": 22}[symbol]
    assert all(x + wide * scale < following for (x, scale, _), (following, _, _) in pairwise(drawn))
    assert not drawn or drawn[-1][0] + wide * drawn[-1][1] <= WIDE - 20


def test_the_bar_stands_to_scale_in_the_colour_of_its_water():
    whole, filled = (r for r in ElementTree.fromstring(gauge().markup).iter(f"{SVG}rect") if r.get("height") == "28")
    assert float(filled.get("width")) / float(whole.get("width")) == pytest.approx(14 / 38, abs=0.002)
    assert float(whole.get("x")) + float(whole.get("width")) == pytest.approx(END)
    assert filled.get("fill") == palette.heat_colour(80.0)


def test_numbers_are_printed_beside_the_bar_and_every_row():
    said = [text.text for text in ElementTree.fromstring(gauge().markup).iter(f"{SVG}text")]
    assert {"14.0 kWh", "of 38.0 kWh", "3.1 baths", "120 l at 42 °C", "1.4 hours", "at 10 kW"} <= set(said)


def test_rows_are_those_of_the_drawing():
    marked = gauge(marks=[Mark("half", 3.5 * KWH)])
    assert marked.rows[1:] == (("useful heat", "14.0 kWh"), ("baths", "3.1"), ("hours", "1.4"), ("half", "3.5 kWh"))


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda: Count("baths", -1, "", "bath"), "number of baths must be 0 or more; got -1"),
        (lambda: Count("baths", 1, "", "boat"), "symbol must be one of bath, drop, hour; got 'boat'"),
        (lambda: gauge(heat=39 * KWH), "heat must be 0 J to|heat must be .* or less"),
        (lambda: gauge(rows=()), "number of rows must be 1 or more; got 0"),
        (lambda: counts(ROWS * 3, **SAID), "number of rows must be 4 or less; got 6"),
        (lambda: gauge(marks=[Mark("a", 1.0)] * 3), "number of marks must be 2 or less; got 3"),
    ],
)
def test_what_cannot_be_drawn_is_refused(make, says):
    with pytest.raises(OutOfRange, match=says):
        make()
