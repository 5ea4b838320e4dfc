"""A contact sheet of every book, and what a ruler finds: ``python tests/trials/contact_sheet.py FOLDER [BOOK ...]``.

Each book is opened as a learner opens it, at 1280 by 800 and at 200 % zoom. FOLDER gets the whole page at both sizes,
every picture by itself, and each picture in grey and as three kinds of colour-blind eyes see it. Printed is what lies
beyond the house's limits: text under 12 px, words that meet inside a picture, a page that scrolls sideways, and what
the accessibility checker calls serious, contrast among it. Contrast inside a drawing is held by the tests of `figures`,
and words inside a chart's image cannot be measured here. Nothing here passes or fails: look at the pictures.
"""

import sys
import tempfile
from pathlib import Path

import numpy as np
from PIL import Image

sys.path.insert(0, str(Path(__file__).parents[1]))

from browser.desk import Desk, Server, find_browser, launch
from playwright.sync_api import sync_playwright

from tlib.panels.books.first_steps import books

SIZES = {"wide": ({"width": 1280, "height": 800}, 1), "zoom": ({"width": 640, "height": 400}, 2)}
"""1280 by 800, and the same at 200 %, which is half as many pixels of the page, each twice as large."""
SIGHTS = {"protan": "protanomaly", "deutan": "deuteranomaly", "tritan": "tritanomaly"}
SMALLEST = 12
MEASURE = """
smallest => {
  const page = document.querySelector('.tlib-page .jp-Notebook');
  const seen = each => each.getClientRects().length && getComputedStyle(each).visibility !== 'hidden';
  const own = each => [...each.childNodes].some(node => node.nodeType === 3 && node.textContent.trim());
  const found = [];
  for (const each of page.querySelectorAll('*')) {
    if (!own(each) || !seen(each) || each.closest('.jp-CodeMirrorEditor, style, script, title')) continue;
    const svg = each.ownerSVGElement;
    const scale = svg ? svg.getBoundingClientRect().width / svg.viewBox.baseVal.width || 1 : 1;
    const size = parseFloat(getComputedStyle(each).fontSize) * scale;
    if (size < smallest - 0.01 && each.getBoundingClientRect().width > 1)
      found.push(`text of ${size.toFixed(1)} px: ${each.textContent.trim().slice(0, 40)}`);
  }
  for (const svg of page.querySelectorAll('svg[role=img]')) {
    const frame = svg.getBoundingClientRect();
    const texts = [...svg.querySelectorAll('text')].filter(seen)
      .map(each => [each.textContent, each.getBoundingClientRect()]);
    texts.forEach(([words, box], place) => {
      if (box.left < frame.left - 1 || box.right > frame.right + 1 || box.bottom > frame.bottom + 1)
        found.push(`words out of the picture: ${words}`);
      for (const [others, other] of texts.slice(place + 1)) {
        const wide = Math.min(box.right, other.right) - Math.max(box.left, other.left);
        const high = Math.min(box.bottom, other.bottom) - Math.max(box.top, other.top);
        if (wide > 2 && high > 4) found.push(`words that meet: ${words} | ${others}`);
      }
    });
  }
  const scroller = document.querySelector('.tlib-page .jp-WindowedPanel-outer') ?? page;
  const beyond = scroller.scrollWidth - scroller.clientWidth;
  if (beyond > 1) found.push(`the page scrolls sideways by ${beyond} px`);
  return found;
}
"""


def sit_down(desk):
    """Give a learner number and lock the first guess that is offered, as a learner would."""
    page = desk.page
    page.get_by_role("textbox", name="Your learner number").fill("17")
    page.get_by_role("button", name="This is me").click()
    page.get_by_text("These are the answers of learner 17.").wait_for()
    page.wait_for_timeout(3000)
    for lock in page.get_by_role("button", name="Lock my prediction").all():
        options = page.get_by_role("radiogroup", name="Your prediction").first.get_by_role("radio")
        desk.predict(options.first.locator("xpath=..").inner_text().strip())
        lock.wait_for(state="hidden")
    page.wait_for_timeout(3000)


def whole(page, size):
    """Make the window as tall as the page, so that one screenshot holds all of it."""
    tall = page.evaluate("document.querySelector('.tlib-page .jp-WindowedPanel-outer').scrollHeight")
    page.set_viewport_size({**size, "height": min(int(tall) + 140, 15_000)})
    page.wait_for_timeout(2500)


def seen_by(path):
    """Write a picture again in grey and as three kinds of colour-blind eyes see it."""
    from colorspacious import cspace_convert

    rgb = np.asarray(Image.open(path).convert("RGB")) / 255
    linear = np.where(rgb <= 0.04045, rgb / 12.92, ((rgb + 0.055) / 1.055) ** 2.4)
    light = linear @ [0.2126, 0.7152, 0.0722]
    grey = np.where(light <= 0.0031308, 12.92 * light, 1.055 * light ** (1 / 2.4) - 0.055)
    views = {"grey": np.repeat(grey[..., None], 3, axis=2)}
    for name, kind in SIGHTS.items():
        space = {"name": "sRGB1+CVD", "cvd_type": kind, "severity": 100}
        views[name] = cspace_convert(rgb, space, "sRGB1")
    for name, view in views.items():
        Image.fromarray((255 * np.clip(view, 0, 1)).round().astype("uint8")).save(path.with_stem(f"{path.stem}-{name}"))


def pictures(page, folder, book):
    """Save every picture of the page by itself, and what each of them says."""
    said = []
    for number, picture in enumerate(page.locator(".tlib-picture :is(svg[role=img], img):visible").all(), start=1):
        path = folder / f"book-{book}-picture-{number:02d}.png"
        picture.screenshot(path=path)
        seen_by(path)
        said.append(f"{path.name}: {picture.get_attribute('aria-label') or picture.get_attribute('alt')}")
    (folder / f"book-{book}-words.txt").write_text("\n".join(said), encoding="utf-8")


def sheet(driver, book, folder):
    """Open one book, save its pages and pictures, and return what the ruler found."""
    found = []
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as home, Server(Path(home), book) as server:
        browser = launch(driver, find_browser())
        for name, (size, scale) in SIZES.items():
            desk = Desk(browser.new_page(viewport=size, device_scale_factor=scale), server)
            desk.page.set_default_timeout(120_000)
            desk.open_book()
            if name == "wide":
                sit_down(desk)
            desk.page.locator(".tlib-pictures :is(svg[role=img], img)").first.wait_for()
            whole(desk.page, size)
            desk.page.screenshot(path=folder / f"book-{book}-{name}.png")
            found += [f"book {book}, {name}: {line}" for line in desk.page.evaluate(MEASURE, SMALLEST)]
            found += [f"book {book}, {name}: {line}" for line in desk.findings()]
            if name == "wide":
                pictures(desk.page, folder, book)
            desk.page.close()
        browser.close()
    return found


def main():
    folder, *chosen = sys.argv[1:]
    folder = Path(folder)
    folder.mkdir(parents=True, exist_ok=True)
    with sync_playwright() as driver:
        for book in chosen or books():
            found = sheet(driver, book, folder)
            print("\n".join([*found, f"book {book}: {len(found)} found"]), flush=True)


if __name__ == "__main__":
    main()
