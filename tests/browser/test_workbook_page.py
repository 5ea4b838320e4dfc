"""What a learner meets when a workbook opens: panels without code, no dialogs, and a page that mends itself."""

import os
import re
import signal

import pytest
from playwright.sync_api import expect

from .conftest import desk_at


def kernel_of(desk):
    """Return the process number that the sample workbook prints."""
    return int(desk.page.get_by_text(re.compile(r"Kernel \d+")).inner_text().split()[-1].rstrip("."))


@pytest.fixture
def opened(desk):
    desk.open_book()
    desk.slider("Top temperature").wait_for()
    return desk


@pytest.fixture(scope="module")
def seen(chromium, server):
    """Return one opened page for all tests that look and press, and leave the page as it is."""
    with desk_at(chromium, server) as desk:
        desk.open_book()
        desk.slider("Top temperature").wait_for()
        yield desk


def test_opens_by_the_readme_command_with_no_dialog_and_no_code(seen):
    assert seen.dialogs() == []
    assert seen.says() == ""
    assert seen.page.get_by_role("heading", name="Filling a store").is_visible()
    for hidden in (".jp-CodeMirrorEditor", ".jp-InputPrompt", ".jp-OutputPrompt", ".jp-NotebookPanel-toolbar"):
        assert seen.page.locator(f"{hidden}:visible").count() == 0, hidden
    seen.screenshot("sample-opened")


def test_a_press_on_a_slider_found_by_name_changes_the_picture(seen):
    expect(seen.slider("Top temperature (°C)")).to_have_attribute("aria-valuenow", "60.0")
    seen.press("Top temperature", "ArrowRight")
    seen.page.get_by_role("img", name="A store at 65 °C").wait_for()
    seen.press("Top temperature", "ArrowDown", times=2)
    seen.page.get_by_role("img", name="A store at 55 °C").wait_for()
    expect(seen.page.get_by_text("The top is at 55 °C")).to_be_visible()
    seen.press("Top temperature", "ArrowUp")
    seen.page.get_by_role("img", name="A store at 60 °C").wait_for()


def test_a_screen_reader_finds_the_number_box_and_the_choices_by_name(seen):
    assert seen.page.get_by_role("textbox", name="Top temperature (°C)").inner_text() == "60"
    choices = seen.page.get_by_role("radiogroup", name="Heated by")
    assert choices.get_by_role("radio").count() == 2


def test_nothing_serious_for_the_accessibility_checker(seen):
    assert seen.findings() == []


def test_no_request_leaves_the_machine_and_no_news_is_asked_for(seen):
    assert seen.off_the_machine() == []
    assert [url for url in seen.requests if "/api/news" in url or "/api/update" in url] == []


def test_keys_pressed_on_the_page_never_edit_the_notebook(opened):
    cells = opened.page.locator(".jp-Cell").count()
    opened.slider("Top temperature").focus()
    for key in ("b", "a", "d", "d", "x", "Shift+Enter", "Control+s"):
        opened.page.keyboard.press(key)
    opened.page.get_by_role("heading", name="Filling a store").dblclick()
    assert opened.page.locator(".jp-Cell").count() == cells
    assert opened.page.locator(".jp-CodeMirrorEditor:visible").count() == 0
    assert opened.dialogs() == []


def test_closing_the_workbook_asks_nothing_and_saves_nothing(opened):
    before = (opened.server.folder / "98-sample.ipynb").read_bytes()
    opened.press("Top temperature")
    opened.page.get_by_role("img", name="A store at 65 °C").wait_for()
    opened.choose("File", re.compile("^Close Tab"))
    expect(opened.page.locator(".tlib-page")).to_have_count(0)
    assert opened.dialogs() == []
    card = opened.page.locator(".jp-LauncherCard", has_text="98 Sample")
    card.wait_for()
    opened.screenshot("sample-launcher")
    card.click()
    opened.wait_ready()
    assert (opened.server.folder / "98-sample.ipynb").read_bytes() == before


def test_runs_again_when_the_learner_restarts_the_kernel(opened):
    before = kernel_of(opened)
    opened.restart_kernel()
    opened.press("Top temperature", "End")
    opened.page.get_by_role("img", name="A store at 90 °C").wait_for()
    assert kernel_of(opened) != before
    assert opened.dialogs() == []


def test_runs_again_when_the_kernel_dies(opened):
    os.kill(kernel_of(opened), getattr(signal, "SIGKILL", signal.SIGTERM))
    expect(opened.page.get_by_text("Your saved answers are safe")).to_be_visible()
    opened.wait_ready(runs=2)
    opened.press("Top temperature", "Home")
    opened.page.get_by_role("img", name="A store at 10 °C").wait_for()
    assert opened.dialogs() == []


def test_a_reload_of_the_page_brings_the_panels_back(opened):
    before = kernel_of(opened)
    opened.page.reload()
    opened.wait_ready()
    opened.press("Top temperature")
    opened.page.get_by_role("img", name="A store at 65 °C").wait_for()
    expect(opened.page.get_by_text("Kept from one run to the next.")).to_be_visible()
    assert opened.page.get_by_text(re.compile("Error displaying widget|javascript error")).count() == 0
    assert kernel_of(opened) != before
    assert opened.dialogs() == []


def test_a_fault_is_told_in_a_plain_sentence_without_code(desk):
    desk.go("97-broken.ipynb")
    expect(desk.page.get_by_role("status").get_by_text("Starting the panels…")).to_be_visible()
    desk.wait_ready(state="failed")
    assert "Something went wrong in this workbook" in desk.says()
    assert desk.page.get_by_text("ZeroDivisionError").locator("visible=true").count() == 0
    desk.screenshot("sample-broken")
    desk.toggle_code()
    expect(desk.page.get_by_text("ZeroDivisionError").first).to_be_visible()


def test_a_tutor_can_show_and_hide_the_code(opened):
    opened.toggle_code()
    expect(opened.page.locator(".jp-NotebookPanel-toolbar")).to_be_visible()
    expect(opened.page.locator(".jp-CodeCell .jp-InputPrompt").first).to_be_visible()
    opened.screenshot("sample-code-shown")
    opened.toggle_code()
    expect(opened.page.locator(".jp-NotebookPanel-toolbar")).to_be_hidden()


def test_a_notebook_without_our_key_is_left_alone(desk):
    desk.go("somebody-elses.ipynb")
    desk.page.locator(".jp-Notebook .jp-MarkdownOutput").first.wait_for()
    desk.page.wait_for_timeout(2000)
    assert desk.page.locator(".tlib-page, .jp-OutputArea-output").count() == 0
    assert desk.page.locator(".jp-NotebookPanel-toolbar").is_visible()


def test_without_the_extension_run_all_cells_brings_the_panels(desk):
    desk.page.route("**/thermal-store-workbook/static/entry.js*", lambda route: route.abort())
    desk.go()
    desk.page.get_by_role("heading", name="Filling a store").wait_for()
    desk.page.locator('[data-status="idle"]').first.wait_for()
    desk.run_all_cells(until=desk.page.get_by_role("img", name="A store at 60 °C"))
    assert desk.page.locator(".tlib-page").count() == 0
