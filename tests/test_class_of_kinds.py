"""A class that does work with a part of every kind, each learner with a known way of answering, marked in one run.

Each learner reads only what was handed out. What each ought to earn is counted here by hand: 3 for the sum, 1 for the
option, 4 for the steps (one for each pair of neighbours), 2 for the log, 1 for the spot, 3 that only a person can give;
then 1 for safety and 2 for the options that are right together.
"""

import csv
import html
import re
import shutil
from unittest import mock

import pytest

from tlib.assessment import kept_work, setting
from tlib.assessment.marked import GATE_SAYS
from tlib.assessment.parts import trace
from tlib.assessment.set_marking import mark_set_work
from tlib.panels.hand_in import HandInBox
from tlib.panels.set_work import SetBox
from tlib.panels.sitting import Sitting
from tlib.papers.mark_sheet import write_papers

from . import automated_class as school
from . import kinds_files as kinds

WORK = f"""\
format = 1
id = "kinds-work"
title = "Every kind"
class = "class.csv"
bank = "our-exercises"
exercises = ["{kinds.ALL}", "{kinds.SAFE}"]
tries = 2
key = "a-key-for-the-class-of-kinds"
"""
STEPS = ("Isolate", "Let its", "Read", "Pump", "Open")
TESTS = {"charge pump dead": "Feel whether", "wet wood": "Measure"}
HOSTILE = "=cmd|'/C calc'!A0 <script>alert(\"x\")</script> {{ 7 * 7 }}"
MACHINE, SAFETY = 11, 3  # marks that a machine gives for the first exercise, and for the second


# --- what a learner writes, from what they see


def letter(asked, says):
    return "ABCDEFGH"[next(place for place, thing in enumerate(asked.things) if thing.lower().startswith(says.lower()))]


def order(asked, steps):
    return ", ".join(letter(asked, step) for step in steps)


def log(asked, fault=None, test=None):
    """Return fault and test by their marks; those not given are right for what the log shows."""
    fault = fault or kinds.fault_in(asked.picture)
    where = [says.startswith(test or TESTS[fault]) for says in asked.tests].index(True) + 1
    return f"{letter(asked, fault)}, {where}"


def other_fault(asked):
    return next(fault for fault in kinds.FAULTS if fault != kinds.fault_in(asked.picture))


def spots(asked, *says):
    return ", ".join(str(place) for place, thing in enumerate(asked.things, start=1) if thing in (says or kinds.SPOTS))


def sum_(numbers, factor=1.0):
    return f"{factor * numbers['volume'] * numbers['rise'] * 1.163 / 1000:.4g} kWh"


RIGHT = {
    "heat": lambda asked, n: sum_(n),
    "why": lambda asked, n: letter(asked, "Check"),
    "recharge": lambda asked, n: order(asked, STEPS),
    "log": lambda asked, n: log(asked),
    "spot": lambda asked, n: spots(asked),
    "letter": lambda asked, n: "Because water grows when it warms.\nIt has 300 litres.",
    "act": lambda asked, n: letter(asked, "Find"),
    "which": lambda asked, n: order(asked, ("The relief", "The heat-leak")),
}


def none(asked, n):
    return None


PLANS = {
    "1": {},
    "2": {"why": lambda asked, n: letter(asked, "Fit")},
    "3": {"recharge": lambda asked, n: order(asked, ("Isolate", "Read", "Let its", "Pump", "Open"))},
    "4": dict.fromkeys(RIGHT, none),
    "5": {"why": none},  # and a book made by hand says "Z"
    "6": {"log": lambda asked, n: log(asked, test="Change")},
    "7": {"log": lambda asked, n: log(asked, fault=other_fault(asked))},
    "8": {"spot": lambda asked, n: spots(asked, "tap")},
    "9": {"spot": lambda asked, n: ", ".join(str(place) for place in range(1, len(asked.things) + 1))},
    "10": {"letter": lambda asked, n: HOSTILE},
    "11": {"act": lambda asked, n: letter(asked, "Bridge")},
    "12": {"act": lambda asked, n: letter(asked, "Press")},  # and then a second try, safe but poorer
    "13": {"heat": lambda asked, n: sum_(n, 1000)},
    "14": {"which": lambda asked, n: order(asked, ("The relief", "The zone"))},
}
SECOND_TRY = {"12": {"which": lambda asked, n: letter(asked, "The charge")}}
LOST = {
    "1": 0, "2": 1,
    "3": 3,  # of A C B D E only D, E follow each other rightly
    "4": MACHINE + SAFETY, "5": 1, "6": 1, "7": 1, "8": 1, "9": 1, "10": 0, "11": 1,
    "12": 2.2,  # 0.8 for safety at the second try, nothing for the options, in place of 2 at the first
    "13": 1, "14": 2,
}  # fmt: skip
SLIPS = {"2": "Q21", "3": "Q20", "6": "Q25", "9": "Q22", "11": "Q26", "13": "N02"}
GATES = {"4": "open", "11": "failed"}
NOT_ANSWERED = {"4": 8, "5": 1}


def sit(work, number, laptop):
    """Let one learner answer, hand in, and return the folder of the hand-in file."""
    papers = work.folder / "hand-out" / work.book
    with school._laptop(laptop):
        place = Sitting()
        place.begin(work.book)
        place.switch(number)
        boxes = [SetBox(papers, name, place) for name in (kinds.ALL, kinds.SAFE)]
        for box in boxes:
            _answer(box, PLANS[number])
        if number == "5":
            place.record("answered", exercise=kinds.ALL, part="why", text="Z", unit="", attempt=1, version=2)
        if number in SECOND_TRY:
            boxes[1].again.click()
            _answer(boxes[1], SECOND_TRY[number])
        HandInBox(place).press.click()
        place.close()
    return laptop / "hand-in"


def _answer(box, plan):
    for part in box.parts:
        text = plan.get(part.question.name, RIGHT[part.question.name])(part.question, box._task._set.numbers)
        if text is not None:
            part.field.value = text


@pytest.fixture(scope="module")
def came(tmp_path_factory):
    """Set the work, let the class sit it, and mark it."""
    folder = tmp_path_factory.mktemp("class")
    kinds.write_bank(folder / "tutor" / "our-exercises")
    rows = [f"{number},Learner No. {number}" for number in PLANS]
    (folder / "tutor" / "class.csv").write_text("\n".join(["number,name", *rows]), encoding="utf-8")
    (folder / "tutor" / "work.toml").write_text(WORK, encoding="utf-8")
    with mock.patch.object(trace, "logged", kinds.told_log):
        work = setting.set_work(folder / "tutor" / "work.toml")
    with mock.patch.object(trace, "logged", side_effect=AssertionError("nothing is simulated again")):
        for number in PLANS:
            for file in sit(work, number, folder / number).iterdir():
                shutil.copy(file, work.folder / "hand-ins" / file.name)
        run = mark_set_work(work.folder / "hand-ins", kept_work.load(kept_work.find(work.folder / "hand-ins")))
        write_papers(run, folder / "marked")
    return run, folder / "marked"


def rows(came, name):
    with (came[1] / name).open(encoding="utf-8-sig", newline="") as file:
        return list(csv.DictReader(file))


@pytest.fixture(scope="module")
def sheet(came):
    return {row["learner"]: row for row in rows(came, "mark-sheet.csv")}


def page(came, number, as_read=True):
    text = (came[1] / "feedback" / f"kinds-work--learner-{number}.html").read_text(encoding="utf-8")
    if not as_read:
        return text
    words = re.sub(r"<[^>]*>", "", re.sub(r"<style.*?</style>", "", text, flags=re.DOTALL))
    return " ".join(html.unescape(words).replace("\u00a0", " ").split())


def test_nobody_is_lost(came, sheet):
    assert list(sheet) == list(PLANS)
    assert (came[0].aside, came[0].missing) == ((), ())


@pytest.mark.parametrize("number", PLANS)
def test_every_total_is_the_one_counted_by_hand(sheet, number):
    row = sheet[number]
    total = MACHINE + SAFETY - LOST[number]
    assert (float(row["marks"]), row["out of"]) == (pytest.approx(total, abs=1e-9), str(MACHINE + 3 + SAFETY))
    assert float(row[kinds.ALL]) + float(row[kinds.SAFE]) == pytest.approx(total, abs=1e-9)
    assert row["for the tutor"] == ("" if number == "4" else "3")
    assert row["not answered"] == str(NOT_ANSWERED.get(number, 0))


@pytest.mark.parametrize("number", PLANS)
def test_the_slips_named_are_those_made(came, sheet, number):
    assert re.findall(r"\b[NQT]\d\d\b", sheet[number]["looks like"]) == ([SLIPS[number]] if number in SLIPS else [])
    assert ("looks like" in page(came, number)) == (number in SLIPS)


@pytest.mark.parametrize("number", PLANS)
def test_how_safety_stands_is_said_to_tutor_and_learner(came, sheet, number):
    gate = GATES.get(number, "passed")
    assert sheet[number]["safety"] == gate
    assert GATE_SAYS[gate].partition(". ")[0] in page(came, number)


def test_high_marks_do_not_make_up_for_safety(came, sheet):
    assert float(sheet["11"]["marks"]) == 13
    assert page(came, "11").index("Talk this over with your tutor") < page(came, "11").index("Exercise 1")


def test_of_two_tries_the_safer_counts_although_it_earns_less(came, sheet):
    assert sheet["12"][kinds.SAFE] == "0.8"
    (answer,) = [row for row in rows(came, "answers.csv") if (row["learner"], row["part"]) == ("12", "act")]
    assert (answer["set"], answer["marks"]) == ("2", "0.8")


def test_a_letter_that_is_not_there_is_asked_for_again(came):
    assert "There is no option 'Z' here. The options are A to C." in page(came, "5")
    (answer,) = [row for row in rows(came, "answers.csv") if (row["learner"], row["part"]) == ("5", "why")]
    assert (answer["typed"], answer["marks"]) == ("Z", "0")


def test_a_test_of_the_fault_that_was_named_earns_its_mark(came):
    (answer,) = [row for row in rows(came, "answers.csv") if (row["learner"], row["part"]) == ("7", "log")]
    assert answer["marks"] == "1"
    assert "This test decides the fault that you named" in answer["reasons"]


def test_everything_written_waits_for_the_tutor_with_its_rubric(came):
    waiting = rows(came, "to-mark.csv")
    assert [row["learner"] for row in waiting] == [number for number in PLANS if number != "4"]
    for row in waiting:
        assert (row["part"], row["out of"], row["asked"]) == ("letter", "3", "Tell the owner why.")
        assert re.fullmatch(r"1 for a claim that fits; 2 for a number, such as \d+ litres", row["earns"])
        assert (row["marks"], row["reason"], row["initials"]) == ("", "", "")
    texts = {row["learner"]: row["answer"] for row in waiting}
    assert texts["1"] == "Because water grows when it warms.\nIt has 300 litres."
    assert texts["10"] == f"'{HOSTILE}"  # no spreadsheet program may take it for a formula


def test_what_was_written_is_printed_as_text(came):
    text = page(came, "10", as_read=False)
    assert "<script" not in text
    assert "{{ 7 * 7 }}" in text
    assert HOSTILE in page(came, "10")


@pytest.mark.parametrize("number", PLANS)
def test_pages_tell_options_in_words_and_not_by_letters_alone(came, number):
    text = page(came, number)
    assert "&lt;Ottoline&gt;" in page(came, number, as_read=False)
    for part in re.split(r"\([a-h]\) ", text)[1:]:
        for said in re.findall(r"(?:You chose|The answer): (.*?)\. ", part):
            assert said in ("nothing yet", "Z") or re.match(r"[\d.]+ kWh|[A-Z]: \w{3}|\d+: \w{3}", said)


def test_pages_tell_the_right_order_and_what_was_chosen(came):
    text = page(came, "3")
    assert re.search(r"You chose: [A-E]: Isolate the vessel → [A-E]: Read the charge → [A-E]: Let its water", text)
    assert re.search(r"The answer: [A-E]: Isolate the vessel → [A-E]: Let its water down to nought → ", text)
    assert re.search(r"You chose: \d+: tap\. The answer: \d+: valve in the pipe ", page(came, "8"))


def test_slips_are_counted_for_the_class(came):
    counted = {row["part"]: row for row in rows(came, "slips.csv")}
    assert counted["why"]["which"].startswith("Q21 (1): ")
    assert counted["letter"]["for the tutor"] == "13"
    assert (counted["why"]["answered"], counted["why"]["right"]) == ("12", "11")
