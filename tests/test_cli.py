"""The commands: what they refuse in plain words, and what they hand on."""

import json
import os
import subprocess
import sys

import pytest
from click.testing import CliRunner

from tlib import assessment
from tlib.cli import main

from .set_work_files import WORK, write


@pytest.fixture
def run(tmp_path, monkeypatch):
    """Return a function that runs a command with a folder of its own, where no server is really started."""
    started = []

    class Stub:
        connection_url = "http://localhost:8888/"

        class identity_provider:
            token = "abc"

        def start(self):
            started.append("start")

    monkeypatch.setenv("TLIB_ANSWERS", str(tmp_path))
    monkeypatch.setattr("tlib.lab.server.make_server", lambda *given: started.append(given) or Stub())
    monkeypatch.setattr("tlib.lab.server.begin_kernel", lambda app, file: started.append(f"kernel of {file}"))
    (tmp_path / "04-filling.ipynb").write_text(
        json.dumps({"cells": [], "metadata": {"tlib": {"workbook": "04"}}, "nbformat": 4, "nbformat_minor": 5}),
        encoding="utf-8",
    )

    def run(*words):
        return CliRunner().invoke(main, list(words), catch_exceptions=False), started

    return run


def test_open_starts_the_server_on_the_learners_folder(run, tmp_path):
    result, started = run("open", "04-filling", "--no-browser", "--port", "8899", "--learner", "017")
    assert result.exit_code == 0, result.output
    assert started == [(tmp_path, "04-filling.ipynb", 8899, False), "kernel of 04-filling.ipynb", "start"]
    assert "http://localhost:8888/?token=abc" in result.output
    assert (tmp_path / "current-learner.txt").read_text(encoding="utf-8").strip() == "17"


def test_open_without_a_name_opens_the_first_page_in_a_new_folder(run, tmp_path):
    result, started = run("open", "--no-browser", "--folder", str(tmp_path / "new"))
    assert result.exit_code == 0, result.output
    assert started == [(tmp_path / "new", "00-start-here.ipynb", None, False), "kernel of 00-start-here.ipynb", "start"]
    assert (tmp_path / "new" / "00-start-here.ipynb").is_file()


def test_open_takes_another_folder_and_hands_it_to_the_kernels(run, tmp_path):
    other = tmp_path / "other place"
    result, started = run("open", "99", "--folder", str(other))
    assert result.exit_code == 1
    assert os.environ["TLIB_ANSWERS"] == str(other)
    assert "There is no workbook '99'" in result.output
    assert started == []


def test_open_refuses_a_learner_number_that_is_none(run):
    result, started = run("open", "04-filling", "--learner", "../x")
    assert result.exit_code == 1
    assert "A learner number has up to 20 letters, figures or hyphens" in result.output
    assert started == []


def test_open_says_that_an_old_copy_was_kept(run, tmp_path, monkeypatch):
    kept = tmp_path / "04-filling.old-1.ipynb"
    monkeypatch.setattr("tlib.lab.copies.copy_workbooks", lambda folder: [kept])
    result, _ = run("open", "04-filling")
    assert "Your old copy is kept as 04-filling.old-1.ipynb" in result.output


def test_help_names_every_command(run):
    result, _ = run("--help")
    assert all(name in result.output for name in ("open", "check", "set", "mark"))


def test_the_door_opens_with_python_m():
    said = subprocess.run([sys.executable, "-m", "tlib", "--help"], capture_output=True, encoding="utf-8", check=True)
    assert "Open the workbooks" in said.stdout


def test_check_says_by_file_and_line_what_to_mend(run, tmp_path):
    sound, _ = run("check")
    assert sound.exit_code == 0, sound.output
    assert "0 faults found" in sound.output
    folder = tmp_path / "mine"
    folder.mkdir()
    (folder / "one.toml").write_text('format = 1\nid = "one"\nshade = "blue"\n', encoding="utf-8")
    result, _ = run("check", str(folder))
    assert result.exit_code == 1
    assert f"{folder / 'one.toml'}, line 3: shade: is not a key that is known here" in result.output


def handed_in(folder, learner):
    """Hand in a book in which a learner answered one part."""
    book = assessment.AnswerBook.open(folder / "books", learner, "workbook-04")
    book.append("answered", exercise="logs-to-water-1", part="in_logs", text="1", unit="kWh", attempt=1)
    book.hand_in(folder / "hand-ins")
    book.close()


def test_mark_writes_a_sheet_and_feedback_and_loses_no_file(run, tmp_path):
    handed_in(tmp_path / "a", "17")
    hand_ins = tmp_path / "a" / "hand-ins"
    (hand_ins / "notes.txt").write_text("not a book", encoding="utf-8")
    result, _ = run("mark", str(hand_ins))
    assert result.exit_code == 0, result.output
    assert "1 hand-in marked, 1 file set aside." in result.output
    assert "Not marked: notes.txt." in result.output
    out = tmp_path / "a" / "hand-ins-marked"
    assert '"17","","workbook-04"' in (out / "mark-sheet.csv").read_text(encoding="utf-8-sig")
    assert [path.name for path in (out / "feedback").iterdir()] == ["workbook-04--learner-17.html"]


def test_mark_writes_where_it_is_told_but_never_among_the_hand_ins(run, tmp_path):
    handed_in(tmp_path / "a", "18")
    hand_ins = tmp_path / "a" / "hand-ins"
    result, _ = run("mark", str(hand_ins), "--out", str(tmp_path / "sheets"))
    assert (tmp_path / "sheets" / "mark-sheet.csv").is_file(), result.output
    result, _ = run("mark", str(hand_ins), "--out", str(hand_ins / "sheets"))
    assert result.exit_code == 1
    assert "The sheets must go outside the folder of hand-ins" in result.output


def set_for_two(run, tmp_path):
    write(tmp_path / "tutor", f"{WORK}closes = 2027-01-25\n")
    result, _ = run("set", str(tmp_path / "tutor" / "work.toml"))
    assert result.exit_code == 0, result.output
    return result.output, tmp_path / "tutor" / "autumn-1"


def test_set_says_what_to_hand_out_and_what_to_keep(run, tmp_path):
    said, folder = set_for_two(run, tmp_path)
    assert "Stored heat is set for 2 learners, with 1 exercise." in said
    assert f"Give your learners a copy of {folder / 'hand-out'}" in said
    assert f"Keep to yourself {folder / 'private'}. It holds the key and the answers; make a copy." in said
    assert "Learners can read how these are marked, for they came with tlib: logs-tonight-1." in said


def test_set_refuses_by_file_and_line_and_writes_nothing(run, tmp_path):
    write(tmp_path / "tutor", f"{WORK}tries = 9\n", "number,name\n17,Noor\n17,Gwil\n")
    result, _ = run("set", str(tmp_path / "tutor" / "work.toml"))
    assert result.exit_code == 1
    assert "Nothing was set." in result.output
    assert f"{tmp_path / 'tutor' / 'work.toml'}, line 6: tries: " in result.output
    assert not (tmp_path / "tutor" / "autumn-1").exists()


def test_a_hand_out_opens_by_its_folder(run, tmp_path):
    _, folder = set_for_two(run, tmp_path)
    (page,) = (folder / "hand-out").glob("*.ipynb")
    result, started = run("open", str(folder / "hand-out"), "--learner", "17")
    assert result.exit_code == 0, result.output
    assert started[0][:2] == (tmp_path, page.name)
    assert (tmp_path / page.name).is_file()
    assert (tmp_path / page.stem / "learner-17.json").is_file()


def test_mark_finds_the_work_it_was_set_for_and_names_who_is_missing(run, tmp_path):
    _, folder = set_for_two(run, tmp_path)
    (page,) = (folder / "hand-out").glob("*.ipynb")
    book = assessment.AnswerBook.open(tmp_path / "books", "17", page.stem)
    book.append("answered", exercise="logs-tonight-1", part="headroom", text="1 kWh", unit="", attempt=1, version=1)
    copy = book.hand_in(tmp_path / "elsewhere")
    book.close()
    (folder / "hand-ins" / copy.name).write_bytes(copy.read_bytes())
    for words in ((str(folder / "hand-ins"),), (str(folder),), (str(tmp_path / "elsewhere"), "--work", str(folder))):
        result, _ = run("mark", *words)
        assert result.exit_code == 0, result.output
        assert "Nothing marked for: 18 Gwil." in result.output
        assert "1 hand-in marked, 0 files set aside." in result.output
    assert '"18","Gwil"' in (folder / "hand-ins-marked" / "mark-sheet.csv").read_text(encoding="utf-8-sig")
    assert (tmp_path / "elsewhere-marked" / "mark-sheet.csv").is_file()


def test_mark_says_when_the_private_half_is_not_there(run, tmp_path):
    _, folder = set_for_two(run, tmp_path)
    result, _ = run("mark", str(folder / "hand-ins"), "--work", str(tmp_path))
    assert result.exit_code == 1
    assert "holds no work that was set." in result.output
    (folder / "private" / "set-work.json").write_text("?", encoding="utf-8")
    result, _ = run("mark", str(folder / "hand-ins"))
    assert "cannot be read. Bring it back from where you keep copies." in result.output
