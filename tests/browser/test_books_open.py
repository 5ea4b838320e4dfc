"""Every book in a real browser: it runs, its panel opens to a guess and answers a key, and all of it is in reach."""

import pytest

from tlib.panels.books import full_store, hot_on_top, slow_leak

from .conftest import desk_at
from .desk import Server

BOOKS = {"01": full_store, "02": hot_on_top, "03": slow_leak}
"""The books without a story of their own, and the module of each one's panel."""

GONE = """
words => ![...document.querySelectorAll('.tlib-pictures :is(svg[role=img], img)')]
  .some(each => (each.getAttribute('aria-label') ?? each.alt) === words)
"""


@pytest.fixture(scope="module")
def server(tmp_path_factory):
    with Server(tmp_path_factory.mktemp("books"), "01") as server:
        yield server


def told(desk):
    """Return what the pictures of the panel say."""
    seen = desk.page.locator(".tlib-pictures :is(svg[role=img], img)").all()
    return [picture.get_attribute("aria-label") or picture.get_attribute("alt") for picture in seen]


@pytest.mark.parametrize("book", BOOKS)
def test_a_book_opens_takes_a_guess_and_answers(chromium, server, book):
    guess, slider = BOOKS[book].prediction().options[0], BOOKS[book].SIGHT[0].said
    (file,) = server.folder.glob(f"{book}-*.ipynb")
    with desk_at(chromium, server) as desk:
        desk.page.set_default_timeout(180_000)  # a cold engine on a busy machine
        desk.open_book(file.name)
        if book == "01":
            desk.sit_down("17", guess)
        else:
            desk.predict(guess)
            desk.page.locator(".tlib-pictures [role=img], .tlib-pictures img").first.wait_for()
        assert desk.says() == ""
        before = told(desk)
        assert any("You predicted:" in words for words in before)
        desk.press(slider, "ArrowRight", times=2)
        desk.page.wait_for_function(GONE, arg=before[0])
        parts = desk.page.locator(".tlib-part").count()
        assert parts >= 14, "a book has seven exercises or more, and its first ones"
        assert desk.dialogs() == []
        assert desk.findings() == []
        desk.screenshot(f"book-{book}")
