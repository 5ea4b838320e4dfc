"""Words of the trade, each said in one plain sentence."""

import json
import re
from html import escape

import ipywidgets as widgets

from tlib.assessment import bank
from tlib.panels.glossary import meanings, terms_in
from tlib.panels.markup import shown
from tlib.panels.style import sheet
from tlib.tables import shipped, table
from tlib.validation import OutOfRange

__all__ = ["texts_of", "words", "words_used"]

_EXERCISE = re.compile(r"""\banswer\(\s*["']([a-z0-9-]+)["']""")


def words(*terms):
    """Return a short list of words of the trade with what they mean.

    Parameters
    ----------
    *terms : str
        Words of the glossary, such as ``"coil"``.

    Returns
    -------
    ipywidgets.VBox
        For the last line of a cell.

    Raises
    ------
    OutOfRange
        If the glossary does not have one of them.
    """
    glossary = meanings()
    if unknown := [term for term in terms if term not in glossary]:
        raise OutOfRange(f"words must be in the glossary; got {', '.join(unknown)}.")
    lines = "".join(f"<dt>{escape(term)}</dt><dd>{escape(glossary[term])}</dd>" for term in terms)
    page = widgets.VBox([sheet(), shown(f'<dl class="tlib-meanings">{lines}</dl>')])
    page.add_class("tlib")
    return page


def words_used(workbook, *more):
    """Return the list for the end of a book: exactly the words of the trade that it used, in order of the alphabet.

    Parameters
    ----------
    workbook : str
        Its number, such as ``"04"``. Its text, its exercises and its caution are read.
    *more : str
        Other texts that a learner meets there, such as the question of its prediction.

    Returns
    -------
    ipywidgets.VBox
        For the last line of a cell.

    Raises
    ------
    OutOfRange
        If there is no such workbook.
    """
    return words(*sorted(terms_in("\n\n".join([*texts_of(workbook), *more]))))


def texts_of(workbook):
    """Yield every text of a book that can be read without running it.

    Parameters
    ----------
    workbook : str
        Its number.

    Yields
    ------
    str
        Its cells of text, what its exercises say, and its caution.

    Raises
    ------
    OutOfRange
        If there is no such workbook.
    """
    files = sorted(shipped("workbooks").glob(f"{workbook}-*.ipynb"))
    if not files:
        raise OutOfRange(f"workbook must be the number of one that is there; got {workbook!r}.")
    exercises, _, _ = bank.read_folder(shipped("exercises"))
    for cell in json.loads(files[0].read_text(encoding="utf-8"))["cells"]:
        source = "".join(cell["source"])
        if cell["cell_type"] == "markdown":
            yield re.sub(r"[*_`]", "", source)
        else:
            for found in _EXERCISE.finditer(source):
                yield from _said_by(exercises[found[1]])
    yield table("cautions")["caution"].get(workbook, "")


def _said_by(exercise):
    yield exercise.story
    for part in exercise.part:
        yield part.ask
        yield from part.hints
        yield from (option.says for option in getattr(part, "options", ()))
        yield from getattr(part, "steps", ())
