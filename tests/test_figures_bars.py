"""The headroom bar: it stands to scale, prints its numbers, and says when something does not fit."""

from itertools import combinations
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tlib.figures import lettering, palette
from tlib.figures.bars import Limit, headroom_bar
from tlib.figures.heat_scale import Mark
from tlib.validation import OutOfRange

SVG = "{http://www.w3.org/2000/svg}"
KWH = 3.6e6
SAID = {"title": "Larkrigg Farm, one day", "words": "Most of it went out again."}


def tree(picture):
    return ElementTree.fromstring(picture.markup)


def printed(picture):
    return [element.text for element in tree(picture).iter(f"{SVG}text")]


def bars(picture, height):
    """Return (left, right) of each bar, from the top down."""
    rects = [r for r in tree(picture).iter(f"{SVG}rect") if r.get("height") == str(height)]
    return [(float(r.get("x")), float(r.get("x")) + float(r.get("width"))) for r in rects]


def boxes(picture):
    found = []
    for element in tree(picture).iter(f"{SVG}text"):
        if not element.text:
            continue
        x, y, size = (float(element.get(key)) for key in ("x", "y", "font-size"))
        wide = lettering.width(element.text, size, bold=element.get("font-weight") == "600")
        left = x - {"end": 1.0, "middle": 0.5}.get(element.get("text-anchor"), 0.0) * wide
        found.append((left, y - 0.75 * size, left + wide, y + 0.25 * size))
    return found


def assert_apart(picture):
    found = boxes(picture)
    for one, other in combinations(found, 2):
        assert not (one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3])
    assert min(box[0] for box in found) >= 0
    assert max(box[2] for box in found) <= 640


def power_cut():
    limits = [Limit("to 90 °C", 4.2 * KWH), Limit("to 95 °C", 5.9 * KWH)]
    return headroom_bar(limits, 8.0 * KWH, title="Power cut at 20:15", words="It does not fit.")


def test_what_does_not_fit_is_drawn_and_said():
    picture = power_cut()
    room, fits, beyond = bars(picture, 26)
    assert fits[0] == room[0]
    assert fits[1] == pytest.approx(beyond[0], abs=0.02)
    scale = (room[1] - room[0]) / 5.9
    assert ((fits[1] - fits[0]) / scale, (beyond[1] - beyond[0]) / scale) == pytest.approx((4.2, 3.8), rel=0.01)
    assert {"3.8 kWh too much", "still to come, 8.0 kWh", "to 90 °C", "4.2 kWh", "to 95 °C", "5.9 kWh"} <= set(
        printed(picture)
    )


def test_the_overflow_is_open_and_striped_not_only_red():
    rects = [r for r in tree(power_cut()).iter(f"{SVG}rect") if r.get("height") == "26"]
    assert (rects[2].get("fill"), rects[2].get("stroke")) == (palette.PAPER, palette.WARNING)
    stripes = [p for p in tree(power_cut()).iter(f"{SVG}path") if p.get("stroke") == palette.WARNING]
    assert len(stripes) > 5


def test_what_fits_is_said_with_what_is_to_spare():
    picture = headroom_bar([Limit("to 85 °C", 14 * KWH)], 9.9 * KWH, **SAID)
    assert "it fits, with 4.1 kWh to spare" in printed(picture)
    assert len(bars(picture, 26)) == 2
    assert picture.rows[-1] == ("to spare", "4.1 kWh")


def test_a_limit_already_passed_is_said():
    picture = headroom_bar([Limit("to 85 °C", -1 * KWH), Limit("to 90 °C", 0.4 * KWH)], 6 * KWH, **SAID)
    assert {"passed already", "7.0 kWh too much"} <= set(printed(picture))


def test_rows_of_a_headroom_bar_agree_with_what_is_printed():
    picture = power_cut()
    said = " ".join(printed(picture))
    assert all(row[1] in said for row in picture.rows[1:])
    assert picture.rows[-1] == ("too much", "3.8 kWh")


@given(
    st.lists(
        st.builds(Limit, st.sampled_from(["to 85 °C", "to 90 °C", "to 95 °C"]), st.floats(-2e7, 1e8)),
        min_size=1,
        max_size=4,
    ),
    st.floats(0, 2e8),
)
@settings(max_examples=40, deadline=None)
def test_labels_of_limits_never_meet(limits, to_come):
    assert_apart(headroom_bar(limits, to_come, **SAID))


def test_words_role_and_sizes():
    picture = power_cut()
    root = tree(picture)
    assert (root.get("role"), root.get("aria-label")) == ("img", picture.words)
    assert root.find(f"{SVG}title").text
    assert min(float(e.get("font-size")) for e in root.iter(f"{SVG}text")) >= 12
    assert " id=" not in picture.markup


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda: Limit("to 90 °C", float("inf")), r"room to 90 °C must be a finite number"),
        (lambda: headroom_bar([], 1.0, **SAID), r"number of limits must be 1 or more; got 0"),
        (lambda: headroom_bar([Limit("to 90 °C", 1.0)], -1.0, **SAID), r"heat to come must be 0 J or more; got -1"),
    ],
)
def test_bars_that_cannot_be_are_refused(make, says):
    with pytest.raises(OutOfRange, match=says):
        make()


KILOWATT_HOURS = st.floats(0, 60).map(lambda heat: heat * KWH)


@given(KILOWATT_HOURS, KILOWATT_HOURS, KILOWATT_HOURS)
@settings(max_examples=40, deadline=None)
def test_marks_stand_at_their_heat_and_their_labels_never_meet(to_come, dry, guess):
    marks = [Mark("20 % wood", dry), Mark("your guess for 35 %", guess)]
    picture = headroom_bar([Limit("to 85 °C", 17.4 * KWH)], to_come, marks, **SAID)
    assert_apart(picture)
    dashed = [float(p.get("d")[1:].split()[0]) for p in tree(picture).iter(f"{SVG}path") if p.get("stroke-dasharray")]
    begin, end = bars(picture, 26)[0]
    places = [begin + (end - begin) * heat / (17.4 * KWH) for heat in sorted((dry, guess))]
    assert dashed == pytest.approx(places, abs=0.2)
    assert [row[0] for row in picture.rows[-2:]] == ["20 % wood", "your guess for 35 %"]


def test_no_more_than_two_marks_and_none_below_nought():
    with pytest.raises(OutOfRange, match="number of marks must be 2 or less; got 3"):
        headroom_bar([Limit("to 85 °C", 1.0)], 1.0, [Mark("dry", 1.0)] * 3, **SAID)
    with pytest.raises(OutOfRange, match="dry must be 0 J or more; got -1"):
        Mark("dry", -1.0)
