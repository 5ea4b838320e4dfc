"""What the panel of book 03 says is what its numbers say, at its ends too."""

import itertools

import pytest

from tlib import heat_transfer
from tlib.panels import starts
from tlib.panels.books import slow_leak
from tlib.panels.books.places import quillbeck

START = starts(*slow_leak.SIGHT, *slow_leak.MORE)
START_PARTS = {name: START[name] for name in ("volume", "insulation", "bare_pipe", "store_height")}
ENDS = [dict(zip(("volume", "insulation", "bare_pipe", "store_height"), ends, strict=True))
        for ends in itertools.product((150, 500), (25, 150), (0, 6), (0.9, 2.0))]  # fmt: skip


def watts(picture):
    return {name: int(said.split()[0]) for name, said, _ in picture.rows[1:]}


def shown(**values):
    return slow_leak.pictures(**START | values)


@pytest.mark.parametrize("values", ENDS)
def test_bars_words_and_together_agree(values):
    leaks, _, _ = shown(**values)
    *parts, whole, label = watts(leaks).values()
    assert sum(parts) == whole
    assert leaks.words.startswith(f"Kept at 80 °C the store leaks {whole} W: ")
    daily = float(leaks.words.split(" W: ")[1].split()[0])
    assert daily == pytest.approx(whole * 24 / 1000, abs=0.07)
    assert f"Its label says {label} W, class " in leaks.words


def test_no_pipe_no_store_and_no_room_change_the_label():
    """A label is tested at 65 °C in a room of 20 °C, without pipes: 45 of the 65 degrees of our start."""
    labels = {
        watts(shown(**values)[0])["on its label"] for values in ({}, {"bare_pipe": 6}, {"store": 90}, {"room": 5})
    }
    assert len(labels) == 1
    assert labels.pop() == pytest.approx(watts(shown()[0])["together"] * 45 / 65, abs=1)


def test_at_the_label_s_own_temperatures_the_bare_store_leaks_what_its_label_says():
    said = watts(shown(store=65, room=20)[0])
    assert said["together"] == said["on its label"]


def test_the_class_is_the_published_one():
    """300 l with 50 mm of foam: 61 W, between the bounds of A and B of EU 812/2013."""
    bounds = heat_transfer.energy_class_bounds(0.300)
    assert bounds["A"] <= 61 < bounds["B"]
    assert "says 61 W, class B:" in shown()[0].words


@pytest.mark.parametrize("values", ENDS)
def test_twice_the_foam_always_leaves_more_than_half(values):
    thin, double = (sum(slow_leak.parts(**START_PARTS | values | {"insulation": foam}).values()) for foam in (50, 100))
    assert double > 0.505 * thin
    assert f"{100 * double / thin:.0f} % of it, which is more than half." in shown(**values)[1].words


@pytest.mark.parametrize("guess", slow_leak.GUESSES)
def test_the_guess_stands_on_the_curve_of_foam(guess):
    without, guessed = shown()[1], shown(prediction=guess)[1]
    assert without.markup != guessed.markup
    assert guessed.words == f"{without.words} You predicted: {guess[0].lower()}{guess[1:]}."


def test_foam_does_nothing_for_a_bare_pipe():
    assert "nothing for the bare pipe" in shown(bare_pipe=2)[1].words
    assert "bare pipe" not in shown()[1].words
    thin, thick = (watts(shown(bare_pipe=2, insulation=foam)[0])["bare pipe"] for foam in (25, 150))
    assert thin == pytest.approx(thick, abs=1)


def test_the_heat_gone_is_the_fall_of_the_store():
    """By hand: 300 × 1.163 × (80 − 69) = 3838 Wh."""
    words = shown(days=2)[2].words
    assert "the store is at 69 °C. 3.8 kWh are gone." in words


def test_a_cooler_store_leaks_less():
    """By hand: 1.34 W/K × 65 K = 87 W, and × (69.2 − 15) K = 73 W."""
    words = shown(days=2)[2].words
    assert "It leaks 87 W at first and 73 W at the end" in words
    assert shown(days=2)[0].words.startswith("Kept at 80 °C the store leaks 87 W")


def test_a_store_that_is_hardly_warmer_than_its_room_loses_little():
    leaks, _, cools = shown(store=40, room=25, days=4)
    assert watts(leaks)["together"] < 0.25 * watts(shown()[0])["together"]
    assert cools.rows[1][1:] == ("40 °C", "25 °C")


@pytest.mark.parametrize(("days", "said"), [(0.5, "After 0.5 days"), (1, "After 1 day without"), (2, "After 2 days")])
def test_days_are_said_as_people_say_them(days, said):
    assert said in shown(days=days)[2].words


def test_a_week_alone_is_the_hand_formula():
    """The hall: 500 l at 80 °C in a room of 10 °C; within 0.3 K, for its bottom cools first."""
    hall = quillbeck().store
    loss = (
        heat_transfer.store_loss_coefficient((4 * 0.500 / (3.14159265 * 1.70)) ** 0.5, 1.70, 0.080, 0.028, 8.0)
        + hall.loss.fittings
    )
    by_hand = heat_transfer.cool_down(0.500, loss, 80.0, 10.0, 7 * 86_400.0)
    words = slow_leak.week_alone().words
    assert int(words.split(" °C on average")[0].split()[-1]) == pytest.approx(by_hand, abs=0.8)
    assert int(words.split("At first ")[1].split()[0]) == pytest.approx(loss * 70.0, abs=1.0)


def test_lines_are_left_out_and_then_all():
    assert list(slow_leak.second_store().fields) == [2, 3, 4]
    assert list(slow_leak.third_store().fields) == [1, 2, 3, 4, 5, 6, 7]
