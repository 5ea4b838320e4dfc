"""The learner's copies, the server's options, the file to double-click, and the shape of the page extension."""

import importlib.metadata
import json
import re
import subprocess
import sys
from pathlib import Path

import pytest

from tlib.figures import palette
from tlib.lab import copies, server, shortcut
from tlib.tables import shipped

LAB = Path(server.__file__).parent
SHARE = Path(sys.prefix) / "share" / "jupyter"


def book(*sources, outputs=(), widgets=False):
    cells = [
        {"cell_type": "code", "id": f"c{number}", "metadata": {}, "source": source,
         "outputs": list(outputs), "execution_count": 1 if outputs else None}
        for number, source in enumerate(sources)
    ]  # fmt: skip
    metadata = {"tlib": {"workbook": "04"}, **({"widgets": {"state": 1}} if widgets else {})}
    return json.dumps({"cells": cells, "metadata": metadata, "nbformat": 4, "nbformat_minor": 5})


@pytest.fixture
def desk(tmp_path):
    """Return a folder of shipped workbooks and an empty learner's folder."""
    source, folder = tmp_path / "shipped", tmp_path / "learner"
    (source / "images").mkdir(parents=True)
    folder.mkdir()
    (source / "images" / "tank.svg").write_text("<svg/>", encoding="utf-8")
    (source / "04-filling.ipynb").write_text(book("panel()", outputs=["old"], widgets=True), encoding="utf-8")
    return source, folder


def test_a_copy_is_clean_and_brings_its_images(desk):
    source, folder = desk
    assert copies.copy_workbooks(folder, source) == []
    copy = json.loads((folder / "04-filling.ipynb").read_text(encoding="utf-8"))
    assert copy["cells"][0]["outputs"] == []
    assert copy["cells"][0]["execution_count"] is None
    assert "widgets" not in copy["metadata"]
    assert copy["metadata"]["tlib"] == {"workbook": "04"}
    assert (folder / "images" / "tank.svg").is_file()


def test_a_copy_that_was_only_run_and_saved_is_cleaned_and_not_kept(desk):
    source, folder = desk
    (folder / "04-filling.ipynb").write_text(book("panel()", outputs=["mine"]), encoding="utf-8")
    assert copies.copy_workbooks(folder, source) == []
    assert "mine" not in (folder / "04-filling.ipynb").read_text(encoding="utf-8")
    assert len(list(folder.glob("*.ipynb"))) == 1


def test_a_copy_with_other_words_is_kept_beside_the_new_one_each_time(desk):
    source, folder = desk
    for number, words in enumerate(["my own note", "another note"], start=1):
        (folder / "04-filling.ipynb").write_text(book(words), encoding="utf-8")
        (kept,) = copies.copy_workbooks(folder, source)
        assert kept.name == f"04-filling.old-{number}.ipynb"
        assert words in kept.read_text(encoding="utf-8")
        assert "panel()" in (folder / "04-filling.ipynb").read_text(encoding="utf-8")


def test_a_damaged_copy_is_kept_and_replaced(desk):
    source, folder = desk
    (folder / "04-filling.ipynb").write_bytes(b"\xff\xfe not a notebook")
    (kept,) = copies.copy_workbooks(folder, source)
    assert kept.read_bytes() == b"\xff\xfe not a notebook"


def test_a_second_opening_changes_nothing(desk):
    source, folder = desk
    copies.copy_workbooks(folder, source)
    before = {path: path.stat().st_mtime_ns for path in folder.glob("*.ipynb")}
    copies.copy_workbooks(folder, source)
    assert {path: path.stat().st_mtime_ns for path in folder.glob("*.ipynb")} == before


def test_the_shipped_workbooks_are_never_copied_onto_themselves(desk):
    source, _ = desk
    with pytest.raises(ValueError, match="must not be the folder of the shipped workbooks"):
        copies.copy_workbooks(source, source)


@pytest.mark.parametrize("name", ["4", "04", "04-filling", "04-filling.ipynb", " 04-FILLING "])
def test_a_workbook_is_found_by_number_or_name(desk, name):
    source, folder = desk
    copies.copy_workbooks(folder, source)
    (folder / "04-filling.old-1.ipynb").write_text(book("older"), encoding="utf-8")
    assert copies.find_workbook(folder, name) == "04-filling.ipynb"


def test_an_unknown_workbook_is_refused_with_those_there_are(desk):
    source, folder = desk
    copies.copy_workbooks(folder, source)
    with pytest.raises(copies.NoWorkbook, match=r"no workbook '7'\. There are: 04-filling\."):
        copies.find_workbook(folder, "7")


def test_the_shipped_folders_are_found_and_a_missing_one_is_told():
    assert shipped("workbooks").is_dir()
    assert shipped("exercises").is_dir()
    with pytest.raises(FileNotFoundError, match="without its pamphlets; install it again"):
        shipped("pamphlets")


def test_the_server_asks_nothing_and_lets_nobody_else_in(tmp_path):
    chosen = server.options(tmp_path, "04-filling.ipynb", port=8899, browser=False)
    assert "--ServerApp.answer_yes=True" in chosen
    assert "--LabApp.default_url=/lab/tree/04-filling.ipynb?reset" in chosen
    assert "--ServerApp.open_browser=False" in chosen
    assert "--ServerApp.port=8899" in chosen
    assert not any(word in option for option in chosen for word in (".token", "password", ".ip="))
    assert not any(".port" in option for option in server.options(tmp_path, "04-filling.ipynb"))


@pytest.mark.parametrize(("number", "expected"), [(0, True), (1000, False)])
def test_root_is_allowed_only_for_root(tmp_path, monkeypatch, number, expected):
    monkeypatch.setattr(server.os, "geteuid", lambda: number, raising=False)
    assert ("--allow-root" in server.options(tmp_path, "04-filling.ipynb")) is expected


def test_every_setting_is_one_that_this_jupyterlab_knows():
    overrides = json.loads((LAB / "settings" / "thermal-store-workbook.json").read_text(encoding="utf-8"))
    for plugin, settings in overrides.items():
        package, name = plugin.split(":")
        schema = json.loads((SHARE / "lab/schemas" / package / f"{name}.json").read_text(encoding="utf-8"))
        assert set(settings) <= set(schema["properties"]), plugin


def test_the_extension_is_installed_as_it_stands_in_the_source():
    installed = SHARE / "labextensions" / "thermal-store-workbook"
    for path in (LAB / "extension").rglob("*.*"):
        copy = installed / path.relative_to(LAB / "extension")
        assert copy.read_bytes() == path.read_bytes(), f"{path.name} is stale: install the package again"


def test_the_extension_says_what_to_load_and_carries_the_version():
    package = json.loads((LAB / "extension" / "package.json").read_text(encoding="utf-8"))
    assert (LAB / "extension" / package["jupyterlab"]["_build"]["load"]).is_file()
    assert package["name"] in (LAB / "extension" / "static" / "entry.js").read_text(encoding="utf-8")
    assert package["version"] == importlib.metadata.version("thermal-store-workbook")


def test_the_extension_names_no_address_of_the_web():
    for path in (LAB / "extension").rglob("*.*"):
        text = path.read_text(encoding="utf-8").replace("http://www.w3.org/2000/svg", "")
        assert "http" not in text, path.name


def test_the_page_uses_the_colours_of_the_palette():
    used = set(re.findall(r"#[0-9a-f]{3,8}\b", (LAB / "extension/static/page.css").read_text(encoding="utf-8")))
    assert used == {palette.PAPER, palette.INK, palette.STRIP}
    assert palette.contrast(palette.INK, palette.STRIP) >= 4.5  # WCAG 2.2, success criterion 1.4.3


@pytest.mark.skipif(sys.platform == "win32", reason="a shell script for the other systems")
def test_the_command_file_passes_its_words_on_unharmed(tmp_path):
    echo = tmp_path / "say it's me"
    echo.write_text('#!/bin/sh\nprintf "%s\\n" "$@"\n', encoding="utf-8")
    echo.chmod(0o755)
    _, text = shortcut.shortcut("darwin", str(echo), "/home/Zoë/100 % $HOME 'mine'")
    script = tmp_path / "run.command"
    script.write_text(text, encoding="utf-8")
    said = subprocess.run(["sh", script], capture_output=True, encoding="utf-8", check=True).stdout.splitlines()
    assert said == ["-m", "tlib", "open", "--folder", "/home/Zoë/100 % $HOME 'mine'"]


def test_the_batch_file_reads_utf8_doubles_percent_and_waits_after_a_fault():
    name, text = shortcut.shortcut("win32", r"C:\desk\python.exe", r"C:\Users\Zoë\100%\tlib-answers")
    assert name.endswith(".bat")
    assert text.split("\r\n") == [
        "@echo off",
        "chcp 65001 >nul",
        r'"C:\desk\python.exe" -m tlib open --folder "C:\Users\Zoë\100%%\tlib-answers"',
        "if errorlevel 1 pause",
        "",
    ]


def test_the_desktop_entry_is_quoted_as_the_specification_says():
    # Desktop Entry Specification, "The Exec key": in a quoted argument a literal backslash takes four backslashes,
    # a literal dollar sign is "\\$", and a percent sign is written "%%".
    name, text = shortcut.shortcut("linux", "/opt/desk/python", "/home/Zoë/a $5 100% \\ b")
    assert name.endswith(".desktop")
    assert text.splitlines()[0] == "[Desktop Entry]"
    assert r'''Exec="/opt/desk/python" -m tlib open --folder "/home/Zoë/a \\$5 100%% \\\\ b"''' in text.splitlines()


def test_the_shortcut_is_placed_and_can_be_run(tmp_path, monkeypatch):
    monkeypatch.setenv("TLIB_ANSWERS", str(tmp_path / "answers"))
    file = shortcut.place_shortcut(tmp_path / "Desktop")
    assert str(tmp_path / "answers") in file.read_text(encoding="utf-8")
    assert sys.platform == "win32" or file.stat().st_mode & 0o111
