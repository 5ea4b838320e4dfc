"""A class of 24, each learner with a known way of answering: each slip named, right answers paid, no file lost."""

import csv
import html
import re
import shutil

import pytest

from tlib.assessment import kept_work, setting
from tlib.assessment.set_marking import mark_set_work
from tlib.papers.mark_sheet import write_papers

from . import automated_class as school

GONE = {"21": "is not as it was written", "22": "is not an answer book"}
MARKED = [number for number in school.PLANS if number not in GONE]
PLANTED = {number: plan.slip[2] for number, plan in school.PLANS.items() if plan.slip and plan.slip[2]}


@pytest.fixture(scope="module")
def came(tmp_path_factory):
    """Set the work, let the class sit it, add what else lands in such a folder, and mark it."""
    folder = tmp_path_factory.mktemp("class")
    work = setting.set_work(school.write_work(folder / "tutor"))
    collected = school.hand_in_all(work, folder / "laptops")
    # The same work set for another class, whose learner 7 sends a file here by mistake.
    again = setting.set_work(school.write_work(folder / "other tutor"))
    strays = [school.sit(again, "7", school.PLANS["1"], folder / "laptops" / "other 7")]
    # A learner who is on no list, with a paper that was passed on.
    papers = work.folder / "hand-out" / work.book
    (papers / "learner-99.json").write_bytes((papers / "learner-7.json").read_bytes())
    strays.append(_stranger(work, folder / "laptops" / "99"))
    for place in strays:
        for file in place.iterdir():
            shutil.copy(file, collected / file.name)
    (collected / "empty.jsonl").write_bytes(b"")
    (collected / "deep.jsonl").write_text('{"a":' + "[" * 90_000, encoding="utf-8")
    run = mark_set_work(collected, kept_work.load(kept_work.find(collected)))
    write_papers(run, folder / "marked")
    return run, folder / "marked", work


def _stranger(work, laptop):
    from tlib.assessment.answer_book import AnswerBook

    book = AnswerBook.open(laptop / "book", "99", work.book)
    book.append("answered", exercise=school.FIRST, part="heat", text="1 kWh", unit="", attempt=1, version=3)
    book.hand_in(laptop / "hand-in")
    book.close()
    return laptop / "hand-in"


def rows(folder, name):
    with (folder / name).open(encoding="utf-8-sig", newline="") as file:
        return list(csv.DictReader(file))


@pytest.fixture(scope="module")
def sheet(came):
    return {row["learner"]: row for row in rows(came[1], "mark-sheet.csv")}


@pytest.mark.parametrize("number", MARKED)
def test_every_total_is_the_one_worked_out_by_hand(sheet, number):
    row = sheet[number]
    assert (float(row["marks"]), row["out of"]) == (school.FULL - school.PLANS[number].lost, str(school.FULL))


@pytest.mark.parametrize(("number", "code"), PLANTED.items())
def test_every_planted_slip_is_named_on_the_sheet_and_on_the_page(came, sheet, number, code):
    run, folder, _ = came
    assert code in re.findall(r"\b[NQT]\d\d\b", sheet[number]["looks like"])
    exercise, part = school.PLANS[number].slip[:2]
    (answer,) = [row for row in rows(folder, "answers.csv")
                 if (row["learner"], row["exercise"], row["part"]) == (number, exercise, part)]  # fmt: skip
    assert code in answer["looks like"]
    script = next(script for script in run.scripts if script.learner == number)
    slip = script.exercises[0].exercise.catalogue.get(code) or script.exercises[1].exercise.catalogue[code]
    page = html.unescape((folder / "feedback" / f"autumn-1--learner-{number}.html").read_text(encoding="utf-8"))
    assert slip.feedback in page.replace("\u00a0", " ")


@pytest.mark.parametrize("number", [number for number in MARKED if number not in PLANTED and number != "17"])
def test_nobody_is_told_of_a_slip_that_was_not_made(sheet, number):
    assert sheet[number]["looks like"] == ""


def test_two_slips_that_give_one_number_are_both_asked_about(came, sheet):
    assert {"N01", "N06"} <= set(re.findall(r"N\d\d", sheet["5"]["looks like"]))
    page = (came[1] / "feedback" / "autumn-1--learner-5.html").read_text(encoding="utf-8")
    assert "Two slips give this number. Which is it" in page


def test_a_slip_is_paid_for_once_and_what_follows_is_marked_on_the_own_number(came):
    for row in rows(came[1], "answers.csv"):
        if row["learner"] in "56789" and row["exercise"] == school.SECOND and row["part"] != "headroom":
            assert row["marks"] == row["out of"], row


def test_the_slips_of_the_class_are_counted_where_they_were_made(came):
    counted = {(row["exercise"], row["part"]): row for row in rows(came[1], "slips.csv")}
    for number, code in PLANTED.items():
        said = counted[school.PLANS[number].slip[:2]]["which"]
        same = [n for n, other in PLANTED.items() if school.PLANS[n].slip[:2] == school.PLANS[number].slip[:2]]
        (times,) = re.findall(rf"\b{code} \((\d+)\): ", said)
        assert int(times) >= sum(PLANTED[n] == code for n in same)  # more where two slips give one number
    most = [int(row["slips"]) for row in rows(came[1], "slips.csv")]
    assert most == sorted(most, reverse=True)
    headroom = counted[school.SECOND, "headroom"]
    assert (headroom["learners"], headroom["answered"]) == (str(len(MARKED)), str(len(MARKED) - 2))  # 18 and 24 did not


def test_everybody_of_the_class_has_one_row_with_their_name(sheet):
    assert sorted(sheet, key=int) == list(school.PLANS)
    assert sheet["7"]["name"] == "Gwil; of the hall"
    assert sheet["12"]["name"] == "'=cmd|'/C calc'!A0"  # no spreadsheet program may take it for a formula


def test_late_unreadable_hinted_and_repeated_are_said(came, sheet):
    assert re.search(r"Handed in late: on 2027-01-2[67] .* The last day was 2027-01-25\.", sheet["20"]["notes"])
    assert [number for number in MARKED if "late" in sheet[number]["notes"]] == ["20"]
    assert (sheet["18"]["not answered"], sheet["24"]["not answered"], sheet["1"]["not answered"]) == ("1", "3", "0")
    hint = next(row for row in rows(came[1], "answers.csv") if row["learner"] == "19" and row["part"] == "kilos")
    assert "hint-1: Hint 2 costs 25 %" in hint["reasons"]
    earlier = [row for row in rows(came[1], "set-aside.csv") if "learner-23" in row["file"]]
    assert len(earlier) == 2
    assert all(f"earlier or second copy; {sheet['23']['file']} is marked" in row["reason"] for row in earlier)


@pytest.mark.parametrize("number", GONE)
def test_a_learner_whose_file_came_to_harm_gets_no_marks_and_no_nought(sheet, number):
    assert (sheet[number]["marks"], sheet[number]["receipt"]) == ("", "")
    assert ("Set aside" if number == "21" else "Nothing was handed in") in sheet[number]["notes"]


def test_no_file_is_lost_and_each_has_its_reason(came, sheet):
    run, folder, work = came
    files = {path.name for path in (work.folder / "hand-ins").iterdir()}
    aside = {row["file"]: row["reason"] for row in rows(folder, "set-aside.csv")}
    assert files == {script.path.name for script in run.scripts} | aside.keys()
    reasons = "\n".join(aside.values())
    assert len(aside) == 8
    for says in ("is not as it was written. Line", "as it was set for another class or at another time",
                 "Learner 99 is not on the class list.", *GONE.values()):  # fmt: skip
        assert says in reasons
    assert aside["my work.jpg"] == "my work.jpg is not an answer book."


def test_every_learner_has_numbers_of_their_own(came):
    _, _, work = came
    papers = [path.read_text(encoding="utf-8") for path in (work.folder / "hand-out" / work.book).glob("*.txt")]
    assert len({paper.partition("Exercise 1")[2] for paper in papers}) == len(school.PLANS)


def test_receipts_fit_the_files(came, sheet):
    assert all(sheet[number]["receipt"] in sheet[number]["file"] for number in MARKED)
