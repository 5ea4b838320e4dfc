"""Set work, from a tutor's file to the mark sheet, through the page that a learner really opens."""

import csv
import json
import re
import subprocess
import sys

import pytest
from playwright.sync_api import expect

from .conftest import desk_at
from .desk import Server

WORK = """\
format = 1
id = "autumn-1"
title = "Stored heat and the evening fire"
class = "class.csv"
exercises = ["logs-tonight-1"]
closes = 2199-12-31
hints = 1
"""


@pytest.fixture(scope="module")
def tutor(tmp_path_factory):
    folder = tmp_path_factory.mktemp("tutor")
    (folder / "class.csv").write_text("Name;Number\nNoor;17\nGwil;18\n", encoding="utf-8-sig")
    (folder / "work.toml").write_text(WORK, encoding="utf-8")
    tlib("set", folder / "work.toml")
    return folder / "autumn-1"


@pytest.fixture(scope="module")
def home(tmp_path_factory):
    return tmp_path_factory.mktemp("laptop")


@pytest.fixture(scope="module")
def desk(chromium, tutor, home):
    with Server(home, str(tutor / "hand-out")) as server, desk_at(chromium, server) as desk:
        desk.open_book()
        yield desk


def tlib(*words):
    command = [sys.executable, "-m", "tlib", *map(str, words)]
    return subprocess.run(command, capture_output=True, text=True, encoding="utf-8", check=True).stdout


def test_from_work_file_to_mark_sheet(desk, tutor, home):
    page = desk.page
    assert desk.dialogs() == []
    expect(page.get_by_role("heading", name="Stored heat and the evening fire")).to_be_visible()
    expect(page.get_by_text("Give your learner number at the top of this page.").first).to_be_visible()
    page.get_by_role("textbox", name="Your learner number").fill("17")
    page.get_by_role("button", name="This is me").click()
    (paper,) = (tutor / "hand-out").glob("autumn-1-*/learner-17.json")
    numbers = json.loads(paper.read_text(encoding="utf-8"))["exercises"][0]["sets"][0]["numbers"]
    expect(page.get_by_text(f"The store holds {numbers['volume']:g} litres")).to_be_visible()

    # Answers are kept as they are typed; nobody can have them checked; the one hint that is allowed can be taken.
    heat = numbers["volume"] * (numbers["limit"] - numbers["start"]) * 1.163 / 1000
    field(page, "(a)").fill(f"{1000 * heat:.0f} kWh")  # watt-hours
    field(page, "(c)").fill(f"{heat / numbers['power']:.4g} hours")
    expect(page.get_by_text(re.compile(r"Saved \d\d:\d\d:\d\d"))).to_have_count(2)
    expect(page.get_by_role("button", name="Check")).to_have_count(0)
    page.get_by_role("button", name="Hint 1 of 1: free").first.click()
    expect(page.get_by_text("Hint 1. First find by how many degrees")).to_be_visible()
    assert not page.get_by_text(re.compile("This looks like|marks so far")).count()
    assert desk.findings() == []
    desk.screenshot("set-work")

    desk.restart_kernel()
    expect(field(page, "(a)")).to_have_value(f"{1000 * heat:.0f} kWh")
    page.get_by_role("button", name="Hand in", exact=True).click()
    expect(page.get_by_text("Your receipt is", exact=False)).to_be_visible()
    assert desk.off_the_machine() == []

    # The tutor collects and marks.
    for file in (home / "tlib-answers" / "hand-in").iterdir():
        (tutor / "hand-ins" / file.name).write_bytes(file.read_bytes())
    assert "Nothing marked for: 18 Gwil." in tlib("mark", tutor / "hand-ins")
    with (tutor / "hand-ins-marked" / "mark-sheet.csv").open(encoding="utf-8-sig", newline="") as file:
        noor, gwil = csv.DictReader(file)
    # 2 of 3 for the heat (the number is lost), 0 for the kilos left out, 3 of 3 for the hours.
    assert (noor["name"], noor["marks"], noor["out of"], noor["not answered"]) == ("Noor", "5", "10", "1")
    assert noor["looks like"] == "N02 leaves the heat in watt-hours"
    assert gwil["notes"] == "Nothing was handed in."


def field(page, letter):
    return page.get_by_role("textbox", name=f"Your answer to {letter}").first
