"""Set work on the learner's page: answers kept, nothing told before its time, and what marking makes of it."""

import pytest

from tlib.assessment import bank, desk, setting
from tlib.assessment.set_marking import mark_set_work
from tlib.panels.hand_in import HandInBox
from tlib.panels.set_work import SetBox
from tlib.panels.sitting import Sitting

from . import automated_class as school
from .set_work_files import WORK, write


@pytest.fixture
def seat(tmp_path, monkeypatch):
    """Return a function that lets learner 17 sit a piece of work, and the box of its exercise."""
    monkeypatch.setenv("TLIB_ANSWERS", str(tmp_path / "laptop"))
    open_places = []

    def sit(work, learner="17"):
        for place in open_places:
            place.close()
        place = Sitting()
        place.begin(work.book)
        place.switch(learner)
        open_places.append(place)
        return place, SetBox(work.folder / "hand-out" / work.book, next(iter(work.exercises)), place)

    yield sit
    for place in open_places:
        place.close()


def test_the_page_keeps_answers_and_tells_nothing(tmp_path, seat):
    _, box = seat(setting.set_work(write(tmp_path)))
    box.parts[0].field.value = "1 kWh"
    box.parts[0].mark()
    assert box.parts[0].check.layout.display == "none"
    assert "Saved" in box.parts[0].saved.value
    assert (box.parts[0].told.value, box.says.value, box.again.layout.display) == ("", "", "none")
    _, again = seat(setting.set_work(tmp_path / "work.toml"))
    assert again.parts[0].field.value == "1 kWh"


def test_a_learner_without_a_paper_is_told_so(tmp_path, seat):
    _, box = seat(setting.set_work(write(tmp_path)), "99")
    assert "There is no paper here for learner 99. Ask your tutor for your number." in box.says.value
    assert box.parts == ()


def test_work_that_tells_at_once_marks_on_the_page(tmp_path, seat):
    work = setting.set_work(write(tmp_path, WORK + 'tells = "at once"\n'))
    _, box = seat(work)
    right = school.headroom(box._task._set.numbers)
    box.parts[0].field.value = f"{right:.4g} kWh"
    box.parts[0].mark()
    assert "3 of 3 marks" in box.parts[0].told.value
    assert "3 of 10 marks so far" in box.says.value


def test_a_second_set_has_other_numbers_and_counts_its_share(tmp_path, seat):
    work = setting.set_work(write(tmp_path, WORK + "tries = 2\n"))
    place, box = seat(work)
    first = dict(box._task._set.numbers)
    assert box.again.description == "Begin set 2: it counts 80 %"
    box.again.click()
    numbers = box._task._set.numbers
    assert dict(numbers) != first
    assert box.again.layout.display == "none"
    box.parts[0].field.value = f"{school.headroom(numbers):.4g} kWh"
    HandInBox(place).press.click()
    run = mark_set_work(desk.folder() / "hand-in", work)
    (script,) = run.scripts
    assert (script.earned, script.available) == (2.4, 10)  # 80 % of three marks, and two parts left empty
    assert [learner.number for learner in run.missing] == ["18"]


def test_set_work_marked_as_practice_is_set_aside_not_marked_by_a_wrong_key(tmp_path, seat):
    from tlib.assessment.marking_run import mark_folder

    place, box = seat(setting.set_work(write(tmp_path)))
    box.parts[0].field.value = "1 kWh"
    HandInBox(place).press.click()
    run = mark_folder(desk.folder() / "hand-in", bank.load())
    assert run.scripts == ()
    assert "This is set work." in run.aside[0].reason


def test_practice_handed_in_for_set_work_is_set_aside(tmp_path):
    from tlib.assessment.answer_book import AnswerBook

    work = setting.set_work(write(tmp_path))
    book = AnswerBook.open(tmp_path / "own", "17", "book-04")
    book.append("answered", exercise="logs-tonight-1", part="headroom", text="1 kWh", unit="", attempt=1, version=1)
    book.hand_in(work.folder / "hand-ins")
    book.close()
    (aside,) = mark_set_work(work.folder / "hand-ins", work).aside
    assert aside.reason == "This is other work: book-04, not autumn-1."


def test_extra_days_move_the_last_day_for_one_learner(tmp_path):
    work = setting.set_work(
        write(tmp_path, WORK + "closes = 2027-01-25\n", "number,name,extra days\n17,Noor,3\n18,Gwil,\n")
    )
    late = school.Plan(at="2027-01-27T12:00:00.000+00:00", skip=school.FIRST)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(school, "MARKS", {school.SECOND: {}})
        for number in ("17", "18"):
            place = school.sit(work, number, late, tmp_path / number)
            for file in place.iterdir():
                file.rename(work.folder / "hand-ins" / file.name)
    notes = {script.learner: script.notes for script in mark_set_work(work.folder / "hand-ins", work).scripts}
    assert notes["17"] == ()
    assert "Handed in late" in notes["18"][0]
