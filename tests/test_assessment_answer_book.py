"""The answer book keeps what was said to be saved, shows every change, and survives the worst."""

import json
import os
import signal
import subprocess
import sys
import threading
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tlib.assessment import desk
from tlib.assessment.answer_book import EVENTS, AnswerBook, BookInUse, ForeignFile, answers_in, read, receipt_of
from tlib.assessment.answers import Answer
from tlib.assessment.typing_pace import TypingPace


@pytest.fixture
def book(tmp_path):
    book = AnswerBook.open(tmp_path / "own", 17, "workbook-04", {"logs-tonight-1": 1})
    yield book
    book.close()


def answer(book, text, part="headroom", attempt=1):
    return book.append("answered", exercise="logs-tonight-1", part=part, text=text, unit="kWh", attempt=attempt)


def test_the_header_names_format_tool_work_learner_and_versions(book):
    first = json.loads(book.path.read_text(encoding="utf-8").splitlines()[0])
    assert (first["format"], first["work"], first["learner"]) == (1, "workbook-04", "17")
    assert first["exercises"] == {"logs-tonight-1": 1}
    assert first["tool"]


def test_events_are_numbered_timed_and_read_back_whole(book):
    answer(book, "14,0")
    book.append("hint taken", exercise="logs-tonight-1", part="kilos", hint=2, attempt=1)
    again = read(book.path)
    assert again.events == book.events
    assert [event["n"] for event in again.events] == [1, 2]
    assert all(event["at"].endswith("+00:00") for event in again.events)
    assert (again.damage, again.dropped, again.whole) == ((), (), True)
    assert receipt_of(again.checksum) == book.receipt


def test_the_checksum_is_sha256_over_the_one_before_and_the_line(book):
    """Worked again here with nothing but hashlib, so the format can be read without this library."""
    import hashlib

    answer(book, "14.0")
    before = "0" * 64
    for line in book.path.read_text(encoding="utf-8").splitlines():
        body, _, end = line.rpartition(',"sum":"')
        assert hashlib.sha256((before + body).encode()).hexdigest() == end.removesuffix('"}')
        before = end.removesuffix('"}')


def test_latest_answers_are_the_last_of_the_latest_try_with_the_hints_before_them(book):
    answer(book, "50.2")
    book.append("hint taken", exercise="logs-tonight-1", part="headroom", hint=1, attempt=1)
    answer(book, "14.0")
    book.append("hint taken", exercise="logs-tonight-1", part="headroom", hint=3, attempt=1)  # after the answer: free
    assert book.latest_answers("logs-tonight-1") == {"headroom": Answer("14.0", "kWh", tries=1, hints=1)}
    answer(book, "9.9", attempt=2)
    assert book.latest_answers("logs-tonight-1")["headroom"] == Answer("9.9", "kWh", tries=2)
    assert book.latest_answers("logs-tonight-1", attempt=1)["headroom"].text == "14.0"
    assert book.latest_answers("another") == {}


def test_nothing_is_ever_rewritten(book):
    answer(book, "1")
    before = book.path.read_bytes()
    answer(book, "2")
    assert book.path.read_bytes().startswith(before)


def test_the_same_book_opened_twice_is_one_book(book):
    assert AnswerBook.open(book.path.parent, "017", "workbook-04") is book


def test_unknown_events_own_fields_and_long_texts_are_refused(book):
    with pytest.raises(ValueError, match="records opened, predicted"):
        book.append("deleted")
    with pytest.raises(ValueError, match="the book itself gives"):
        book.append("said", n=7)
    with pytest.raises(ValueError, match="up to 5000 signs"):
        book.append("said", text="a" * 5001)
    with pytest.raises(ValueError, match="small letters"):
        AnswerBook.open(book.path.parent, 17, "../elsewhere")
    assert len(book.events) == 0


def test_hand_in_copies_the_book_and_gives_a_receipt_that_fits(book, tmp_path):
    answer(book, "14.0")
    first = book.hand_in(tmp_path / "in")
    assert first.read_bytes() == book.path.read_bytes()
    assert receipt_of(read(first).checksum) == book.receipt
    assert book.receipt in first.name
    second = book.hand_in(tmp_path / "in")
    assert first.exists()
    assert second != first
    assert not [path for path in (tmp_path / "in").iterdir() if path.name.startswith(".")]


@pytest.mark.parametrize("change", ["edit", "drop", "swap", "add"])
def test_any_change_in_the_middle_shows(book, change, tmp_path):
    for text in ("1", "2", "3", "4"):
        answer(book, text)
    lines = book.path.read_text(encoding="utf-8").splitlines(keepends=True)
    if change == "edit":
        lines[2] = lines[2].replace('"text":"2"', '"text":"9"')
    elif change == "drop":
        del lines[2]
    elif change == "swap":
        lines[2], lines[3] = lines[3], lines[2]
    else:
        lines.insert(3, lines[2])
    forged = tmp_path / "forged.jsonl"
    forged.write_text("".join(lines), encoding="utf-8", newline="")
    damage = read(forged).damage
    assert len(damage) == 1
    assert "does not follow from the line before it" in damage[0]


def test_a_number_out_of_turn_shows_even_in_a_chain_that_holds(book, tmp_path):
    from tlib.assessment.book_lines import chained

    head, before = chained({**book.header, "n": 0}, "0" * 64)
    line, _ = chained({"n": 2, "event": "said", "text": "where is the first?"}, before)
    path = tmp_path / "gap.jsonl"
    path.write_text(f"{head}\n{line}\n", encoding="utf-8", newline="")
    assert len(read(path).damage) == 1


def test_a_damaged_book_is_kept_as_it_is_and_work_goes_on_in_a_new_one(book):
    answer(book, "1"), answer(book, "2")
    book.close()
    forged = book.path.read_text(encoding="utf-8").replace('"text":"1"', '"text":"7"')
    book.path.write_text(forged, encoding="utf-8", newline="")
    again = AnswerBook.open(book.path.parent, 17, "workbook-04")
    try:
        assert again.path.name == "workbook-04-2.jsonl"
        assert "is kept as it is" in again.reports[0]
        answer(again, "3")
        assert book.path.read_text(encoding="utf-8") == forged
    finally:
        again.close()


@given(cut=st.integers(0, 3000))
@settings(max_examples=150, deadline=None)
def test_a_cut_anywhere_loses_at_most_the_cut_line_and_work_goes_on(cut, tmp_path_factory):
    folder = tmp_path_factory.mktemp("cut")
    whole = _book_bytes()
    path = folder / "workbook-04.jsonl"
    path.write_bytes(whole[: cut % (len(whole) + 1)])
    kept = path.read_bytes().count(b"\n") - 1
    book = AnswerBook.open(folder, 17, "workbook-04")
    try:
        assert len(book.events) - max(kept, 0) in (0, 1)  # 1: the line was whole but for its end
        answer(book, "after the cut ✓")
        again = read(book.path)
        assert again.damage == ()
        assert again.events == book.events
        assert again.events[-1]["text"] == "after the cut ✓"
    finally:
        book.close()


def _book_bytes(made={}):  # noqa: B006 - made once for all examples
    if not made:
        import tempfile

        with tempfile.TemporaryDirectory() as folder:
            book = AnswerBook.open(folder, 17, "workbook-04")
            for number in range(5):
                answer(book, f"{number},5 é")
            made["bytes"] = book.path.read_bytes()
            book.close()
    return made["bytes"]


@given(st.binary(max_size=400))
@settings(max_examples=100, deadline=None)
def test_any_bytes_are_read_or_called_foreign(data):
    import tempfile

    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "any.jsonl"
        path.write_bytes(data)
        with pytest.raises(ForeignFile, match="is not an answer book"):
            read(path)


def test_hostile_lines_are_dropped(tmp_path):
    path = tmp_path / "deep.jsonl"
    tail = ',"sum":"' + "0" * 64 + '"}'
    path.write_text('{"a":' + "[" * 50_000 + tail + "\n" + '{"n":' + "9" * 90_000 + tail + "\n", encoding="utf-8")
    with pytest.raises(ForeignFile, match="is not an answer book"):
        read(path)


def test_a_file_far_too_large_is_not_read(tmp_path):
    path = tmp_path / "big.jsonl"
    with path.open("wb") as file:
        file.truncate(20_000_000)
    with pytest.raises(ForeignFile, match="far larger"):
        read(path)


WRITER = """
import sys
from tlib.assessment.answer_book import AnswerBook
book = AnswerBook.open(sys.argv[1], 17, "workbook-04")
print("open", flush=True)
for number in range(100_000):
    event = book.append("answered", exercise="x", part="a", text=str(number), unit="", attempt=1)
    print(event["n"], flush=True)
"""


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="this system ends a process in another way")
@pytest.mark.parametrize("lines", [1, 40])
def test_a_kill_loses_nothing_that_was_said_to_be_saved(tmp_path, lines):
    child = subprocess.Popen([sys.executable, "-c", WRITER, str(tmp_path)], stdout=subprocess.PIPE, text=True)
    assert child.stdout.readline() == "open\n"
    saved = [int(child.stdout.readline()) for _ in range(lines)]
    with pytest.raises(BookInUse, match="open in another window"):
        AnswerBook.open(tmp_path, 17, "workbook-04")
    os.kill(child.pid, signal.SIGKILL)
    saved += [int(number) for number in child.stdout.read().split()]
    child.wait()
    book = AnswerBook.open(tmp_path, 17, "workbook-04")  # the lock died with its process
    try:
        assert len(book.events) >= max(saved)
        assert [event["n"] for event in book.events] == list(range(1, len(book.events) + 1))
        answer(book, "after the kill")
        assert read(book.path).damage == ()
    finally:
        book.close()


def test_a_full_disk_is_told_and_the_next_line_is_sound(book, monkeypatch):
    answer(book, "1")
    with monkeypatch.context() as patch:
        patch.setattr(os, "fsync", lambda _: (_ for _ in ()).throw(OSError(28, "No space left on device")))
        with pytest.raises(OSError, match="No space left"):
            answer(book, "2")
    assert len(book.events) == 1
    answer(book, "3")
    again = read(book.path)
    assert [event["text"] for event in again.events] == ["1", "2", "3"]  # the line was whole after all
    assert again.damage == ()


def test_a_line_that_the_disk_took_in_part_is_dropped_and_the_next_is_sound(book, monkeypatch):
    class HalfFull:
        def __init__(self, file):
            self.file = file

        def write(self, data):
            return self.file.write(data[: len(data) // 2])

        def __getattr__(self, name):
            return getattr(self.file, name)

    answer(book, "1")
    with monkeypatch.context() as patch:
        patch.setattr(book, "_file", HalfFull(book._file))
        with pytest.raises(OSError, match="only a part of the line"):
            answer(book, "2")
    answer(book, "3")
    again = read(book.path)
    assert [event["text"] for event in again.events] == ["1", "3"]
    assert (len(again.dropped), again.damage) == (1, ())


def test_answers_in_shrugs_off_hostile_events():
    events = [
        {"event": "answered", "exercise": "x", "part": ["a"], "text": "1"},
        {"event": "hint taken", "exercise": "x", "part": "a", "hint": "9" * 50},
        {"event": "answered", "exercise": "x", "part": "a", "text": {"deep": 1}, "attempt": 1},
    ]
    assert answers_in(events, "x") == {"a": Answer("{'deep': 1}")}


def test_typing_keeps_at_most_a_line_each_half_second_and_always_the_last_word(book):
    told, done = [], threading.Event()

    def tell(event):
        told.append(event["text"])
        if event["text"] == "12.5":
            done.set()

    pace = TypingPace(book, tell, pause=0.2)
    for text in ("1", "12", "12.", "12.5"):
        pace.typed(exercise="logs-tonight-1", part="headroom", text=text, unit="", attempt=1)
    assert told == ["1"]
    assert done.wait(5)
    assert told == ["1", "12.5"]
    pace.typed(exercise="logs-tonight-1", part="headroom", text="12.51", unit="", attempt=1)
    pace.left()
    pace.left()  # nothing waits, so nothing is written
    assert [event["text"] for event in book.events] == ["1", "12.5", "12.51"]


def test_typing_tells_when_the_disk_refuses(book, monkeypatch):
    faults = []
    pace = TypingPace(book, told=lambda _: None, failed=faults.append)
    monkeypatch.setattr(book, "append", lambda *_, **__: (_ for _ in ()).throw(OSError("disk gone")))
    pace.typed(exercise="x", part="a", text="1")
    assert str(faults[0]) == "disk gone"


def test_learners_on_one_laptop_do_not_see_each_other(tmp_path, monkeypatch):
    monkeypatch.setenv("TLIB_ANSWERS", str(tmp_path / "answers"))
    assert desk.current_learner() == ""
    with pytest.raises(desk.NoLearner, match="Give your learner number"):
        desk.books_folder()
    desk.switch_learner("017")
    first = AnswerBook.open(desk.books_folder(), desk.current_learner(), "workbook-04")
    answer(first, "14.0")
    desk.switch_learner(3)
    second = AnswerBook.open(desk.books_folder(), desk.current_learner(), "workbook-04")
    assert (second.header["learner"], second.events) == ("3", ())
    desk.switch_learner(17)
    assert AnswerBook.open(desk.books_folder(), 17, "workbook-04").events == first.events
    first.close(), second.close()


def test_a_book_found_in_another_learners_folder_is_not_written_on(tmp_path):
    book = AnswerBook.open(tmp_path, 17, "workbook-04")
    answer(book, "14.0")
    book.close()
    other = AnswerBook.open(tmp_path, 3, "workbook-04")
    try:
        assert other.events == ()
        assert "belongs to another learner" in other.reports[0]
    finally:
        other.close()


@pytest.mark.parametrize("given_number", ["", "  ", "a/b", "..", "x" * 21, "-7", "名", "con.", 1.5])
def test_what_is_no_learner_number_is_refused(given_number):
    with pytest.raises(desk.NoLearner, match="A learner number has up to 20"):
        desk.learner_number(given_number)


def test_a_torn_note_of_the_current_learner_is_no_learner(tmp_path, monkeypatch):
    monkeypatch.setenv("TLIB_ANSWERS", str(tmp_path))
    (tmp_path / "current-learner.txt").write_bytes(b"\xff\x00")
    assert desk.current_learner() == ""


def test_without_a_named_folder_the_answers_lie_in_the_users_documents(tmp_path, monkeypatch):
    import platformdirs

    monkeypatch.delenv("TLIB_ANSWERS")
    monkeypatch.setattr(platformdirs, "user_documents_dir", lambda: str(tmp_path))
    assert desk.folder() == tmp_path / "tlib-answers"
    assert (tmp_path / "tlib-answers").is_dir()


def test_the_events_are_the_known_ones():
    assert EVENTS == ("opened", "predicted", "answered", "hint taken", "said", "handed in")
