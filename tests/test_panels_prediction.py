"""The prediction: locked once, kept for good, and there again after a restart."""

import re

import pytest

from tlib.panels import Prediction
from tlib.panels.sitting import Sitting


@pytest.fixture
def place(tmp_path, monkeypatch):
    monkeypatch.setenv("TLIB_ANSWERS", str(tmp_path))
    sitting = Sitting()
    sitting.begin("book-04")
    sitting.switch("17")
    yield sitting
    sitting.close()


def restarted(place):
    """Let the kernel die and come back: every lock is free, nothing is remembered but what is on the disk."""
    place.close()
    again = Sitting()
    again.begin("book-04")
    return again


def kept(place, event):
    return [line for line in place.events() if line["event"] == event]


def enter(field):
    """Press Enter in a field, as the page tells it."""
    field._handle_custom_msg({"event": "submit"}, [])


def test_locks_once_and_says_so_kindly(place):
    guess = Prediction("wet", "Less by 5 or 20 %?", ("5 %", "20 %"), place=place)
    guess.lock.click()
    assert "Choose one first. A guess is enough." in guess.says.value
    guess.field.value = "20 %"
    guess.lock.click()
    guess.field.value = "5 %"
    guess.lock.click()
    assert guess.value == "20 %"
    assert "locked already. It stays as it is" in guess.says.value
    assert [line["value"] for line in kept(place, "predicted")] == ["20 %"]


@pytest.mark.parametrize(("typed", "value"), [("15", 15.0), ("15,5", 15.5), (" 7 kWh ", 7.0), ("-0", 0.0)])
def test_a_number_is_read_as_people_type_it(place, typed, value):
    guess = Prediction("heat", "How much?", unit="kWh", place=place)
    guess.field.value = typed
    enter(guess.field)
    assert guess.value == value


@pytest.mark.parametrize("typed", ["", "lots", "nan", "1e999", "12-14"])
def test_anything_else_asks_again(place, typed):
    guess = Prediction("heat", "How much?", unit="kWh", place=place)
    guess.field.value = typed
    guess.lock.click()
    assert "Write a number in kWh first." in guess.says.value
    assert not guess.is_locked


def test_is_there_after_a_restart_and_cannot_be_changed(place):
    guess = Prediction("heat", "How much?", unit="kWh", place=place)
    guess.field.value = "15"
    guess.lock.click()
    again = Prediction("heat", "How much?", unit="kWh", place=restarted(place))
    assert (again.value, again.field.value, again.field.disabled) == (15.0, "15", True)
    assert re.search(r"You predicted: 15 kWh. Locked at \d\d:\d\d:\d\d\. It stays", again.says.value)


def test_the_first_one_kept_counts(place):
    for guess in ("5 %", "20 %"):
        place.record("predicted", prediction="wet", value=guess, unit="")
    assert Prediction("wet", "Less?", ("5 %", "20 %"), place=place).value == "5 %"


@pytest.mark.parametrize("old", ["about 7 %", 7.0, None])
def test_an_answer_to_an_older_question_does_not_count(place, old):
    place.record("predicted", prediction="wet", value=old, unit="")
    assert not Prediction("wet", "Less?", ("5 %", "20 %"), place=place).is_locked
    if not isinstance(old, float):
        assert not Prediction("wet", "Less?", unit="%", place=place).is_locked


def test_needs_a_learner(tmp_path, monkeypatch):
    monkeypatch.setenv("TLIB_ANSWERS", str(tmp_path))
    nobody = Sitting()
    nobody.begin("book-04")
    guess = Prediction("wet", "Less?", ("5 %",), place=nobody)
    guess.field.value = "5 %"
    guess.lock.click()
    assert "Give your learner number at the top of this page." in guess.says.value
    assert not guess.is_locked


def test_what_was_typed_before_the_number_was_given_stays_and_another_learner_does_not_see_it(tmp_path, monkeypatch):
    monkeypatch.setenv("TLIB_ANSWERS", str(tmp_path))
    place = Sitting()
    place.begin("book-04")
    guess, choice = (
        Prediction("heat", "How much?", unit="kWh", place=place),
        Prediction("half", "?", "abc", place=place),
    )
    guess.field.value, choice.field.value = "15", "b"
    place.switch("17")
    assert (guess.field.value, choice.field.value) == ("15", "b")
    assert not guess.is_locked
    place.switch("18")
    assert (guess.field.value, choice.field.value) == ("", None)
    place.close()
