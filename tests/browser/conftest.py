"""One browser and one server for all browser tests; each test has a page of its own."""

import contextlib
import os

import pytest

from .desk import Desk, Server, find_browser, launch
from .sample import BROKEN, PANEL, notebook


@pytest.fixture(scope="session")
def chromium():
    """Return a headless browser; where there is none, skip, or fail if this is the build that must prove it."""
    path = find_browser()
    if path is None:
        says = "no Chromium, Chrome or Edge is installed here, so what the learner sees is not tested"
        pytest.fail(says) if os.environ.get("CI") else pytest.skip(says)
    from playwright.sync_api import expect, sync_playwright

    expect.set_options(timeout=60_000)  # a busy build machine, not a broken page
    with sync_playwright() as driver:
        browser = launch(driver, path)
        yield browser
        browser.close()


@pytest.fixture(scope="session")
def server(chromium, tmp_path_factory):
    """Return a running server, with the tests' own workbooks in the learner's folder."""
    server = Server(tmp_path_factory.mktemp("desk"), "98")
    books = {
        "98-sample.ipynb": notebook(PANEL),
        "97-broken.ipynb": notebook(PANEL, BROKEN),
        "somebody-elses.ipynb": notebook(PANEL, workbook=None),
    }
    for name, text in books.items():
        (server.folder / name).write_text(text, encoding="utf-8")
    with server:
        yield server


@contextlib.contextmanager
def desk_at(chromium, server):
    """Give a fresh page in front of the server, and close it afterwards."""
    context = chromium.new_context(viewport={"width": 1280, "height": 800})
    yield Desk(context.new_page(), server)
    context.close()
    server.end_kernels()


@pytest.fixture
def desk(chromium, server):
    with desk_at(chromium, server) as desk:
        yield desk
