"""Book 00 as a newcomer meets it: the page that the bare command opens, by keyboard, for two learners in turn."""

import re

import pytest
from playwright.sync_api import expect

from .conftest import desk_at
from .desk import Server

GUESS = "Nowhere: without power the fire goes out"


@pytest.fixture(scope="module")
def server(chromium, tmp_path_factory):
    with Server(tmp_path_factory.mktemp("first day"), None) as server:
        yield server


@pytest.fixture(scope="module")
def desk(chromium, server):
    with desk_at(chromium, server) as desk:
        desk.open_book()
        yield desk


def focused(page):
    """Return the words and the outline of what has the keyboard."""
    return page.evaluate(
        "() => { const it = document.activeElement;"
        "  return [it.textContent.trim(), getComputedStyle(it).outlineWidth]; }"
    )


def tab_to(page, words):
    """Press Tab until a thing of those words has the keyboard; return how thick its ring is."""
    for _ in range(60):
        page.keyboard.press("Tab")
        text, ring = focused(page)
        if text == words:
            return ring
    raise AssertionError(f"Tab never came to {words!r}")


def test_the_command_without_a_name_opens_the_first_page(desk):
    expect(desk.page.get_by_role("heading", name="Start here", exact=True)).to_be_visible()
    assert desk.dialogs() == []
    assert desk.says() == ""


def test_a_part_is_found_and_read_with_the_keyboard_alone(desk):
    page = desk.page
    page.get_by_role("textbox", name="Your learner number").focus()
    assert tab_to(page, "4. heat-leak radiator") == "3px"
    desk.screenshot("start-here-ring")
    page.keyboard.press("Enter")
    card = page.locator(".tlib-part-card")
    expect(card.get_by_role("heading", name="4. heat-leak radiator")).to_be_visible()
    expect(card.get_by_text("It takes heat from the fire at all times, in a power cut too.")).to_be_visible()
    expect(page.get_by_role("img", name="Chosen: 4. heat-leak radiator.")).to_be_visible()
    expect(page.get_by_role("radio", name="4. heat-leak radiator")).to_be_checked()
    assert focused(page)[0] == "4. heat-leak radiator", "the keyboard stays where it was"
    page.keyboard.press("Tab")
    page.keyboard.press("Space")
    expect(card.get_by_role("heading", name="5. feed-and-expansion cistern")).to_be_visible()


def test_a_button_lies_on_its_number_and_a_mouse_finds_it(desk):
    page = desk.page
    for button in page.locator(".tlib-spot").all():
        box = button.bounding_box()
        assert min(box["width"], box["height"]) >= 24, box  # WCAG 2.2, criterion 2.5.8
        number = button.text_content().split(".")[0]
        at = page.locator(".tlib-map svg text").filter(has_text=re.compile(f"^{number}$")).bounding_box()
        for side, length in (("x", "width"), ("y", "height")):
            assert abs(box[side] + box[length] / 2 - at[side] - at[length] / 2) <= 3, number
    box = page.get_by_role("button", name="9. boiler", exact=True).bounding_box()
    page.mouse.click(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    expect(page.locator(".tlib-part-card").get_by_role("heading", name="9. boiler")).to_be_visible()


def test_the_next_learner_sees_nothing_of_the_one_before(desk):
    page = desk.page
    answer = page.get_by_role("textbox", name="Your answer").first
    number = page.get_by_role("textbox", name="Your learner number")
    number.fill("17")
    number.press("Enter")
    expect(page.get_by_text("These are the answers of learner 17.")).to_be_visible()
    answer.fill("43.21 °C")
    page.get_by_role("radio", name=GUESS).check()
    page.get_by_role("button", name="Lock my prediction").click()
    expect(page.get_by_text(f"You predicted: {GUESS}")).to_be_visible()
    expect(page.get_by_text(re.compile(r"^Saved \d\d:\d\d:\d\d$"))).to_be_visible()

    page.get_by_role("button", name="Someone else is here").click()
    number.fill("18")
    number.press("Enter")
    expect(page.get_by_text("These are the answers of learner 18.")).to_be_visible()
    expect(answer).to_have_value("")
    expect(page.get_by_text("You predicted")).to_have_count(0)
    assert "43.21" not in page.locator(".tlib-page").inner_text()
    assert page.locator("input").evaluate_all("all => all.filter(one => one.value.includes('43.21')).length") == 0
    assert not page.get_by_text("learner 17").count()

    page.get_by_role("button", name="Someone else is here").click()
    number.fill("17")
    number.press("Enter")
    expect(answer).to_have_value("43.21 °C")
    expect(page.get_by_text(f"You predicted: {GUESS}")).to_be_visible()
    page.get_by_role("button", name="Hand in", exact=True).click()
    expect(page.get_by_text("Your receipt is", exact=False)).to_be_visible()
    assert desk.dialogs() == []


SMALL = """() => {
  const found = [];
  for (const it of document.querySelectorAll('.tlib-page .jp-Notebook *')) {
    const says = [...it.childNodes].some(node => node.nodeType === 3 && node.textContent.trim());
    const box = it.getBoundingClientRect();
    if (!says || !box.width || !box.height) continue;
    const wide = it.closest('svg')?.viewBox.baseVal.width;
    const scale = wide ? it.closest('svg').getBoundingClientRect().width / wide : 1;
    const size = parseFloat(getComputedStyle(it).fontSize) * scale;
    if (size < 12) found.push(`${size} px: ${it.textContent}`);
  }
  return found;
}"""


def test_no_words_are_smaller_than_twelve_pixels_and_the_page_never_scrolls_sideways(desk):
    assert desk.page.evaluate(SMALL) == []
    wide = desk.page.locator(".tlib-page .jp-WindowedPanel-outer").evaluate("it => [it.scrollWidth, it.clientWidth]")
    assert wide[0] <= wide[1]


def test_nothing_serious_for_the_accessibility_checker_and_nothing_asked_of_the_web(desk):
    assert desk.findings() == []
    assert desk.off_the_machine() == []


def test_the_list_of_books_opens_a_book_and_the_launcher_has_its_card(desk):
    page = desk.page
    page.get_by_role("link", name="Book 04: The evening fire").click()
    page.get_by_role("heading", name="The evening fire, the morning shower").wait_for()
    desk.choose("File", re.compile("^Close Tab"))
    desk.choose("File", re.compile("^Close Tab"))
    page.locator(".jp-LauncherCard", has_text="Start here").click()
    expect(page.get_by_role("heading", name="Start here", exact=True)).to_be_visible()
