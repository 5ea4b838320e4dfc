"""One evening at Larkrigg Farm, from slider to mark sheet: what a learner and a tutor really do, in order.

One long test, because it is one story: each step needs the one before it.
"""

import csv
import json
import re
import subprocess
import sys
import time

import pytest
from playwright.sync_api import expect

from tlib.assessment import attempt_key, bank, draw

from .conftest import desk_at
from .desk import Server

LEARNER = "17"
EXERCISE = "logs-to-water-1"
ASKED = "How much of that reaches the water in the store?"


@pytest.fixture(scope="module")
def home(tmp_path_factory):
    return tmp_path_factory.mktemp("story")


@pytest.fixture(scope="module")
def desk(chromium, home):
    with Server(home, "04") as server, desk_at(chromium, server) as desk:
        desk.page.set_default_timeout(180_000)  # a cold engine on a busy machine
        for _ in range(300):
            if began := sessions(desk):
                break
            time.sleep(0.1)
        desk.open_book()
        assert sessions(desk) == began, "the page runs on the kernel that the command began"
        yield desk


def sessions(desk):
    """Return the kernels that the server runs, and for which workbook."""
    return [(one["path"], one["kernel"]["id"]) for one in json.loads(desk.server.ask("api/sessions"))]


def right_answers():
    """Return what learner 17 should answer, worked from the same draw as the page's own."""
    return draw(bank.load()[EXERCISE], LEARNER, attempt_key("book-04", 1)).right


def pictures(desk):
    return [
        *(picture.get_attribute("aria-label") for picture in desk.page.locator(".tlib-pictures svg[role=img]").all()),
        desk.page.locator(".tlib-pictures img").first.get_attribute("alt"),
    ]


def test_from_slider_to_mark_sheet(desk, home):
    page = desk.page
    assert desk.dialogs() == []
    # Predict: the panel is shut until the guess is locked, and the guess is then drawn beside the heat.
    assert page.locator(".tlib-pictures svg:visible").count() == 0
    desk.sit_down(LEARNER, "About 20 % less")
    expect(page.get_by_text("These are the answers of learner 17.")).to_be_visible()
    page.locator(".tlib-pictures img").first.wait_for()
    desk.screenshot("story-predicted")

    # Move a slider by keyboard: picture and sentence change.
    before = pictures(desk)
    desk.press("Logs (kg)", "ArrowRight")
    expect(page.locator(".tlib-pictures img").first).not_to_have_attribute("alt", before[-1])
    after = pictures(desk)
    assert len(set(before) - set(after)) == 3, "the heat, the store and the day, each with its sentence"
    assert all("kWh" in words for words in after)

    # Answer: one right, one that looks like a slip, one that cannot be read.
    right = right_answers()
    answer(page, "(a)", f"{right['in_logs']:.2f} kWh")
    expect(said(page, "(a)")).to_contain_text("4 of 4 marks")
    answer(page, "(b)", "lots of kWh")
    expect(said(page, "(b)")).to_contain_text("We could not find a number in this.")
    answer(page, "(b)", f"{right['useful']:.4g} kWh".replace(".", ","))
    expect(said(page, "(b)")).to_contain_text("3 of 3 marks")
    answer(page, "(c)", f"{right['useful']:.4g} kWh")
    expect(said(page, "(c)")).to_contain_text("This looks like")
    partly = float(re.search(r"([\d.]+) of 3 marks", said(page, "(c)").inner_text())[1])
    assert 0 < partly < 3, "marks for the method, not for the number"
    desk.screenshot("story-answered")

    # Restart the kernel: the answers are still there and the panel is alive again.
    desk.restart_kernel()
    expect(field(page, "(a)")).to_have_value(f"{right['in_logs']:.2f} kWh")
    expect(page.get_by_text("You predicted: About 20 % less. Locked at")).to_be_visible()
    page.locator(".tlib-pictures img").first.wait_for()
    before = pictures(desk)
    desk.press("Logs (kg)", "ArrowRight", times=2)
    expect(page.locator(".tlib-pictures img").first).not_to_have_attribute("alt", before[-1])

    # Hand in.
    page.get_by_role("button", name="Hand in", exact=True).click()
    expect(page.get_by_text("receipt", exact=False).last).to_be_visible()
    desk.screenshot("story-handed-in")
    assert desk.off_the_machine() == []
    assert desk.findings() == []

    # Mark, as the tutor does, from the shell.
    sheets = home / "sheets"
    command = [sys.executable, "-m", "tlib", "mark", str(home / "tlib-answers" / "hand-in"), "--out", str(sheets)]
    printed = subprocess.run(command, capture_output=True, text=True, encoding="utf-8", check=True).stdout
    assert "1 " in printed
    with (sheets / "mark-sheet.csv").open(encoding="utf-8-sig", newline="") as file:
        (row,) = csv.DictReader(file)
    assert row["learner"] == LEARNER
    assert float(row["marks"]) == 4 + 3 + partly, row
    assert "N29" in row["looks like"]
    (page,) = (sheets / "feedback").glob("*.html")
    assert "looks like" in page.read_text(encoding="utf-8")


def field(page, letter):
    return said(page, letter).get_by_role("textbox", name=f"Your answer to {letter}")


def said(page, letter):
    """Return the part of that letter of the exercise that the story is about, which is not the page's first."""
    ours = page.locator(".jp-Cell").filter(has=page.get_by_text(ASKED)).first
    return ours.locator(".tlib-part").filter(has=page.get_by_text(f"Your answer to {letter}")).first


def answer(page, letter, text):
    field(page, letter).fill(text)
    said(page, letter).get_by_role("button", name="Check").click()
