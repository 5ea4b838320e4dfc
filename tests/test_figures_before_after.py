"""Before and after: two bars to one scale for each quantity, each with its number, and a row that says the same."""

import math
from xml.etree import ElementTree

import pytest

from tlib.figures.before_after import Pair, before_after
from tlib.validation import OutOfRange

SVG = "{http://www.w3.org/2000/svg}"
SAID = {"title": "What that did", "words": "The top is cooler."}
PAIRS = (
    Pair("top of the store", "", 75.0, 64.6, 90.0, "°C", 0),
    Pair("how stirred", "0 in layers, 1 all mixed", 0.0, 0.304, 1.0, decimals=2),
)


def bars(picture):
    return [
        float(r.get("width"))
        for r in ElementTree.fromstring(picture.markup).iter(f"{SVG}rect")
        if r.get("height") == "18"
    ]


def texts(picture):
    return [text.text for text in ElementTree.fromstring(picture.markup).iter(f"{SVG}text")]


def test_bars_of_a_pair_stand_to_one_scale():
    was, now, _, stirred = bars(before_after(PAIRS, **SAID))
    assert now / was == pytest.approx(64.6 / 75, abs=0.002)
    assert stirred / (was * 90 / 75) == pytest.approx(0.304, abs=0.002)


def test_each_bar_has_its_word_and_its_number():
    said = texts(before_after(PAIRS, **SAID))
    assert {"before 75 °C", "now 65 °C", "before 0.00", "now 0.30", "0 in layers, 1 all mixed"} <= set(said)
    assert {"label 75 °C", "real 65 °C"} <= set(texts(before_after(PAIRS, said=("label", "real"), **SAID)))


def test_rows_say_the_same():
    assert before_after(PAIRS, **SAID).rows == (
        ("what", "before", "now"), ("top of the store", "75 °C", "65 °C"), ("how stirred", "0.00", "0.30"),
    )  # fmt: skip


def test_what_is_not_defined_is_said_and_what_is_too_much_ends_with_the_bar():
    picture = before_after([Pair("stirred", "", math.nan, 3.0, 1.0)], **SAID)
    assert picture.rows[1] == ("stirred", "not defined", "3.0")
    none, whole = bars(picture)
    assert none < 2
    assert whole == max(bars(before_after([Pair("stirred", "", 0.5, 1.0, 1.0)], **SAID)))


@pytest.mark.parametrize("count", [0, 5])
def test_too_few_or_too_many_are_refused(count):
    with pytest.raises(OutOfRange, match=f"number of pairs must be .*; got {count}"):
        before_after(PAIRS[:1] * count, **SAID)
