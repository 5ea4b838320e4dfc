"""The boxes that keep what a learner gives: answers, own words, the hand-in, and whose they are."""

import re
import textwrap

import pytest

from tlib import tables
from tlib.assessment import bank, desk
from tlib.assessment.answer_book import AnswerBook, read
from tlib.panels import answers
from tlib.panels.answers import ExerciseBox
from tlib.panels.feedback import hint_offer, marks_said
from tlib.panels.hand_in import HandInBox
from tlib.panels.learner import LearnerBox
from tlib.panels.own_words import OwnWords
from tlib.panels.sitting import CannotSave, Sitting

EXERCISE = """
format = 1
id = "half-a-store"
version = 1
workbook = "04"
outcome = "firing.logs-tonight"
level = 1
site = "larkrigg"
written_by = "the tests"
references = ["EN ISO 18125"]
story = '''
The store at {site} holds {volume} and is to warm by {rise}.
Say so <plainly>.
'''

[given]
volume = { choose = [200, 300, 400, 500], unit = "litre" }
rise = { choose = [20, 30, 40, 50], unit = "K" }
power = { value = 10, unit = "kW" }

[[part]]
name = "heat"
kind = "number"
ask = "How much heat is that?"
answer = "stored_heat(volume, rise)"
unit = "kWh"
within = { relative = 0.03, because = "a fair choice of constants" }
slips = [{ code = "N02", value = "volume * rise * 1.163" }]
hints = ["Litres first.", "Heat = litres × rise × 1.163 Wh."]
working = "{volume} × {rise} × 1.163 Wh = {heat}."

[[part]]
name = "hours"
kind = "number"
ask = "How long does {power} take?"
answer = "heat / power"
unit = "hour"
within = { relative = 0.03, because = "a fair choice of constants" }
"""


@pytest.fixture(scope="module")
def exercise(tmp_path_factory):
    folder = tmp_path_factory.mktemp("bank")
    (folder / "half-a-store.toml").write_text(textwrap.dedent(EXERCISE), encoding="utf-8")
    return bank.load(folder)["half-a-store"]


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


def right_heat(box):
    return f"{box._task._values.right['heat']:.1f} kWh"


def enter(field):
    """Press Enter in a field, as the page tells it."""
    field._handle_custom_msg({"event": "submit"}, [])


class TestExercise:
    def test_has_the_learners_own_numbers_and_escapes_them(self, place, exercise):
        stories = set()
        for number in ("17", "18", "19", "20", "21"):
            place.switch(number)
            stories.add(ExerciseBox(exercise, place)._body.children[0].value)
        assert len(stories) > 1
        assert all("&lt;plainly&gt;" in story for story in stories)

    def test_every_change_is_kept_and_said(self, place, exercise):
        box = ExerciseBox(exercise, place)
        box.parts[0].field.value = "1"
        assert re.fullmatch(r'<p role="status".*>Saved \d\d:\d\d:\d\d</p>', box.parts[0].saved.value)
        assert [line["text"] for line in kept(place, "answered")] == ["1"]

    def test_a_right_answer_earns_its_marks_with_reasons_and_the_sum(self, place, exercise):
        box = ExerciseBox(exercise, place)
        box.parts[0].field.value = right_heat(box)
        box.parts[0].check.click()
        told = box.parts[0].told.value
        assert "<p>Right.</p><p>3 of 3 marks:</p>" in told
        assert "Unit, 1 of 1: The unit is right." in told
        assert f"× 1.163 Wh = {right_heat(box)}." in told
        assert box.parts[0].field.disabled
        assert box.again.layout.display is None
        assert "3 of 6 marks so far" in box.total.value

    def test_a_slip_is_named_and_the_sum_is_not_yet_shown(self, place, exercise):
        box = ExerciseBox(exercise, place)
        numbers = box._task._values.numbers
        box.parts[0].field.value = f"{numbers['volume'] * numbers['rise'] * 1.163:.0f} kWh"
        enter(box.parts[0].field.box)
        assert "This looks like: " in box.parts[0].told.value
        assert "The sum:" not in box.parts[0].told.value
        assert not box.parts[0].field.disabled

    def test_an_unreadable_answer_asks_again_and_costs_nothing(self, place, exercise):
        box = ExerciseBox(exercise, place)
        for typed in ("about six", "", "12-14 kWh"):
            box.parts[0].field.value = typed
            box.parts[0].check.click()
            assert "Give one number and its unit" in box.parts[0].told.value
        assert (box.parts[0].wrong, box.parts[0].is_settled) == (0, False)

    def test_after_two_wrong_ones_the_sum_and_new_numbers_come(self, place, exercise):
        box = ExerciseBox(exercise, place)
        for typed in ("1 kWh", "2 kWh"):
            box.parts[0].field.value = typed
            box.parts[0].check.click()
        assert "The sum: " in box.parts[0].told.value
        assert "try again" not in box.parts[0].told.value
        sets = [dict(box._task._values.numbers)]
        for _ in range(6):
            box.again.click()
            sets.append(dict(box._task._values.numbers))
        assert (box._task.attempt, box.parts[0].field.value) == (7, "")
        assert any(numbers != sets[0] for numbers in sets)
        assert "set 7" in box._body.children[0].value

    def test_hints_come_one_at_a_time_with_their_cost_said(self, place, exercise):
        part = ExerciseBox(exercise, place).parts[0]
        assert part.hint.description == "Hint 1 of 2: free"
        part.hint.click()
        assert "Hint 1. Litres first." in part.hints.value
        assert part.hint.description == "Hint 2 of 2: costs 25 % of the marks"
        part.hint.click()
        assert part.hint.layout.display == "none"
        assert [line["hint"] for line in kept(place, "hint taken")] == [1, 2]

    def test_what_a_hint_cost_shows_in_the_marks(self, place, exercise):
        box = ExerciseBox(exercise, place)
        box.parts[0].hint.click()
        box.parts[0].hint.click()
        box.parts[0].field.value = right_heat(box)
        box.parts[0].check.click()
        assert "2.25 of 3 marks" in box.parts[0].told.value
        assert "-0.75: Hint 2 costs 25 % of the marks" in box.parts[0].told.value

    def test_a_later_part_follows_the_learners_own_answer(self, place, exercise):
        box = ExerciseBox(exercise, place)
        own = 1.7 * box._task._values.right["heat"]
        box.parts[0].field.value = f"{own:.1f} kWh"
        box.parts[1].field.value = f"{own / 10:.2f} h"
        box.parts[1].check.click()
        assert "Right for your own earlier answer." in box.parts[1].told.value

    def test_everything_is_there_after_a_restart(self, place, exercise):
        box = ExerciseBox(exercise, place)
        box.parts[0].hint.click()
        box.parts[0].field.value = right_heat(box)
        box.parts[0].check.click()
        box.parts[1].field.value = "3 h"
        again = ExerciseBox(exercise, restarted(place))
        assert [part.field.value for part in again.parts] == [right_heat(box), "3 h"]
        assert again.parts[0].told.value == box.parts[0].told.value
        assert again.parts[0].hints.value == box.parts[0].hints.value
        assert again.parts[0].is_settled
        assert again.parts[1].told.value == ""
        assert again._body.children[0].value == box._body.children[0].value

    def test_answers_to_an_older_version_are_left_alone(self, place, exercise):
        ExerciseBox(exercise, place).parts[0].field.value = "3 kWh"
        newer = exercise.model_copy(update={"version": 2})
        assert ExerciseBox(newer, place).parts[0].field.value == ""

    def test_a_restart_writes_nothing(self, place, exercise):
        ExerciseBox(exercise, place).parts[0].field.value = "3"
        lines = len(place.events())
        again = restarted(place)
        ExerciseBox(exercise, again)
        assert len(again.events()) == lines

    def test_work_that_tells_nothing_has_no_check(self, place, exercise):
        box = ExerciseBox(exercise, place, tells=False)
        part = box.parts[0]
        part.field.value = "1 kWh"
        enter(part.field.box)
        assert part.check.layout.display == "none"
        assert part.told.value == ""
        assert "Saved" in part.saved.value

    def test_another_learner_sees_nothing_of_the_first(self, place, exercise):
        box = ExerciseBox(exercise, place)
        box.parts[0].field.value = "secret 15"
        place.switch("18")
        assert [part.field.value for part in box.parts] == ["", ""]
        assert "secret" not in str([child.get_state() for child in box._body.children])
        place.switch("17")
        assert box.parts[0].field.value == "secret 15"

    def test_a_switch_on_another_page_is_noticed_before_anything_is_kept(self, place, exercise):
        box = ExerciseBox(exercise, place)
        stale = box.parts[0]
        desk.switch_learner("18")
        stale.field.value = "15 kWh"
        assert "Learner 18 works here now" in stale.saved.value
        assert place.learner == "18"
        assert box.parts[0] is not stale
        assert kept(place, "answered") == []

    def test_what_still_waits_to_be_kept_never_reaches_the_next_learner(self, place, exercise):
        box, words = ExerciseBox(exercise, place), OwnWords("say-it", "", place)
        waiting = [box.parts[0]._pace, words._pace]
        for text in ("1", "15 kWh of the first"):  # the first is kept at once, the second waits
            box.parts[0].field.value = words.field.value = text
        place.switch("18")
        for pace in waiting:
            pace.left()
        assert {line["event"] for line in place.events()} == {"opened"}

    def test_a_disk_that_refuses_is_said(self, place, exercise, monkeypatch):
        part = ExerciseBox(exercise, place).parts[0]

        def refuse(*_, **__):
            raise OSError("no space left")

        monkeypatch.setattr(AnswerBook, "append", refuse)
        part.field.value = "15 kWh"
        assert "This is NOT saved (no space left). Write it on paper" in part.saved.value

    def test_a_second_window_is_told(self, place, exercise, monkeypatch):
        from tlib.assessment.answer_book import BookInUse

        def in_use(*_, **__):
            raise BookInUse("This work is open in another window.")

        monkeypatch.setattr(AnswerBook, "open", in_use)
        assert "open in another window" in ExerciseBox(exercise, place)._body.children[0].value
        monkeypatch.undo()


class TestLearner:
    def test_is_asked_once_and_then_named(self, tmp_path, monkeypatch):
        monkeypatch.setenv("TLIB_ANSWERS", str(tmp_path))
        place = Sitting()
        place.begin("book-04")
        box = LearnerBox(place)
        assert "Whose answers are these?" in box.says.value
        box.number.value = "017"
        enter(box.number)
        assert "These are the answers of learner 17." in box.says.value
        assert box._form.layout.display == "none"
        assert "These are the answers of learner 17." in LearnerBox(restarted(place)).says.value

    def test_a_number_that_is_none_is_explained(self, place):
        box = LearnerBox(place)
        box.other.click()
        box.number.value = "<b>me</b>"
        box.take.click()
        assert "A learner number has up to 20 letters" in box.says.value
        assert "<b>" not in box.says.value
        box.keep.click()
        assert "learner 17" in box.says.value


class TestOwnWords:
    def test_words_typed_before_the_number_was_given_are_kept_once_it_is(self, tmp_path, monkeypatch):
        monkeypatch.setenv("TLIB_ANSWERS", str(tmp_path))
        place = Sitting()
        place.begin("book-04")
        box = OwnWords("say-it", "Say it.", place)
        box.field.value = "Hot water rises."
        assert "Give your learner number" in box.saved.value
        place.switch("17")
        box._pace.left()
        assert box.field.value == "Hot water rises."
        assert "Saved" in box.saved.value
        assert OwnWords("say-it", "", restarted(place)).field.value == "Hot water rises."
        place.switch("18")
        assert box.field.value == ""

    def test_are_kept_and_restored_as_they_were(self, place):
        box = OwnWords("say-it", "Say it in your own words.", place)
        box.field.value = "A lit fire <cannot> be stopped."
        assert "Saved" in box.saved.value
        assert OwnWords("say-it", "", restarted(place)).field.value == "A lit fire <cannot> be stopped."

    def test_belong_to_one_learner(self, place):
        box = OwnWords("say-it", "Say it.", place)
        box.field.value = "mine"
        place.switch("18")
        assert (box.field.value, box.saved.value) == ("", "")
        assert kept(place, "said") == []


class TestHandIn:
    def test_makes_the_file_and_shows_receipt_and_place(self, place, exercise, tmp_path):
        box = ExerciseBox(exercise, place)
        box.parts[0].field.value = "15 kWh"
        hand_in = HandInBox(place)
        hand_in.press.click()
        (copy,) = (tmp_path / "hand-in").iterdir()
        assert f"Your receipt is {place.book().receipt}" in hand_in.says.value
        assert str(copy) in hand_in.says.value
        assert "with 1 answer." in hand_in.says.value
        handed = read(copy)
        assert not handed.damage
        assert handed.events[-1]["event"] == "handed in"

    def test_remembers_and_says_when_work_went_on(self, place):
        HandInBox(place).press.click()
        assert re.search(r"You handed in at \d\d:\d\d:\d\d\.</p>", HandInBox(restarted(place)).says.value)
        OwnWords("more", "", place).field.value = "one more thing"
        assert "hand in again when you are done" in HandInBox(place).says.value

    def test_a_disk_that_refuses_is_said(self, place, monkeypatch):
        def refuse(*_):
            raise OSError("no space left")

        monkeypatch.setattr(AnswerBook, "hand_in", refuse)
        box = HandInBox(place)
        box.press.click()
        assert "This is NOT handed in (no space left)." in box.says.value


def test_one_faulty_file_takes_no_box_from_the_learner(tmp_path, monkeypatch):
    (tmp_path / "sound.toml").write_text(EXERCISE, encoding="utf-8")
    (tmp_path / "faulty.toml").write_text("format = 1\nid = 'faulty'\n", encoding="utf-8")
    shipped = tables.shipped("exercises")
    for name in ("slips.toml", "outcomes.toml"):
        (tmp_path / name).write_bytes((shipped / name).read_bytes())
    monkeypatch.setenv("TLIB_ANSWERS", str(tmp_path / "answers"))
    monkeypatch.setattr(answers, "shipped", lambda _: tmp_path)
    answers._bank.cache_clear()
    try:
        assert "has not been run" in answers.answer("half-a-store").children[1].children[0].value
        with pytest.raises(KeyError, match="faulty"):
            answers.answer("faulty")
    finally:
        answers._bank.cache_clear()


def test_nothing_can_be_kept_before_the_page_has_begun(tmp_path, monkeypatch):
    monkeypatch.setenv("TLIB_ANSWERS", str(tmp_path))
    with pytest.raises(CannotSave, match="has not been run from its first line"):
        Sitting().record("said", said="x", text="y")


def test_costs_and_marks_in_words():
    assert hint_offer(3, 3, (0.0, 0.25, 0.5)) == "Hint 3 of 3: costs 50 % of the marks that are left"
    assert (marks_said(1, 1), marks_said(0.5, 3)) == ("1 of 1 mark", "0.5 of 3 marks")
