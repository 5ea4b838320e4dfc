"""The kit in a real browser: a player that plays and rests, and a page that prints whole."""

import re

import pytest
from playwright.sync_api import expect

from .conftest import desk_at
from .kit import CELLS
from .sample import notebook

WIDE, HIGH = 680, 1009
"""What A4 leaves inside the margins of the print style [px]."""
IN_PIECES = """
things => {
  const columns = { width: '680px', height: '1009px', columnWidth: '680px', columnFill: 'auto', columnGap: '0px' };
  Object.assign(document.body.style, columns);
  return [...document.querySelectorAll(things)]
    .filter(each => each.getClientRects().length > 1).map(each => each.className);
}
"""
PRINTED = """
() => {
  document.documentElement.style.width = document.body.style.width = '680px';
  const seen = things => [...document.querySelectorAll(things)].filter(each => each.getBoundingClientRect().width > 0);
  const size = each => parseFloat(getComputedStyle(each).fontSize) * 0.75;
  return {
    wide: Math.max(...seen('body *').map(each => each.getBoundingClientRect().right)),
    pictures: seen('.tlib-picture :is(svg, img)').map(each => each.getBoundingClientRect().height),
    buttons: seen('button:not(.tlib-term), .slider-container, .jp-CodeMirrorEditor, .lm-MenuBar').length,
    cautions: seen('.tlib-caution').length,
    fields: seen('.tlib-part input').length,
    settings: seen('.tlib-row').map(each => [each.innerText.trim(), each.querySelector('input').value]),
    sizes: seen('.tlib p, .tlib dd, .jp-MarkdownOutput p, .tlib-part input').map(size),
  };
}
"""


@pytest.fixture(scope="module")
def kit(chromium, server):
    (server.folder / "96-kit.ipynb").write_text(notebook(*CELLS, workbook="96"), encoding="utf-8")
    with desk_at(chromium, server) as desk:
        desk.open_book("96-kit.ipynb")
        desk.page.get_by_role("textbox", name="Your learner number").fill("17")
        desk.page.get_by_role("button", name="This is me").click()
        desk.page.get_by_role("button", name="Watch it hour by hour").click()
        top(desk, "80.00")
        yield desk


def top(desk, degrees):
    """Wait until the player's picture says how hot the top is: 80 °C less 10 K in twenty hours."""
    expect(moment(desk)).to_have_attribute("aria-label", f"The top is {degrees} °C now.")


def moment(desk):
    return desk.page.get_by_role("img", name=re.compile("^The top is"))


def button(desk, name):
    return desk.page.get_by_role("button", name=name, exact=True)


def test_the_player_rests_until_a_key_starts_it_and_a_key_stops_it(kit):
    kit.page.wait_for_timeout(600)
    top(kit, "80.00")
    button(kit, "Play").focus()
    kit.page.keyboard.press("Enter")
    expect(button(kit, "Pause")).to_be_focused()
    kit.page.wait_for_timeout(2000)
    kit.page.keyboard.press("Enter")
    expect(button(kit, "Play")).to_be_visible()
    kit.page.wait_for_timeout(300)
    rests_at = moment(kit).get_attribute("aria-label")
    minute = int(kit.slider("Time:").get_attribute("aria-valuenow").split(".")[0])
    assert 30 <= minute <= 150, "two to ten pictures and more in two seconds, never more than five a second"
    assert rests_at == f"The top is {80 - 10 * minute / 1200:.2f} °C now."
    kit.page.wait_for_timeout(1200)
    assert moment(kit).get_attribute("aria-label") == rests_at


def test_a_moved_clock_is_where_play_goes_on(kit):
    kit.press("Time:", "End")
    top(kit, "70.00")
    expect(button(kit, "One step on")).to_be_disabled()
    kit.press("Time:", "ArrowLeft", times=3)
    top(kit, f"{80 - 10 * 1197 / 1200:.2f}")
    kit.press("Time:", "Home")
    top(kit, "80.00")
    button(kit, "One step on").click()
    top(kit, f"{80 - 10 * 10 / 1200:.2f}")
    expect(kit.page.get_by_text("Time: 18:10, in the evening")).to_be_visible()
    kit.page.get_by_role("textbox", name="Go to a time").fill("6:00")
    kit.page.keyboard.press("Enter")
    top(kit, "74.00")
    button(kit, "Play").click()
    button(kit, "Pause").click()
    kit.page.wait_for_timeout(300)
    assert float(re.search(r"[\d.]+", moment(kit).get_attribute("aria-label"))[0]) > 73.5
    kit.screenshot("kit-player")


def test_a_word_of_the_trade_is_explained_below_its_line_while_it_has_the_focus(kit):
    word = button(kit, "moisture").first
    meaning = kit.page.locator(".tlib-meaning:visible")
    assert meaning.count() == 0
    word.focus()
    kit.page.keyboard.press("Shift+Tab")
    kit.page.keyboard.press("Tab")
    expect(word).to_be_focused()
    expect(meaning).to_have_text("moisture: How much of a log's weight is water. Dry logs have less than a fifth.")
    line, below = word.bounding_box(), meaning.bounding_box()
    assert line["y"] + line["height"] <= below["y"] < line["y"] + 2.5 * line["height"]
    assert kit.findings() == []
    kit.screenshot("kit-word")
    kit.page.keyboard.press("Tab")
    expect(meaning).to_have_count(0)


def test_nothing_serious_for_the_accessibility_checker(kit):
    assert kit.findings() == []


def test_the_page_prints_on_a4_with_nothing_cut_and_nothing_to_press(kit):
    pdf = kit.page.pdf(prefer_css_page_size=True)
    assert 3 <= len(re.findall(rb"/Type /Page\b(?!s)", pdf)) <= 5
    assert set(re.findall(rb"/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]", pdf)) == {(b"594.95996", b"841.91998")}
    kit.page.emulate_media(media="print")
    try:
        page = kit.page.evaluate(PRINTED)
        assert page["wide"] <= WIDE, "a browser shrinks all to fit what is too wide"
        assert len(page["pictures"]) == 3
        assert all(100 < height < HIGH for height in page["pictures"])
        assert (page["buttons"], page["cautions"], page["fields"]) == (0, 1, 8)
        assert [(words.split("\n")[0], value) for words, value in page["settings"]] == [("Top (°C)", "80")]
        assert all(10.9 <= size <= 12.1 for size in page["sizes"]), sorted(set(page["sizes"]))
        whole = ".tlib-picture, .tlib-part, .tlib-caution, .tlib:has(.tlib-part)"
        assert kit.page.evaluate(IN_PIECES, whole) == []
        kit.page.add_style_tag(content=f"#main :is({whole}, .tlib *) {{ break-inside: auto !important; }}")
        assert kit.page.evaluate(IN_PIECES, whole), "without the rule something would be cut, so the test can fail"
    finally:
        kit.page.emulate_media(media="screen")
