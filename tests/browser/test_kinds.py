"""Set work with a part of every kind, answered by keyboard alone, through the page that a learner really opens."""

import csv
import json
import re
import subprocess
import sys
from unittest import mock

import pytest
from playwright.sync_api import expect

from tlib.assessment import setting
from tlib.assessment.parts import trace

from .. import kinds_files as kinds
from .conftest import desk_at
from .desk import Server

WORK = f"""\
format = 1
id = "kinds-work"
title = "Every kind"
class = "class.csv"
bank = "our-exercises"
exercises = ["{kinds.ALL}", "{kinds.SAFE}"]
"""
STEPS = ("Isolate", "Let its", "Read", "Pump", "Open")
MOST_TABS = 120
_IS_BEFORE = "it => !!(it.compareDocumentPosition(document.activeElement) & Node.DOCUMENT_POSITION_FOLLOWING)"


@pytest.fixture(scope="module")
def tutor(tmp_path_factory):
    folder = tmp_path_factory.mktemp("tutor")
    kinds.write_bank(folder / "our-exercises")
    (folder / "class.csv").write_text("Name;Number\nNoor;17\n", encoding="utf-8-sig")
    (folder / "work.toml").write_text(WORK, encoding="utf-8")
    with mock.patch.object(trace, "logged", kinds.told_log):  # a day that need not be simulated
        return setting.set_work(folder / "work.toml").folder


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


class Keys:
    """A learner without a mouse: goes on with Tab until what has the focus is what they want."""

    def __init__(self, page):
        self.page = page

    def press(self, key, times=1):
        for _ in range(times):
            self.page.keyboard.press(key)

    def go_to(self, wanted):
        """Press Tab until the focus is on a control inside a locator."""
        goal = wanted.element_handle()
        tab = "Shift+Tab" if goal.evaluate(_IS_BEFORE) else "Tab"
        for _ in range(MOST_TABS):
            if goal.evaluate("it => it.contains(document.activeElement)"):
                return
            self.press(tab)
        raise AssertionError(f"{MOST_TABS} times Tab and never there: {wanted}")

    def choose(self, group, place):
        """Choose one of a list of options: Space takes the first, arrows go on and round."""
        self.go_to(group)
        options = group.get_by_role("radio")
        at = options.evaluate_all("all => all.indexOf(document.activeElement)")
        self.press("Space")
        self.press("ArrowDown", (place - at) % options.count())
        expect(options.nth(place)).to_be_checked()
        expect(options.nth(place)).to_be_focused()

    def has_ring(self):
        """Return whether what has the focus is seen to have it."""
        return self.page.evaluate("parseFloat(getComputedStyle(document.activeElement).outlineWidth) >= 2")


def test_every_kind_is_answered_by_keyboard_and_marked(desk, tutor, home):
    page, keys = desk.page, Keys(desk.page)
    asked, safe = papers(tutor)
    page.get_by_role("textbox", name="Your learner number").focus()
    page.keyboard.type("17")
    keys.press("Enter")
    expect(page.get_by_role("img").first).to_be_visible()
    desk.screenshot("kinds-top")

    # A number.
    keys.go_to(page.get_by_role("textbox", name="Your answer to (a)"))
    assert keys.has_ring()
    numbers = asked["numbers"]
    page.keyboard.type(f"{numbers['volume'] * numbers['rise'] * 1.163 / 1000:.3g} kWh")
    # An option.
    keys.choose(page.locator(".tlib-choice", has_text="Your answer to (b)"), place(asked["why"]["things"], "Check"))
    assert keys.has_ring()
    desk.screenshot("kinds-options")
    # Steps: each is moved up to its place, and the focus goes with it.
    shown = [next(n for n, step in enumerate(STEPS) if thing.startswith(step)) for thing in asked["recharge"]["things"]]
    rows = page.locator(".tlib-step")
    for wanted in range(len(STEPS)):
        at = shown.index(wanted)
        if at > wanted:
            keys.go_to(rows.nth(at).get_by_role("button", name="Earlier"))
            keys.press("Enter")
            for higher in range(at - 1, wanted, -1):
                expect(rows.nth(higher).get_by_role("button", name="Earlier")).to_be_focused()
                keys.press("Enter")
            expect(page.get_by_text(f": now step {wanted + 1} of 5.", exact=False)).to_be_visible()
            shown.insert(wanted, shown.pop(at))
    assert keys.has_ring()
    desk.screenshot("kinds-steps")
    # A log: the fault and the test.
    log = asked["log"]
    lists = page.locator(".tlib-choice", has_text="Your answer to (d)")
    fault = kinds.fault_in(log["picture"]).capitalize()
    test = {"Charge pump dead": "Feel", "Wet wood": "Measure"}[fault]
    keys.choose(lists.nth(0), place(log["things"], fault))
    desk.screenshot("kinds-log")
    keys.choose(lists.nth(1), place(log["tests"], test))
    # A spot.
    spot = next(at for at, thing in enumerate(asked["spot"]["things"]) if thing in kinds.SPOTS)
    keys.go_to(page.locator(".tlib-ticks .widget-checkbox").nth(spot))
    keys.press("Space")
    expect(page.get_by_text(f"Marked: {spot + 1}.", exact=True)).to_be_visible()
    assert keys.has_ring()
    desk.screenshot("kinds-spots")
    # Words.
    keys.go_to(page.get_by_role("textbox", name="Your answer to (f)"))
    page.keyboard.type("Because water grows.")
    keys.press("Enter")
    page.keyboard.type("It has 300 litres.")
    # Safety, and several options.
    keys.choose(page.locator(".tlib-choice", has_text="Your answer to (a)"), place(safe["act"]["things"], "Find"))
    for right in ("The relief", "The heat-leak"):
        box = (
            page.get_by_role("checkbox", name=re.compile(f"^[A-D]. {right}"))
            .locator("xpath=ancestor::*[contains(@class,'tlib-tick')]")
            .first
        )
        keys.go_to(box)
        keys.press("Space")
    expect(page.get_by_text(re.compile(r"Saved \d\d:\d\d:\d\d"))).to_have_count(8)
    desk.screenshot("kinds-safety")
    assert desk.findings() == []
    page.set_viewport_size({"width": 900, "height": 800})
    for name, text in {"options": "(b) The relief", "steps": "(c) Put", "log": "(d) Name", "spots": "(e) Mark"}.items():
        page.get_by_text(text).first.evaluate("it => it.scrollIntoView()")
        desk.screenshot(f"kinds-900-{name}")
    assert too_wide(page) == []

    keys.go_to(page.get_by_role("button", name="Hand in", exact=True))
    keys.press("Enter")
    expect(page.get_by_text("Your receipt is", exact=False)).to_be_visible()
    for file in (home / "tlib-answers" / "hand-in").iterdir():
        (tutor / "hand-ins" / file.name).write_bytes(file.read_bytes())
    tlib("mark", tutor / "hand-ins")
    with (tutor / "hand-ins-marked" / "mark-sheet.csv").open(encoding="utf-8-sig", newline="") as file:
        (noor,) = csv.DictReader(file)
    assert (noor["marks"], noor["out of"], noor["for the tutor"], noor["safety"]) == ("14", "17", "3", "passed")
    assert (noor["not answered"], noor["looks like"]) == ("0", "")


def papers(tutor):
    """Return both exercises of learner 17 as handed out: numbers and parts by name."""
    (paper,) = (tutor / "hand-out").glob("kinds-work-*/learner-17.json")
    sets = [one["sets"][0] for one in json.loads(paper.read_text(encoding="utf-8"))["exercises"]]
    return [{"numbers": one["numbers"], **{part["name"]: part for part in one["parts"]}} for one in sets]


def place(things, says):
    return next(at for at, thing in enumerate(things) if thing.startswith(says))


def too_wide(page):
    """Return what of our page reaches beyond the window."""
    return page.evaluate(
        "[...document.querySelectorAll('.tlib :is(p, label, img, button, input, textarea)')]"
        ".filter(it => it.getBoundingClientRect().right > innerWidth).map(it => it.outerHTML.slice(0, 120))"
    )
