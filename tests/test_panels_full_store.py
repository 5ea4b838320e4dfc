"""Book 01's panel: what its sentences claim is what its numbers say, at every end of the controls and in between."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tlib.panels.books import full_store

START = {control.name: control.start for control in full_store.SIGHT}
VALUES = st.fixed_dictionaries({c.name: st.integers(*(int(end) for end in c.ends)) for c in full_store.SIGHT})


def number(pattern, words):
    return float(re.search(pattern, words)[1])


@given(VALUES, st.sampled_from(sorted(full_store.GUESSES)))
@settings(max_examples=80, deadline=None)
def test_sentences_and_numbers_agree(values, guess):
    """By hand: litres × drop × 1.163 Wh; a bath takes 120 × 32 × 1.163, a shower 48 × 32 × 1.163."""
    store, worth, area = full_store.pictures(**values, prediction=guess)
    drop = values["hot"] - values["lowest_useful"]
    by_hand = values["volume"] * max(drop, 0) * 1.163 / 1000
    rows = dict(worth.rows[1:])
    assert float(rows["useful heat"].split()[0]) == pytest.approx(by_hand, abs=0.051)
    assert float(rows["hours to fill"]) == pytest.approx(by_hand / values["source_power"], abs=0.051)
    assert worth.words.endswith(f"You predicted: {guess}.")
    assert f"All {values['volume']} litres are at {values['hot']} °C" in store.words
    assert ("floor" in store.words) == (values["volume"] >= 450)
    if drop <= 0:
        assert "none of its heat is of use" in worth.words
        assert "no area to count" in area.words
        return
    assert number(r"give ([\d.]+) kWh", worth.words) == pytest.approx(by_hand, abs=0.051)
    assert number(r"drop hold ([\d.]+) kWh", worth.words) == pytest.approx(by_hand / 4, abs=0.051)
    assert number(r"has ([\d.]+) squares", area.words) == pytest.approx(by_hand / 1.163, abs=0.051)


@pytest.mark.parametrize(
    ("hot", "says"),
    [(41, "no whole bath or no whole shower"), (46, "no whole bath or 1 whole shower"),
     (53, "1 whole bath or 2 whole showers"), (80, "3 whole baths or 7 whole showers")],
)  # fmt: skip
def test_whole_ones_are_counted_in_words(hot, says):
    _, worth, _ = full_store.pictures(**START | {"hot": hot})
    assert says in worth.words


def test_the_presets_show_what_the_page_says_of_them():
    """Half of both leaves a quarter; the biggest store makes fewer showers than the start; the morning has less."""
    heat, showers = {}, {}
    for name, differs in full_store.PRESETS.items():
        rows = dict(full_store.pictures(**START | differs)[1].rows[1:])
        heat[name], showers[name] = float(rows["useful heat"].split()[0]), float(rows["showers"])
    assert heat["Half of both"] == pytest.approx(heat["Full at night"] / 4, abs=0.05)
    assert showers["Biggest but cool"] < showers["Full at night"] / 2
    assert heat["The morning after"] < heat["Full at night"] / 2


def test_power_changes_the_hours_and_nothing_else():
    slow, fast = (dict(full_store.pictures(**START | {"source_power": kw})[1].rows[1:]) for kw in (5, 10))
    assert float(slow.pop("hours to fill")) == pytest.approx(2 * float(fast.pop("hours to fill")), abs=0.1)
    assert slow == fast


def test_the_dashed_part_has_half_of_both():
    """Half of 300 l, and half of the 40 K from 80 down to 40 °C; 150 × 20 × 1.163 Wh by hand."""
    _, _, area = full_store.pictures(**START)
    assert area.rows[1:] == (
        ("the whole", "300 l", "80 to 40 °C", "14.0 kWh"),
        ("the dashed part", "150 l", "60 to 40 °C", "3.5 kWh"),
    )


@pytest.mark.parametrize(("litres", "warned"), [(440, False), (450, True)])
def test_the_floor_is_named_from_450_litres_on(litres, warned):
    """Common practice, no source: a store of 450 litres weighs some 60 to 100 kg empty."""
    store, *_ = full_store.pictures(**START | {"volume": litres})
    assert ("over half a tonne: have the floor checked" in store.words) == warned
