"""Leaks: bars that begin where the last one ended, whole watts, and a sum that is the sum of what is printed."""

from itertools import pairwise
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tlib.figures import palette
from tlib.figures.losses import Leak, leaks
from tlib.validation import OutOfRange

SVG = "{http://www.w3.org/2000/svg}"
SAID = {"title": "Where the heat leaks out", "words": "Most of it by the side."}
PARTS = (Leak("side", "50 mm of foam", 72.6), Leak("two ends", "", 14.7), Leak("bare pipe", "2 m", 91.4))


def bars(picture):
    rects = [r for r in ElementTree.fromstring(picture.markup).iter(f"{SVG}rect") if r.get("height") == "22"]
    return [(float(r.get("x")), float(r.get("width"))) for r in rects]


def test_each_bar_begins_where_the_last_one_ended_and_all_are_as_long_as_the_whole():
    *parts, whole = bars(leaks(PARTS, 300.0, **SAID))
    for (begin, wide), (following, _) in pairwise(parts):
        assert following == pytest.approx(begin + wide, abs=0.02)
    assert parts[0][0] == whole[0]
    assert parts[-1][0] + parts[-1][1] == pytest.approx(whole[0] + whole[1], abs=0.02)
    assert parts[0][1] / whole[1] == pytest.approx(72.6 / 178.7, abs=0.002)


def test_a_loss_beside_is_an_open_bar_on_the_same_scale_and_no_part_of_the_whole():
    label = Leak("on its label", "without pipes", 61.0)
    bare, beside = leaks(PARTS, 300.0, **SAID), leaks(PARTS, 300.0, beside=label, **SAID)
    assert bars(beside)[:-1] == bars(bare)
    (left, wide), (_, whole) = bars(beside)[-1], bars(bare)[-1]
    assert left == bars(bare)[-1][0]
    assert wide / whole == pytest.approx(61.0 / 178.7, abs=0.002)
    assert beside.rows[-2:] == (("together", "179 W", "100 %"), ("on its label", "61 W", "34 %"))
    last = [each for each in ElementTree.fromstring(beside.markup).iter(f"{SVG}rect") if each.get("height") == "22"][-1]
    assert last.get("fill") == palette.PAPER


@given(st.lists(st.floats(0, 500), min_size=1, max_size=5))
@settings(max_examples=40, deadline=None)
def test_the_whole_is_the_sum_of_what_is_printed(powers):
    picture = leaks([Leak(f"part {n}", "", power) for n, power in enumerate(powers)], 2600.0, **SAID)
    *parts, whole = [int(watts.split()[0]) for _, watts, _ in picture.rows[1:]]
    assert sum(parts) == whole
    said = [text.text for text in ElementTree.fromstring(picture.markup).iter(f"{SVG}text")]
    assert f"{whole} W" in said


def test_names_and_notes_stand_before_the_bars():
    said = [text.text for text in ElementTree.fromstring(leaks(PARTS, 300.0, **SAID).markup).iter(f"{SVG}text")]
    assert {"side", "50 mm of foam", "two ends", "bare pipe", "2 m", "together"} <= set(said)
    assert {"73 W", "15 W", "91 W", "179 W"} <= set(said)


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda: Leak("side", "", -1.0), "heat through side must be 0 W or more; got -1"),
        (lambda: leaks([], 300.0, **SAID), "number of parts must be .*; got 0"),
        (lambda: leaks(PARTS, 200.0, beside=Leak("label", "", 201.0), **SAID), "whole width stands for must be 201"),
        (lambda: leaks(PARTS, 100.0, **SAID), "heat that the whole width stands for must be 178.7"),
    ],
)
def test_what_cannot_be_drawn_is_refused(make, says):
    with pytest.raises(OutOfRange, match=says):
        make()
