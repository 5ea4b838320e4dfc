"""The balance of heat: both sides stand to scale and add up as printed, and no heat is lost on the way."""

import re
from decimal import Decimal
from itertools import combinations
from xml.etree import ElementTree

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tlib.figures import lettering, palette
from tlib.figures.balance import KINDS, NAMES, Heat, heat_balance, ledger_balance
from tlib.simulation import Ledger
from tlib.validation import OutOfRange

SVG = "{http://www.w3.org/2000/svg}"
KWH = 3.6e6
SAID = {"title": "Larkrigg Farm, one day", "words": "Most of it went out again."}
INTO = [Heat("log burner", 15.9 * KWH, "log burner"), Heat("sun", 2.1 * KWH, "sun")]
OUT = [Heat("hot water", 4.1 * KWH, "hot water"), Heat("heating", 6.0 * KWH, "heating"), Heat("loss", 1.1 * KWH)]
ALL = [*KINDS, "standing loss", "thermal valve", "steam", "house gains", "house loss", "pumped over"]


def tree(picture):
    return ElementTree.fromstring(picture.markup)


def printed(picture):
    return [element.text for element in tree(picture).iter(f"{SVG}text") if element.text]


def bars(picture):
    """Return (left edge, height, colour) of each bar of both sides, from the top down."""
    rects = [r for r in tree(picture).iter(f"{SVG}rect") if r.get("width") == "36"]
    return [(float(r.get("x")), float(r.get("height")), r.get("fill")) for r in rects]


def amount(said):
    return Decimal(re.fullmatch(r"([\d,]+\.\d) kWh", said)[1].replace(",", ""))


def side(picture, head):
    """Return the printed heats of one side by name, and the printed sum."""
    rows = [row for row in picture.rows if row[0] == head]
    assert rows[-1][1] == "together"
    return {name: amount(said) for _, name, said in rows[:-1]}, amount(rows[-1][2])


def random_ledgers(count=200):
    """Yield ledgers as a run leaves them: large and small heats, some of zero, closed to rounding."""
    rng = np.random.default_rng(4)
    for _ in range(count):
        names = rng.permutation(ALL)[: rng.integers(1, 12)]
        heats = 10 ** rng.uniform(3, 9, names.size) * rng.choice([-1, 1, 0], names.size, p=[0.5, 0.4, 0.1])
        heats = dict(zip(names.tolist(), heats.tolist(), strict=True))
        yield Ledger(heats, sum(heats.values()) * (1 + 1e-12), 1e8)


LEDGERS = list(random_ledgers())


@pytest.mark.parametrize("ledger", LEDGERS, ids=range(len(LEDGERS)))
def test_printed_numbers_add_up_to_the_last_digit(ledger):
    picture = ledger_balance(ledger, **SAID)
    (came, sum_in), (went, sum_out) = side(picture, "came from"), side(picture, "went to")
    assert sum(came.values()) == sum_in == sum_out == sum(went.values())
    booked = {NAMES.get(name, name): heat for name, heat in ledger.heats.items()}
    kept = {"kept in the system": -ledger.stored, "given by the system": -ledger.stored}
    for sign, heats in ((1, came), (-1, went)):
        for name, says in heats.items():
            truth = sign * (booked | kept)[name] / KWH
            assert abs(float(says) - truth) < 0.1
            assert truth > 0


@pytest.mark.parametrize("ledger", LEDGERS[:60], ids=range(60))
def test_no_heat_vanishes(ledger):
    picture = ledger_balance(ledger, **SAID)
    names = [row[1] for row in picture.rows]
    for name in ledger.heats:
        assert names.count(NAMES.get(name, name)) == 1
    assert sum(name.endswith("the system") for name in names) == 1
    drawn = len(bars(picture))
    assert drawn == sum(
        row[0] != "no heat" and row[1] != "together" and row[2] != "0.0 kWh" for row in picture.rows[1:]
    )


def test_heats_of_zero_stand_only_in_the_table():
    picture = ledger_balance(Ledger({"fire to water": 9 * KWH, "boiler": 0.0, "steam": 0.0}, 9 * KWH, 1e8), **SAID)
    assert "boiler" not in printed(picture)
    assert picture.rows[-2:] == (("no heat", "boiler", "0.0 kWh"), ("no heat", "steam", "0.0 kWh"))
    assert len(bars(picture)) == 2


def test_a_heat_too_small_to_print_is_named_below():
    picture = heat_balance([Heat("fire", 5 * KWH), Heat("drip", 0.01 * KWH)], [], 5.01 * KWH, **SAID)
    assert "Too small to draw: drip." in printed(picture)
    assert ("came from", "drip", "0.0 kWh") in tuple(picture.rows)
    assert not any("Too small" in text for text in printed(heat_balance(INTO, OUT, 6.8 * KWH, **SAID)))


def test_equal_heats_share_the_missing_step_with_the_larger_first():
    split = [Heat("a", 1.04 * KWH), Heat("b", 1.04 * KWH), Heat("c", 1.04 * KWH)]
    heats, total = side(heat_balance(split, [], 3.12 * KWH, **SAID), "came from")
    assert (sorted(heats.values()), total) == ([Decimal("1.0"), Decimal("1.0"), Decimal("1.1")], Decimal("3.1"))
    heats, _ = side(heat_balance([Heat("a", 1.05 * KWH), Heat("b", 4.05 * KWH)], [], 5.1 * KWH, **SAID), "came from")
    assert heats == {"a": Decimal("1.0"), "b": Decimal("4.1")}


def test_both_columns_are_as_tall_and_bars_are_to_one_scale():
    drawn = bars(heat_balance(INTO, OUT, 6.8 * KWH, **SAID))
    assert [x for x, _, _ in drawn] == [264, 264, 340, 340, 340, 340]
    truth = [15.9, 2.1, 4.1, 6.0, 1.1, 6.8]
    scale = [(high + 1.5) / heat for (_, high, _), heat in zip(drawn, truth, strict=True)]
    assert scale == pytest.approx([252 / 18] * 6, rel=0.01)


def test_a_store_that_gave_heat_up_stands_on_the_other_side():
    picture = heat_balance([Heat("sun", 1.0 * KWH, "sun")], [Heat("heating", 9.7 * KWH, "heating")], -8.7 * KWH, **SAID)
    assert side(picture, "came from")[0] == {"sun": Decimal("1.0"), "given by the store": Decimal("8.7")}
    assert {"given by the store", "8.7", "9.7", "kWh"} <= set(printed(picture))


def test_flows_keep_their_colours():
    colours = [colour for _, _, colour in bars(heat_balance(INTO, OUT, 6.8 * KWH, **SAID))]
    named = [palette.flow(kind).colour for kind in ("log burner", "sun", "hot water", "heating")]
    assert colours == [*named, palette.QUIET, palette.INK]
    assert set(KINDS.values()) <= set(palette.FLOWS)


def test_a_balance_that_does_not_add_up_is_refused():
    with pytest.raises(OutOfRange, match=r"heats must add up to the change; they miss it by 0.8 kWh"):
        heat_balance(INTO, OUT, 6.0 * KWH, **SAID)
    with pytest.raises(OutOfRange, match=r"heats must add up to the change; they miss it by 1.0 kWh"):
        ledger_balance(Ledger({"boiler": KWH}, 2 * KWH, 1e8), **SAID)


HEATS = st.lists(
    st.builds(Heat, st.text(max_size=40), st.floats(0, 1e9), st.sampled_from(["", *palette.FLOWS])), max_size=11
)


def boxes(picture):
    for element in tree(picture).iter(f"{SVG}text"):
        if element.text:
            x, y, size = (float(element.get(key)) for key in ("x", "y", "font-size"))
            wide = lettering.width(element.text, size, bold=element.get("font-weight") == "600")
            left = x - (wide if element.get("text-anchor") == "end" else 0.0)
            yield left, y - 0.75 * size, left + wide, y + 0.25 * size


@given(HEATS, HEATS)
@settings(max_examples=60, deadline=None)
def test_any_balance_stays_on_its_page_and_its_words_apart(into, out_of):
    if not into and not out_of:
        return
    change = sum(heat.heat for heat in into) - sum(heat.heat for heat in out_of)
    picture = heat_balance(into, out_of, change, **SAID)
    found = list(boxes(picture))
    for one, other in combinations(found, 2):
        assert not (one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3])
    assert min(box[0] for box in found) >= 0
    assert max(box[2] for box in found) <= 640
    assert max(box[3] for box in found) <= 402
    assert (tree(picture).get("width"), tree(picture).get("height")) == ("640", "402")
    assert side(picture, "came from")[1] == side(picture, "went to")[1]


def test_words_role_and_sizes():
    picture = heat_balance(INTO, OUT, 6.8 * KWH, notice="boiling", **SAID)
    root = tree(picture)
    assert (root.get("role"), root.get("aria-label")) == ("img", picture.words)
    assert picture.words.startswith("Boiling. ")
    assert min(float(e.get("font-size")) for e in root.iter(f"{SVG}text")) >= 12
    assert " id=" not in picture.markup
    said = " ".join(printed(picture))
    assert all(row[2].removesuffix(" kWh") in said for row in picture.rows[1:])


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda: Heat("sun", float("nan")), r"sun must be a finite number; got nan"),
        (lambda: Heat("sun", -1.0), r"sun must be 0 J or more; got -1"),
        (lambda: Heat("sun", 1.0, "moon"), r"flow must be one of log burner, .*; got 'moon'"),
        (lambda: heat_balance([], [], 0.0, **SAID), r"number of heats must be 1 or more; got 0"),
        (lambda: heat_balance([Heat(str(n), KWH) for n in range(13)], [], 13 * KWH, **SAID), "labels on one side"),
    ],
)
def test_balances_that_cannot_be_are_refused(make, says):
    with pytest.raises(OutOfRange, match=says):
        make()
