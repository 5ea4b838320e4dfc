"""Heat as an area: the shapes stand to scale, so that what the eye compares is the heat."""

from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tlib.figures import palette
from tlib.figures.heat_block import Block, heat_block
from tlib.validation import OutOfRange

SVG = "{http://www.w3.org/2000/svg}"
FRAME = {"most": 0.5, "span": (20.0, 90.0), "title": "Area", "words": "The area is the heat."}


def drawn(volume=0.3, hot=80.0, useful=40.0):
    part = Block(volume / 2, useful + max(hot - useful, 0.0) / 2, "3.5 kWh")
    return heat_block(Block(volume, hot, "14.0 kWh"), part, useful, **FRAME)


def boxes(picture, **look):
    """Return width and height of each rectangle with this look."""
    found = [
        box for box in ElementTree.fromstring(picture.markup).iter(f"{SVG}rect")
        if all(box.get(key) == value for key, value in look.items()) and box.get("height") != "19"
    ]  # fmt: skip
    return [(float(box.get("width")), float(box.get("height"))) for box in found]


def written(picture):
    return [each.text for each in ElementTree.fromstring(picture.markup).iter(f"{SVG}text")]


@pytest.mark.parametrize(("volume", "hot", "useful"), [(0.15, 60, 40), (0.5, 90, 25), (0.24, 71, 43)])
def test_the_area_is_as_the_litres_times_the_drop(volume, hot, useful):
    """A square of 100 l by 10 K is 440 / 5 = 88 px wide and 26 px high."""
    [(wide, high)] = boxes(drawn(volume, hot, useful), fill=palette.heat_colour(hot))
    assert wide * high / (88 * 26) == pytest.approx(volume / 0.1 * (hot - useful) / 10, rel=1e-3)


def test_the_dashed_part_is_half_as_wide_and_half_as_high():
    dashed = [
        path.get("d") for path in ElementTree.fromstring(drawn().markup).iter(f"{SVG}path")
        if path.get("stroke-dasharray")
    ]  # fmt: skip
    [(wide, high)] = boxes(drawn(), fill=palette.heat_colour(80))
    assert dashed == [f"M84 {62 + 50 / 10 * 26 - high / 2:.1f}h{wide / 2:.1f}v{high / 2:.1f}"]


def test_what_is_too_cool_is_drawn_below_the_line_and_not_in_the_colour_of_heat():
    assert boxes(drawn(), fill=palette.STRIP) == [(pytest.approx(3 * 88), pytest.approx(2 * 26))]
    assert boxes(drawn(hot=40.0, useful=50.0), fill=palette.heat_colour(40.0)) == []


def test_both_amounts_are_written_where_there_is_room():
    assert {"14.0 kWh", "3.5 kWh"} <= set(written(drawn()))
    assert "14.0 kWh" in written(drawn(0.15, 43.0, 40.0))
    assert "3.5 kWh" not in written(drawn(0.15, 43.0, 40.0))
    assert drawn(0.15, 43.0, 40.0).rows[2] == ("the dashed part", "75 l", "41.5 to 40 °C", "3.5 kWh")


def test_no_heat_writes_no_amount():
    assert not [words for words in written(drawn(hot=40.0, useful=40.0)) if "kWh" in words]


@given(st.floats(0.15, 0.5), st.floats(40, 90), st.floats(25, 50))
@settings(max_examples=60, deadline=None)
def test_nothing_leaves_the_page(volume, hot, useful):
    root = ElementTree.fromstring(drawn(volume, hot, useful).markup)
    for box in root.iter(f"{SVG}rect"):
        left, top = (float(box.get(side, 0)) for side in "xy")
        assert left >= 0
        assert left + float(box.get("width")) <= 640
        assert top + float(box.get("height")) <= float(root.get("height"))


@pytest.mark.parametrize(
    ("whole", "part", "useful", "match"),
    [
        (Block(0.6, 80.0, ""), Block(0.3, 60.0, ""), 40.0, "volume of the whole must be 0.5 m3 or less"),
        (Block(0.3, 80.0, ""), Block(0.4, 60.0, ""), 40.0, "volume of the part must be 0.3 m3 or less"),
        (Block(0.3, 95.0, ""), Block(0.1, 60.0, ""), 40.0, "temperature must be"),
        (Block(0.3, 80.0, ""), Block(0.1, 85.0, ""), 40.0, "temperature of the part must be"),
    ],
)
def test_a_block_outside_the_picture_is_refused(whole, part, useful, match):
    with pytest.raises(OutOfRange, match=match):
        heat_block(whole, part, useful, **FRAME)


def test_a_block_without_water_is_refused():
    with pytest.raises(OutOfRange, match="volume of the block must be above 0"):
        Block(0.0, 80.0, "")
