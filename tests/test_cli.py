"""The commands: what they refuse in plain words, and what they hand on."""

import json
import os
import subprocess
import sys

import pytest
from click.testing import CliRunner

from tlib import assessment
from tlib.cli import main


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
    assert started == [(tmp_path, "04-filling.ipynb", 8899, False), "start"]
    assert "http://localhost:8888/?token=abc" in result.output
    assert (tmp_path / "current-learner.txt").read_text(encoding="utf-8").strip() == "17"


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
    assert all(name in result.output for name in ("open", "check", "mark"))


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
