"""Book 00, the whole installation on one picture: choose any part by mouse or keyboard, and read what it is for."""

from html import escape

import ipywidgets as widgets

from tlib.figures.schematic import schematic
from tlib.installation.schematic_parts import PAGE
from tlib.installation.schematic_plan import plan_of
from tlib.panels.books.first_steps import books
from tlib.panels.books.places import larkrigg
from tlib.panels.markup import heading, paragraph, shown, unbroken
from tlib.panels.picture_box import PictureBox
from tlib.panels.style import sheet
from tlib.tables import table

__all__ = ["Tour", "check", "told", "tour"]

TARGET = 26
"""Width and height of a button on the picture [px]; WCAG 2.2 asks for 24."""
ASK = "Choose a part: press its number in the picture, or its name in the list."


class Tour:
    """A schematic whose numbered spots are buttons, a list of the same parts, and a card for the chosen one.

    Parameters
    ----------
    site : tlib.installation.Installation
        As read from a file.

    Attributes
    ----------
    spots : tuple of Spot
        The parts in the order of their numbers.
    buttons : tuple of ipywidgets.Button
        One over each number of the picture; its words are the number and the part's name.
    list : ipywidgets.RadioButtons
        The same parts in words.
    drawing : PictureBox
        The schematic, the chosen part with a double ring.
    card : ipywidgets.HTML
        What the chosen part is, why it is here, what could hurt.
    widget : ipywidgets.VBox
        All of it.
    """

    def __init__(self, site):
        self._site, self._plan = site, plan_of(site)
        self.spots = self._plan.spots
        self.drawing, self.card = PictureBox(), shown(kind="part-card")
        self.buttons = tuple(map(self._button, self.spots, self._plan.parts))
        self.list = widgets.RadioButtons(
            description="All parts", options=[(_said(spot), spot.number) for spot in self.spots], value=None
        )
        for kind in ("tlib-choice", "tlib-above", "tlib-parts"):
            self.list.add_class(kind)
        self.list.observe(lambda _: self._draw(), "value")
        self.widget = widgets.VBox([sheet(), self._desk(), self.list])
        self.widget.add_class("tlib")
        self._draw()

    def choose(self, number):
        """Choose a part by its number: the picture rings it and the card tells of it."""
        self.list.value = number

    def _button(self, spot, part):
        made = widgets.Button(description=_said(spot))
        made.add_class("tlib-spot")
        for side, at, page in (("left", part.spot[0], PAGE[0]), ("top", part.spot[1], PAGE[1])):
            setattr(made.layout, side, f"{100 * at / page:.2f}%")  # of its middle; the stylesheet moves it half back
        made.on_click(lambda _: self.choose(spot.number))
        return made

    def _desk(self):
        """Lay the buttons over the picture; the words and the table of the picture go below both."""
        map_ = widgets.Box([self.drawing.drawing, *self.buttons])
        map_.add_class("tlib-map")
        scroll = widgets.Box([map_])
        scroll.add_class("tlib-map-scroll")
        picture = widgets.VBox([scroll, self.drawing.table.widget])
        desk = widgets.Box([picture, self.card])
        desk.add_class("tlib-tour")
        return desk

    def _draw(self):
        spot = next((spot for spot in self.spots if spot.number == self.list.value), None)
        marked = [spot.number] if spot else []
        words = f"The installation at {self._site.name}: {len(self.spots)} numbered parts round the store."
        if spot:
            words += f" Chosen: {_said(spot)}."
        self.drawing.take(schematic(self._plan, marked, title=self._site.name, words=words))
        self.card.value = _card(spot) if spot else _spoken(paragraph(ASK))


def _said(spot):
    return f"{spot.number}. {spot.says}"


def _card(spot):
    """Write the card of a part, for a screen reader to speak when it changes."""
    words, entry = table("parts"), table("parts")["part"][spot.name]
    told = (
        ("What it is", entry["is"]),
        ("Why it is here", entry["why"]),
        ("What could hurt", entry["hurts"]),
        ("What it needs", words["needs"][entry["needs"]]),
        ("More", _book(entry["book"])),
    )
    lines = "".join(f"<dt>{title}</dt><dd>{escape(unbroken(text))}</dd>" for title, text in told)
    return _spoken(f"{heading(_said(spot))}<dl>{lines}</dl>{paragraph(table('cautions')['ending'], 'quiet')}")


def _book(number):
    """Say which book is about a part, and whether there is that book yet."""
    if number not in books():
        return f"Book {number} will be about it. It is not written yet."
    return f"Book {number}, {books()[number][1]}, is about it."


def _spoken(markup):
    return f'<div role="status" aria-live="polite">{markup}</div>'


def tour():
    """Return the tour of Larkrigg Farm.

    Returns
    -------
    ipywidgets.VBox
        For the last line of a cell.
    """
    return Tour(larkrigg()).widget


def told():
    """Return every text that the cards of Larkrigg Farm hold, for the list of words at the end of the page.

    Returns
    -------
    tuple of str
        Names and sentences.
    """
    parts = table("parts")["part"]
    return tuple(text for spot in plan_of(larkrigg()).spots
                 for text in (spot.says, *(parts[spot.name][key] for key in ("is", "why", "hurts"))))  # fmt: skip


def check():
    """Return how many parts there are, and that each is told of, in one sentence.

    Returns
    -------
    str
        One sentence.
    """
    spots = plan_of(larkrigg()).spots
    told = sum(spot.name in table("parts")["part"] for spot in spots)
    return f"{larkrigg().name} has {len(spots)} parts, and there is something to say about {told} of them."
