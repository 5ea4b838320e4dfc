"""The balance of heat as two columns of an account: where it came from, and where it went or stayed."""

import math
from dataclasses import dataclass
from types import MappingProxyType

from tlib.figures import lettering, palette, svg
from tlib.figures.lettering import JOULES_A_KWH, NAME, READING, SMALL, adding_up, kwh
from tlib.figures.picture import LateRows, Picture, sentence
from tlib.validation import OutOfRange, require

__all__ = ["KINDS", "NAMES", "Heat", "heat_balance", "ledger_balance"]

KINDS = MappingProxyType({
    "fire to water": "log burner", "fire to room": "log burner", "fire to lining": "log burner",
    "burner to room": "log burner", "heat leak": "log burner", "boiler": "boiler", "boiler to room": "boiler",
    "sun on collector": "sun", "collector loss": "sun", "immersions": "spare PV", "hot water": "hot water",
    "heating": "heating", "floor to room": "heating",
})  # fmt: skip
"""The flow that each heat of a ledger belongs to, for its colour; the others are drawn in quiet ink."""
NAMES = MappingProxyType({
    "fire to lining": "the fire's own lining", "burner to room": "burner's case to room", "heating": "radiators",
    "immersions": "immersion heaters", "pumped over": "pumped over the vent", "hot water": "hot water at taps",
})  # fmt: skip
"""Names of a ledger that a learner reads in other words."""

_STEP = JOULES_A_KWH / 10  # what is printed: 0.1 kWh [J]
_PAGE, _TOP, _HIGH, _LINE = (640, 402), 84, 252, 21
_SIDES = {"came from": (24, 248, 264, 252), "went to": (392, 616, 340, 388)}  # names, amounts, bar, end of leader [px]
_THICK = 36


@dataclass(frozen=True)
class Heat:
    """One named heat of a balance.

    Parameters
    ----------
    name : str
        What it is: "log burner", "standing loss".
    heat : float
        How much [J]; 0 or more.
    kind : str, optional
        One of the six flows, for its colour; without one it is drawn in quiet ink.
    """

    name: str
    heat: float
    kind: str = ""

    def __post_init__(self):
        require(self.heat, self.name or "heat", "J", at_least=0)
        if self.kind:
            palette.flow(self.kind)


@dataclass(frozen=True)
class _Entry:
    """One line of a side: what is drawn, and what is printed for it in steps of 0.1 kWh."""

    name: str
    heat: float
    colour: str
    steps: int

    @property
    def says(self):
        return kwh(self.steps * _STEP)


def ledger_balance(ledger, *, title, words, where="system", notice=""):
    """Draw the balance of a run's ledger.

    Parameters
    ----------
    ledger : tlib.simulation.Ledger
        Of a result. Its notes take no part.
    title, words : str
        The one bold line, and the sentence that says what the picture means.
    where : str, optional
        What kept the heat, or gave it: "system", or "store" for a bare store.
    notice : str, optional
        A warning under the title.

    Returns
    -------
    Picture
        As `heat_balance` draws it. Heats of zero stand only in its rows.

    Raises
    ------
    OutOfRange
        If the heats do not add up to what is stored within 0.05 kWh.

    Examples
    --------
    >>> from tlib.simulation import Ledger
    >>> day = Ledger({"fire to water": 57.2e6, "boiler": 0.0, "hot water": -22.0e6}, stored=35.2e6, held=50e6)
    >>> picture = ledger_balance(day, title="A day", words="Most of it is still there.")
    >>> picture.rows[4], picture.rows[-1]
    (('went to', 'kept in the system', '9.8 kWh'), ('no heat', 'boiler', '0.0 kWh'))
    """
    into, out_of, still = [], [], []
    for name, heat in ledger.heats.items():
        side = into if heat > 0 else out_of if heat < 0 else still
        side.append(Heat(NAMES.get(name, name), abs(float(heat)), KINDS.get(name, "")))
    return _drawn(into, out_of, still, float(ledger.stored), where, (title, words, notice))


def heat_balance(into, out_of, change, *, title, words, where="store", notice=""):
    """Draw a heat balance: what came in stands beside what went out and what stayed.

    Parameters
    ----------
    into, out_of : sequence of Heat
        What the store got and what it gave; together one or more, at most 11 of each.
    change : float
        What the store's own heat rose by [J]; below 0 when it fell.
    title, words : str
        The one bold line, and the sentence that says what the picture means.
    where : str, optional
        What kept the heat, or gave it.
    notice : str, optional
        A warning under the title.

    Returns
    -------
    Picture
        An inline SVG of 640 by 402 px; its words, and a row for each heat, those of zero last.

    Raises
    ------
    OutOfRange
        If the heats do not add up to the change within 0.05 kWh, or there are none, or too many.

    Notes
    -----
    Amounts are printed to 0.1 kWh. On each side they add up as printed: each is rounded down, and the steps that are
    then missing go to those that lost most, the larger first (the method of largest remainders). So none is further
    than 0.1 kWh from the truth, and both sides come to the same sum.

    Examples
    --------
    >>> picture = heat_balance([Heat("fire", 36e6)], [Heat("taps", 18e6)], 18e6, title="Today", words="Half is left.")
    >>> picture.rows[1], picture.rows[4]
    (('came from', 'fire', '10.0 kWh'), ('went to', 'kept in the store', '5.0 kWh'))
    """
    require(len(into) + len(out_of), "number of heats", "", at_least=1)
    change = float(require(change, "change", "J"))
    moved = [[heat for heat in side if heat.heat > 0] for side in (into, out_of)]
    still = [heat for heat in (*into, *out_of) if heat.heat == 0]
    return _drawn(*moved, still, change, where, (title, words, notice))


def _drawn(into, out_of, still, change, where, said):
    kept = Heat(f"{'kept in' if change >= 0 else 'given by'} the {where}", abs(change))
    still = still if change else [*still, kept]
    sides = ([*into, kept], out_of) if change < 0 else (into, [*out_of, kept] if change > 0 else out_of)
    totals = [math.fsum(heat.heat for heat in side) for side in sides]
    if abs(totals[0] - totals[1]) >= _STEP / 2:
        raise OutOfRange(f"heats must add up to the change; they miss it by {kwh(abs(totals[0] - totals[1]))}.")
    total = round(totals[0] / _STEP)
    came, went = (_entries(side, total, kept) for side in sides)
    title, words, notice = said
    words, tall = sentence(words, notice), max(*totals, _STEP)
    markup = svg.frame(
        _PAGE, title, words,
        *_side("came from", came, total, tall), *_side("went to", went, total, tall),
        svg.text(24, _PAGE[1] - 14, _left_out([*came, *went]), size=SMALL, fill=palette.QUIET),
        notice=notice,
    )  # fmt: skip
    return Picture(markup, words, LateRows(lambda: _rows(came, went, still, total)))


def _entries(side, total, kept):
    """Return what is printed and drawn for each heat of a side, so that it adds up to a total."""
    steps = adding_up([heat.heat / _STEP for heat in side], total)
    return [_Entry(heat.name, heat.heat, _colour(heat, kept), each) for heat, each in zip(side, steps, strict=True)]


def _colour(heat, kept):
    if heat is kept:
        return palette.INK
    return palette.flow(heat.kind).colour if heat.kind else palette.QUIET


def _side(head, entries, total, tall):
    """Draw one side: its heats stacked from the top down, each with its line, and their sum under a rule."""
    names, amounts, bar, near = _SIDES[head]
    foot = _TOP + _HIGH
    yield svg.text(names, _TOP - 8, head, size=READING, fill=palette.QUIET)
    yield svg.text(amounts, _TOP - 8, "kWh", size=READING, fill=palette.QUIET, text_anchor="end")
    yield svg.line(names, foot + 8, amounts, foot + 8, stroke=palette.RULE)
    yield svg.text(names, foot + 26, "together")
    yield svg.text(amounts, foot + 26, _bare(kwh(total * _STEP)), size=READING, text_anchor="end")
    seen = [entry for entry in entries if entry.steps]
    y, tops = float(_TOP), []
    for entry in seen:
        tops.append(y)
        y += _HIGH * entry.heat / tall
    middles = [(top + below) / 2 for top, below in zip(tops, [*tops[1:], y], strict=True)] if seen else []
    edge = bar if near < bar else bar + _THICK
    lines = lettering.spread(middles, [_LINE] * len(seen), _TOP, foot)
    for entry, top, middle, at in zip(seen, tops, middles, lines, strict=True):
        high = max(_HIGH * entry.heat / tall - 1.5, 1)
        yield svg.tag("rect", x=bar, y=top, width=_THICK, height=high, fill=entry.colour)
        yield svg.line(edge, middle, near, at, stroke=palette.QUIET, width=0.9)
        room = amounts - names - lettering.width(_bare(entry.says), READING) - 8
        yield svg.text(names, at + 5, lettering.fitted(entry.name, room, NAME))
        yield svg.text(amounts, at + 5, _bare(entry.says), size=READING, text_anchor="end")


def _bare(said):
    """Return an amount without its unit, which stands over the column."""
    return said.removesuffix(" kWh")


def _left_out(entries):
    """Say what is too small to be drawn."""
    small = [entry.name for entry in entries if not entry.steps]
    return lettering.fitted(f"Too small to draw: {', '.join(small)}.", _PAGE[0] - 48, SMALL) if small else ""


def _rows(came, went, still, total):
    yield ("side", "what", "heat")
    for head, entries in (("came from", came), ("went to", went)):
        for entry in entries:
            yield (head, entry.name, entry.says)
        yield (head, "together", kwh(total * _STEP))
    for heat in still:
        yield ("no heat", heat.name, kwh(0.0))
