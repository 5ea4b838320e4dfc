"""Bars of heat: they add up, stand to scale, print their numbers, and say when something does not fit."""

from itertools import combinations
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tlib.figures import lettering, palette
from tlib.figures.bars import Heat, Limit, headroom_bar, heat_balance
from tlib.validation import OutOfRange

SVG = "{http://www.w3.org/2000/svg}"
KWH = 3.6e6
SAID = {"title": "Larkrigg Farm, one day", "words": "Most of it went out again."}
INTO = [Heat("log burner", 15.9 * KWH, "log burner"), Heat("sun", 2.1 * KWH, "sun")]
OUT = [
    Heat("hot water", 4.1 * KWH, "hot water"),
    Heat("heating", 6.0 * KWH, "heating"),
    Heat("standing loss", 1.1 * KWH),
]


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


def test_each_bar_begins_where_the_one_above_ended():
    steps = bars(heat_balance(INTO, OUT, 6.8 * KWH, **SAID), 16)
    wood, sun, taps, rooms, loss, change = steps
    assert wood[1] == pytest.approx(sun[0], abs=0.02)
    assert sun[1] == pytest.approx(taps[1], abs=0.02)
    assert taps[0] == pytest.approx(rooms[1], abs=0.02)
    assert rooms[0] == pytest.approx(loss[1], abs=0.02)
    assert change == pytest.approx((wood[0], loss[0]), abs=0.02)


def test_bars_are_to_one_scale():
    steps = bars(heat_balance(INTO, OUT, 6.8 * KWH, **SAID), 16)
    scale = [(right - left) / heat for (left, right), heat in zip(steps, (15.9, 2.1, 4.1, 6.0, 1.1, 6.8), strict=True)]
    assert scale == pytest.approx([scale[0]] * 6, rel=0.02)


def test_every_amount_is_printed_with_its_sign():
    said = printed(heat_balance(INTO, OUT, 6.8 * KWH, **SAID))
    assert {"+15.9 kWh", "+2.1 kWh", "−4.1 kWh", "−6.0 kWh", "−1.1 kWh", "+6.8 kWh"} <= set(said)
    assert {"into the store", "out of the store", "change in the store", "standing loss"} <= set(said)


def test_a_store_that_gave_heat_up_shows_a_fall():
    picture = heat_balance([Heat("sun", 1.0 * KWH, "sun")], [Heat("heating", 9.7 * KWH, "heating")], -8.7 * KWH, **SAID)
    assert "−8.7 kWh" in printed(picture)
    (_, sun_end), (low, high), change = bars(picture, 16)
    assert (high, change[0]) == pytest.approx((sun_end, low), abs=0.02)


def test_rounding_that_shows_is_said():
    split = [Heat("a", 1.04 * KWH), Heat("b", 1.04 * KWH), Heat("c", 1.04 * KWH)]
    said = printed(heat_balance(split, [], 3.12 * KWH, **SAID))
    assert {"+1.0 kWh", "+3.1 kWh"} <= set(said)
    assert "Each figure is rounded; as printed they add up to 3.0 kWh." in said
    assert not [text for text in printed(heat_balance(INTO, OUT, 6.8 * KWH, **SAID)) if text and "rounded" in text]


def test_a_balance_that_does_not_add_up_is_refused():
    with pytest.raises(OutOfRange, match=r"heats must add up to the change; they miss it by 0.8 kWh"):
        heat_balance(INTO, OUT, 6.0 * KWH, **SAID)


def test_rows_of_a_balance_agree_with_what_is_printed():
    picture = heat_balance(INTO, OUT, 6.8 * KWH, **SAID)
    head, *body = picture.rows
    assert head == ("where", "what", "heat")
    assert {row[2] for row in body} <= set(printed(picture))
    assert body[-1] == ("in the store", "change", "+6.8 kWh")
    assert sum(float(row[2].replace("−", "-").removesuffix(" kWh")) for row in body[:-1]) == pytest.approx(6.8)


HEATS = st.lists(
    st.builds(Heat, st.text(max_size=40), st.floats(0, 1e9), st.sampled_from(["", *palette.FLOWS])), max_size=6
)


@given(HEATS, HEATS)
@settings(max_examples=40, deadline=None)
def test_any_balance_stays_on_its_page(into, out_of):
    if not into and not out_of:
        return
    change = sum(heat.heat for heat in into) - sum(heat.heat for heat in out_of)
    picture = heat_balance(into, out_of, change, **SAID)
    assert_apart(picture)
    high = float(tree(picture).get("height"))
    assert max(box[3] for box in boxes(picture)) <= high


def test_the_height_depends_only_on_how_many_bars_there_are():
    small = heat_balance([Heat("sun", 0.0, "sun")], [Heat("loss", KWH)], -KWH, **SAID)
    large = heat_balance([Heat("sun", 90 * KWH, "sun")], [Heat("loss", KWH)], 89 * KWH, **SAID)
    assert tree(small).get("height") == tree(large).get("height")


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
    assert {"3.8 kWh too much", "8.0 kWh", "to 90 °C", "4.2 kWh", "to 95 °C", "5.9 kWh"} <= set(printed(picture))


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


@pytest.mark.parametrize("make", [power_cut, lambda: heat_balance(INTO, OUT, 6.8 * KWH, notice="boiling", **SAID)])
def test_words_role_and_sizes(make):
    picture = make()
    root = tree(picture)
    assert (root.get("role"), root.get("aria-label")) == ("img", picture.words)
    assert root.find(f"{SVG}title").text
    assert min(float(e.get("font-size")) for e in root.iter(f"{SVG}text")) >= 12
    assert " id=" not in picture.markup


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda: Heat("sun", float("nan")), r"sun must be a finite number; got nan"),
        (lambda: Heat("sun", 1.0, "moon"), r"flow must be one of log burner, .*; got 'moon'"),
        (lambda: Limit("to 90 °C", float("inf")), r"room to 90 °C must be a finite number"),
        (lambda: heat_balance([], [], 0.0, **SAID), r"number of heats must be 1 or more; got 0"),
        (lambda: headroom_bar([], 1.0, **SAID), r"number of limits must be 1 or more; got 0"),
        (lambda: headroom_bar([Limit("to 90 °C", 1.0)], -1.0, **SAID), r"heat to come must be 0 J or more; got -1"),
    ],
)
def test_bars_that_cannot_be_are_refused(make, says):
    with pytest.raises(OutOfRange, match=says):
        make()
