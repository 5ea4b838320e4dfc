"""Marking a folder of hand-ins, and what is printed from it: nothing stops the run, nothing is lost, nothing runs."""

import csv
import html.parser
import io
import json
import os

import pytest

from tlib.assessment import Answer, AnswerBook, attempt_key, bank, draw
from tlib.assessment.book_lines import chained
from tlib.assessment.marking import ASSIGNMENT
from tlib.assessment.marking_run import mark_folder
from tlib.papers.feedback import feedback_page, next_steps
from tlib.papers.mark_sheet import mark_sheet, set_aside_sheet, write_papers

BANK = bank.load()
WORK, NAME = "workbook-04", "logs-tonight-1"
UNITS = {name: part.unit.name for name, part in BANK[NAME].parts.items()}


def hand_in(tmp_path, learner, answers, version=1, attempt=1, work=WORK, also=()):
    book = AnswerBook.open(tmp_path / f"own-{learner}", learner, work, {NAME: version})
    for part, text in answers.items():
        book.append("answered", exercise=NAME, part=part, text=text, unit=UNITS.get(part, ""), attempt=attempt)
    for event, fields in also:
        book.append(event, **fields)
    copy = book.hand_in(tmp_path / "in")
    book.close()
    return copy


def right_for(learner, attempt=1, key=WORK):
    right = draw(BANK[NAME], learner, attempt_key(key, attempt)).right
    return {part: f"{value:.4g}" for part, value in right.items()}


def test_a_class_is_marked_by_its_own_values(tmp_path):
    for learner in range(1, 9):
        hand_in(tmp_path, learner, right_for(learner))
    run = mark_folder(tmp_path / "in", BANK)
    assert [script.learner for script in run.scripts] == [str(learner) for learner in range(1, 9)]
    assert {(script.earned, script.available) for script in run.scripts} == {(10, 10)}
    assert run.aside == ()
    assert all(script.receipt in script.path.name for script in run.scripts)


def test_another_learners_right_answers_are_not_right(tmp_path):
    hand_in(tmp_path, 2, right_for(1))
    assert mark_folder(tmp_path / "in", BANK).scripts[0].earned < 10


def test_the_tutors_key_decides_the_values(tmp_path):
    hand_in(tmp_path, 1, right_for(1, key="kept-by-the-tutor"))
    assert mark_folder(tmp_path / "in", BANK, key="kept-by-the-tutor").scripts[0].earned == 10
    assert mark_folder(tmp_path / "in", BANK).scripts[0].earned < 10


def test_the_best_try_counts_and_a_later_try_its_share(tmp_path):
    book = AnswerBook.open(tmp_path / "own", 5, WORK, {NAME: 1})
    for attempt, answers in ((1, {"headroom": "1"}), (2, right_for(5, 2)), (3, {"headroom": "2"})):
        for part, text in answers.items():
            book.append("answered", exercise=NAME, part=part, text=text, unit=UNITS[part], attempt=attempt)
    book.hand_in(tmp_path / "in")
    book.close()
    (practice,) = mark_folder(tmp_path / "in", BANK).scripts
    assert (practice.earned, practice.exercises[0].attempt) == (10, 2)
    (counted,) = mark_folder(tmp_path / "in", BANK, terms=ASSIGNMENT).scripts
    assert counted.earned == pytest.approx(8)


def _forged(path, change):
    path.write_bytes(change(path.read_bytes()))


def _sealed(records):
    """Return the lines of a book whose chain is whole, whatever it holds: a forger can do that."""
    before, lines = "0" * 64, []
    for record in records:
        line, before = chained(record, before)
        lines.append(line)
    return ("\n".join(lines) + "\n").encode()


HEADER = {
    "n": 0,
    "event": "answer book",
    "format": 1,
    "tool": "x",
    "work": WORK,
    "learner": "6",
    "exercises": {NAME: 1},
}


def test_bad_files_are_set_aside_with_the_reason_and_never_stop_the_rest(tmp_path):
    place = tmp_path / "in"
    hand_in(tmp_path, 1, right_for(1))
    damaged = hand_in(tmp_path, 2, right_for(2))
    _forged(damaged, lambda data: data.replace(b'"text":"', b'"text":"9', 1))
    hand_in(tmp_path, 3, right_for(3), version=2)
    (place / "photo.jpg").write_bytes(b"\xff\xd8\xff" * 50)
    (place / "empty.jsonl").write_bytes(b"")
    (place / "unknown.jsonl").write_bytes(_sealed([{**HEADER, "learner": "61", "exercises": {"not-here-1": 1}}]))
    (place / "nothing.jsonl").write_bytes(_sealed([{**HEADER, "learner": "62", "exercises": {}}]))
    (place / "path.jsonl").write_bytes(_sealed([{**HEADER, "work": "../../etc"}]))
    (place / "nobody.jsonl").write_bytes(_sealed([{**HEADER, "learner": "../17"}]))
    (place / "types.jsonl").write_bytes(_sealed([{**HEADER, "exercises": {NAME: [1]}}]))
    (place / "deep.jsonl").write_text('{"a":' + "[" * 90_000, encoding="utf-8")
    run = mark_folder(place, BANK)
    assert [(script.learner, script.earned) for script in run.scripts] == [("1", 10)]
    reasons = {one.path.name: one.reason for one in run.aside}
    assert len(reasons) == 10
    assert "is not as it was written. Line 2 does not follow" in reasons[damaged.name]
    assert any("made with version 2 of logs-tonight-1; here it is 1" in reason for reason in reasons.values())
    for name, says in {
        "photo.jpg": "not an answer book", "empty.jsonl": "not an answer book", "unknown.jsonl": "not among these",
        "nothing.jsonl": "holds no answers yet", "path.jsonl": "not an answer book", "nobody.jsonl": "A learner number",
        "types.jsonl": "made with version [1]", "deep.jsonl": "not an answer book",
    }.items():  # fmt: skip
        assert says in reasons[name], name


def test_an_earlier_copy_gives_way_to_the_later_one(tmp_path):
    early = hand_in(tmp_path, 7, {"headroom": "1"})
    late = hand_in(tmp_path, 7, right_for(7))
    run = mark_folder(tmp_path / "in", BANK)
    assert [script.path for script in run.scripts] == [late]
    assert [(one.path, late.name in one.reason) for one in run.aside] == [(early, True)]


def test_two_books_that_claim_one_learner_are_both_set_aside(tmp_path):
    hand_in(tmp_path / "a", 7, right_for(7))
    hand_in(tmp_path / "b", 7, {"headroom": "1"})
    run = mark_folder(tmp_path, BANK)
    aside = [one for one in run.aside if one.path.parent.name == "in"]
    assert not [script for script in run.scripts if script.path.parent.name == "in"]
    assert len(aside) == 2
    assert all("Two different books claim learner 7" in one.reason for one in aside)


def test_one_file_or_none_can_be_marked(tmp_path):
    copy = hand_in(tmp_path, 7, right_for(7))
    assert len(mark_folder(copy, BANK).scripts) == 1
    assert "no such file" in mark_folder(tmp_path / "missing.jsonl", BANK).aside[0].reason


@pytest.mark.skipif(not hasattr(os, "symlink"), reason="no links here")
def test_a_link_is_not_followed(tmp_path):
    copy = hand_in(tmp_path, 7, right_for(7))
    try:
        (tmp_path / "in" / "link.jsonl").symlink_to(copy)
    except OSError:
        pytest.skip("this user may not make links")
    assert [one.reason for one in mark_folder(tmp_path / "in", BANK).aside] == [
        "This is a link to another file, not a hand-in."
    ]


def test_a_line_cut_short_is_noted_and_the_rest_marked(tmp_path):
    copy = hand_in(tmp_path, 7, right_for(7))
    with copy.open("ab") as file:
        file.write(b'{"n":9,"ev')
    (script,) = mark_folder(tmp_path / "in", BANK).scripts
    assert script.earned == 10
    assert any("cut short" in note for note in script.notes)


def test_a_fault_inside_marking_is_told_and_the_others_are_marked(tmp_path, monkeypatch):
    hand_in(tmp_path, 1, right_for(1)), hand_in(tmp_path, 2, right_for(2))
    from tlib.assessment import marking_run

    true = marking_run.mark
    monkeypatch.setattr(
        marking_run,
        "mark",
        lambda exercise, values, *rest: true(exercise, values, *rest) if values.learner == "1" else 1 / 0,
    )
    run = mark_folder(tmp_path / "in", BANK)
    assert [script.learner for script in run.scripts] == ["1"]
    assert "could not be marked: ZeroDivisionError" in run.aside[0].reason


def test_progress_is_told(tmp_path):
    for learner in (1, 2, 3):
        hand_in(tmp_path, learner, right_for(learner))
    told = []
    mark_folder(tmp_path / "in", BANK, told=lambda done, of: told.append((done, of)))
    assert told == [(1, 3), (2, 3), (3, 3)]


# Papers.


def read_csv(data):
    assert data.startswith(b"\xef\xbb\xbf")
    return list(csv.DictReader(io.StringIO(data.decode("utf-8-sig"), newline="")))


def test_the_mark_sheet_has_a_row_for_each_learner(tmp_path):
    hand_in(tmp_path, 1, right_for(1))
    hand_in(tmp_path, 2, {**right_for(2), "headroom": "12–14"})
    rows = read_csv(mark_sheet(mark_folder(tmp_path / "in", BANK)))
    assert [(row["learner"], row["marks"], row["out of"], row["not answered"]) for row in rows] == [
        ("1", "10", "10", "0"),
        ("2", "7", "10", "1"),
    ]
    assert rows[0][NAME] == "10"


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t=", "\r", " =", "\u00a0=", "＝", "|"])
def test_no_cell_of_the_sheet_can_start_a_formula(tmp_path, start):
    from tlib.assessment.marking_run import MarkingRun, SetAside

    text = f"{start}cmd|' /C calc'!A0"
    run = MarkingRun((), (SetAside(tmp_path / "a.jsonl", text),))
    (row,) = read_csv(set_aside_sheet(run))
    assert row["reason"] == f"'{text}"
    data = set_aside_sheet(run).decode("utf-8-sig")
    assert all(cell.startswith('"') for line in data.split("\r\n")[:1] for cell in line.split(","))


class Page(html.parser.HTMLParser):
    """Reads a page and keeps its tags, its text and any tag that could run something."""

    def __init__(self, page):
        super().__init__()
        self.tags, self.words = [], []
        self.feed(page)

    def handle_starttag(self, tag, attributes):
        self.tags.append(tag)
        assert not [name for name, _ in attributes if name.startswith("on")]

    def handle_data(self, data):
        self.words.append(data)


def page_for(tmp_path, learner, answers, also=()):
    hand_in(tmp_path, learner, answers, also=also)
    (script,) = mark_folder(tmp_path / "in", BANK).scripts
    return script, feedback_page(script)


def test_the_feedback_page_says_what_was_right_what_it_looks_like_and_what_next(tmp_path):
    values = draw(BANK[NAME], 4, attempt_key(WORK, 1))
    slip = values.right["headroom"] * 3.6
    answers = {**right_for(4), "headroom": f"{slip:.4g}", "hours": "12–14"}
    script, page = page_for(tmp_path, 4, answers)
    read = Page(page)
    text = " ".join(" ".join(read.words).split())
    assert "Two slips give this number" in text
    assert f"The answer: {values.right['headroom']:.3g} kWh" in text
    assert f"{values.numbers['volume']:g} litres ×" in text  # the working with their own numbers
    assert "What to do next" in text
    assert "Answer this part: For how long must the fire burn" in text
    assert "Learning record. Not a certificate of compliance." in text
    assert "Follow the appliance instructions and your local code." in text
    assert script.receipt in text
    assert "script" not in read.tags
    assert "@page { size: A4" in page
    assert 'lang="en-GB"' in page
    assert "http" not in page  # nothing is fetched


def test_hostile_answers_are_printed_as_text(tmp_path):
    hostile = '<script>alert("x")</script>{{ 7 * 7 }}<img src=x onerror=alert(1)>'
    _, page = page_for(tmp_path, 4, {"headroom": hostile})
    assert "script" not in Page(page).tags
    assert "img" not in Page(page).tags
    assert "&lt;script&gt;" in page
    assert "{{ 7 * 7 }}" in page


def test_all_right_gets_a_next_step_too(tmp_path):
    script, page = page_for(tmp_path, 4, right_for(4))
    assert next_steps(script) == ("All right so far. Do it again in a week, to keep it.",)
    assert "10 of 10 marks" in page


def test_the_words_of_the_page_are_short_and_plain(tmp_path):
    """Sentences of at most 25 words, as the course asks; the working is a sum and not counted."""
    answers = {"headroom": "30 kW", "kilos": "999", "hours": "?"}
    _, page = page_for(tmp_path, 4, answers)
    words = [" ".join(data.split()) for data in Page(page.partition("<body>")[2]).words]
    sentences = [sentence for text in words for sentence in text.replace("?", ".").split(". ") if "×" not in sentence]
    assert max(len(sentence.split()) for sentence in sentences) <= 25


def test_papers_are_written_whole_and_by_name(tmp_path):
    hand_in(tmp_path, 4, right_for(4))
    (tmp_path / "in" / "stray.txt").write_text("?", encoding="utf-8")
    files = write_papers(mark_folder(tmp_path / "in", BANK), tmp_path / "out")
    assert [path.relative_to(tmp_path / "out").as_posix() for path in files] == [
        "mark-sheet.csv",
        "answers.csv",
        "to-mark.csv",
        "slips.csv",
        "set-aside.csv",
        "feedback/workbook-04--learner-4.html",
    ]
    assert all(path.stat().st_size for path in files)
    assert read_csv((tmp_path / "out" / "set-aside.csv").read_bytes())[0]["file"] == "stray.txt"


def test_a_hand_in_is_data_and_reads_as_plain_lines(tmp_path):
    copy = hand_in(tmp_path, 4, right_for(4))
    assert all(isinstance(json.loads(line), dict) for line in copy.read_text(encoding="utf-8").splitlines())
    assert Answer("1").tries == 1
