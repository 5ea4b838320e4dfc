"""A box for the learner's own sentences, kept as evidence and marked by nobody."""

import ipywidgets as widgets

from tlib.assessment.typing_pace import TypingPace
from tlib.panels.markup import paragraph, shown, status
from tlib.panels.sitting import Keeper, saved_at, sitting
from tlib.panels.style import sheet

__all__ = ["OwnWords", "own_words"]


class OwnWords:
    """A question that a learner answers in sentences.

    Parameters
    ----------
    name : str
        The name under which the answer book keeps it.
    ask : str
        What to write about.
    place : Sitting, optional
        The page's own by default.

    Attributes
    ----------
    field : ipywidgets.Textarea
        Where it is written.
    saved : ipywidgets.HTML
        When it was saved.
    """

    def __init__(self, name, ask, place=None):
        self.name, self._place, self._quiet = name, place or sitting(), False
        self.field = widgets.Textarea(description="Your words", rows=3, continuous_update=True)
        self.field.add_class("tlib-writing")
        self.saved = shown()
        self._pace = self._new_pace()
        self.field.observe(lambda change: self._quiet or self._pace.typed(said=name, text=change["new"]), "value")
        self.widget = widgets.VBox([sheet(), shown(paragraph(ask)), self.field, self.saved])
        self.widget.add_class("tlib")
        self._place.on_switch(self._restore)
        self._restore()

    def _restore(self):
        self._pace = self._new_pace()
        kept = [e for e in self._place.events() if e["event"] == "said" and e.get("said") == self.name]
        ours = "" if self._place.before else self.field.value
        self._quiet = True
        self.field.value = kept[-1]["text"] if kept else ours
        self._quiet = False
        self.saved.value = status(f"Saved {saved_at(kept[-1])}", "quiet") if kept else ""
        if ours and not kept:
            self._pace.typed(said=self.name, text=ours)

    def _new_pace(self):
        return TypingPace(_Said(Keeper(self._place)), self._say_saved, failed=lambda fault: self._say(str(fault)))

    def _say_saved(self, event):
        self._say(f"Saved {saved_at(event)}", "quiet")

    def _say(self, text, kind=""):
        self.saved.value = status(text, kind)


class _Said:
    """Keeps as "said" what the typing pace would keep as an answer."""

    def __init__(self, keeper):
        self._keeper = keeper

    def append(self, _, **fields):
        return self._keeper.append("said", **fields)


def own_words(name, ask):
    """Return a box for the learner's own sentences.

    Parameters
    ----------
    name : str
        The name under which the answer book keeps it, such as ``"what-did-you-see"``.
    ask : str
        What to write about.

    Returns
    -------
    ipywidgets.VBox
        For the last line of a cell.
    """
    return OwnWords(name, ask).widget
