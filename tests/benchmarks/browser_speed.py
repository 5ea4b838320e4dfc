"""How long a learner waits: ``python tests/benchmarks/browser_speed.py [BOOK SLIDER [GUESS]]``.

With a guess the panel's prediction is locked first. Prints seconds from ``python -m tlib open`` to the ready mark, and
milliseconds from a key press on a slider to the frame after the new picture. Without arguments it uses the browser
tests' own small workbook.
"""

import statistics
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from browser.desk import Desk, Server, find_browser, launch
from browser.sample import PANEL, notebook
from playwright.sync_api import sync_playwright

OPENINGS, WARM, PRESSES = 3, 5, 50
WATCH = """
() => {
  window.waits = [];
  let pressed = null;
  addEventListener('keydown', event => { pressed = event.timeStamp; }, true);
  new MutationObserver(changes => {
    const redrawn = changes.some(({ target }) => target.querySelector?.('[role=img], img'));
    if (redrawn && pressed !== null) {
      const start = pressed;
      pressed = null;
      requestAnimationFrame(() => window.waits.push(performance.now() - start));
    }
  }).observe(document.querySelector('.tlib-page .jp-Notebook'), { childList: true, subtree: true });
}
"""


def opening(driver, book, guess):
    """Return seconds from the command to the server, to the ready mark and to the first picture or slider."""
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as home:
        server = Server(Path(home), book)
        (server.folder / "98-sample.ipynb").write_text(notebook(PANEL), encoding="utf-8")
        browser = launch(driver, find_browser())
        start = time.perf_counter()
        with server:
            up = time.perf_counter() - start
            desk = Desk(browser.new_page(), server)
            desk.open_book()
            ready = time.perf_counter() - start
            sit_down(desk, guess)
            desk.page.get_by_role("slider").first.wait_for()
            panel = time.perf_counter() - start
            browser.close()
    return up, ready, panel


def sit_down(desk, guess):
    """Lock the guess, where the workbook asks for one."""
    if guess:
        desk.sit_down("17", guess)


def presses(driver, book, slider, guess):
    """Return milliseconds from each key press to the frame that follows the new picture."""
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as home:
        server = Server(Path(home), book)
        (server.folder / "98-sample.ipynb").write_text(notebook(PANEL), encoding="utf-8")
        with server:
            browser = launch(driver, find_browser())
            desk = Desk(browser.new_page(), server)
            desk.open_book()
            sit_down(desk, guess)
            desk.slider(slider).wait_for()
            desk.page.evaluate(WATCH)
            for number in range(WARM + PRESSES):
                desk.press(slider, "ArrowRight" if number % 2 else "ArrowLeft")
                desk.page.wait_for_function("count => window.waits.length > count", arg=number)
                desk.page.wait_for_timeout(50)
            waits = desk.page.evaluate("window.waits")[WARM:]
            browser.close()
    return waits


def main():
    book, slider, guess = [*sys.argv[1:], "", ""][:3] if len(sys.argv) > 1 else ("98", "Top temperature", "")
    with sync_playwright() as driver:
        for up, ready, panel in (opening(driver, book, guess) for _ in range(OPENINGS)):
            print(f"open: server {up:.1f} s, ready mark {ready:.1f} s, first panel {panel:.1f} s")
        waits = sorted(presses(driver, book, slider, guess))
    p95 = statistics.quantiles(waits, n=20)[-1]
    print(f"press to picture, {len(waits)} presses: p50 {statistics.median(waits):.0f} ms, p95 {p95:.0f} ms")


if __name__ == "__main__":
    main()
