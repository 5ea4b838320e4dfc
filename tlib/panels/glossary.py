"""Words of the trade, found in a text and explained where they stand."""

import re
from functools import cache
from html import escape

from tlib.tables import table

__all__ = ["explained", "meanings", "terms_in"]

_ONLY_AS_A_UNIT = {"bar": r"(?<=\d[ \xa0])bar"}  # a chart has bars too


@cache
def meanings():
    """Return what each word of the trade means, by word."""
    return table("glossary")["word"]


@cache
def _pattern():
    """Return a pattern that finds any word of the glossary, alone or in the plural, the longest first."""
    longest_first = sorted(meanings(), key=lambda term: (-len(term), term))
    words = (_ONLY_AS_A_UNIT.get(term) or rf"{re.escape(term)}(?:e?s)?".replace(r"\ ", r"[ \xa0\n]")
             for term in longest_first)  # fmt: skip
    return re.compile(rf"(?<![\w-])(?:{'|'.join(words)})(?![\w-])", re.IGNORECASE)


def _term(found):
    """Return the word of the glossary that was found."""
    word = re.sub(r"\s", " ", found[0].lower())
    return next(each for each in (word, word.removesuffix("s"), word.removesuffix("es")) if each in meanings())


def terms_in(text):
    """Return the words of the glossary that a text uses, in the order in which it first does.

    Parameters
    ----------
    text : str
        Any text.

    Returns
    -------
    tuple of str
        Words as the glossary has them.

    Examples
    --------
    >>> terms_in("Two coils warm the thermal store; each coil is copper.")
    ('coil', 'thermal store')
    """
    return tuple(dict.fromkeys(_term(found) for found in _pattern().finditer(text)))


def explained(text, seen=None):
    """Return a text as markup in which a word of the trade, where it first stands, can be asked for its meaning.

    Parameters
    ----------
    text : str
        Plain text; all of it is escaped.
    seen : set of str, optional
        Words that are explained already; those explained here are added.

    Returns
    -------
    str
        Markup for the inside of a paragraph. Such a word is a button, so that the Tab key and a finger reach it; its
        meaning is its title, and stands in a line below while it has the focus. No script is needed.

    Examples
    --------
    >>> explained("A <cold> coil.").startswith('A &lt;cold&gt; <button type="button" class="tlib-term" title="A long')
    True
    """
    seen, pieces, end = set() if seen is None else seen, [], 0
    for found in _pattern().finditer(text):
        if (term := _term(found)) not in seen:
            seen.add(term)
            pieces += [escape(text[end : found.start()]), _button(found[0], meanings()[term])]
            end = found.end()
    return "".join([*pieces, escape(text[end:])])


def _button(word, meaning):
    word, meaning = escape(word), escape(meaning)
    return (
        f'<button type="button" class="tlib-term" title="{meaning}">{word}</button>'
        f'<span class="tlib-meaning" aria-hidden="true">{word}: {meaning}</span>'
    )
