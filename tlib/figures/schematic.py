"""The schematic of an installation, drawn from its plan in plain lines, with numbered spots.

Every part has a number and stands in the list below the drawing by that number and its name, so that a spot can be
named, ticked and read out without seeing it. A planted mistake is drawn like any other part: nothing gives it away.
Where heat passes, pipes are thick, numbers stand white on dark, and a word with its reading stands beside them.
"""

from dataclasses import dataclass

from tlib.figures import palette, schematic_symbols, svg
from tlib.figures.lettering import NAME
from tlib.figures.picture import LateRows, Picture, sentence
from tlib.installation.schematic_parts import PAGE
from tlib.tables import table
from tlib.validation import OutOfRange

__all__ = ["PLACES", "Passing", "schematic"]

PLACES = {
    "fire to water": (176, 438, "end"), "burner to store": (208, 352, "start"), "heat leak": (92, 236, "middle"),
    "thermal valve": (166, 556, "start"), "boiler to store": (535, 158, "middle"), "solar to store": (562, 56, "end"),
    "heating": (580, 378, "start"), "floor": (610, 446, "middle"), "hot water": (460, 124, "start"),
    "immersions": (250, 506, "start"),
}  # fmt: skip
"""Where the word and the reading of each heat flow stand, clear of pipes and spots: x, y [px] and anchor."""


@dataclass(frozen=True)
class Passing:
    """Heat that passes.

    Parameters
    ----------
    name : str
        The heat flow, a key of `PLACES`, as a result of `tlib.simulation` names it.
    word : str
        A short word beside it, such as ``"sun"``.
    reading : str
        How much, with its unit.
    """

    name: str
    word: str
    reading: str

    def __post_init__(self):
        """Refuse a flow that has no place on the drawing."""
        if self.name not in PLACES:
            raise OutOfRange(f"heat that passes must be one of {', '.join(PLACES)}; got {self.name!r}.")


def schematic(plan, marked=(), passing=(), *, title, words, notice=""):
    """Draw the schematic of an installation.

    Parameters
    ----------
    plan : tlib.installation.schematic_plan.Plan
        As `tlib.installation.schematic_plan.plan_of` lays it out.
    marked : sequence of int, optional
        Numbers of spots that somebody has marked: they are drawn with a thick double ring.
    passing : sequence of Passing, optional
        Heat that passes now: its pipes are thick, the numbers of its parts white on dark, its reading beside them.
    title, words : str
        The one bold line, and the sentence that says what the picture means.
    notice : str, optional
        A warning under the title.

    Returns
    -------
    Picture
        An ``<svg role="img">`` of 700 by 600 px, its words, and a row for each spot.

    Raises
    ------
    OutOfRange
        If a marked number is no spot.

    Examples
    --------
    >>> from tlib import installation, tables
    >>> from tlib.installation.schematic_plan import plan_of
    >>> tansy = installation.load(tables.shipped("workbooks") / "sites" / "tansy.toml")
    >>> schematic(plan_of(tansy), title=tansy.name, words="Every pipe and part.").rows[1]
    ('1', 'boiler')
    """
    for number in marked:
        if not 1 <= number <= len(plan.parts):
            raise OutOfRange(f"a marked spot must be a number from 1 to {len(plan.parts)}; got {number!r}.")
    names = frozenset(heat.name for heat in passing)
    pipes = [_pipe(pipe, names) for pipe in plan.pipes]
    drawn = [schematic_symbols.draw(part) for part in plan.parts if part.symbol]
    rings = [_ring(number, part, number in marked, bool(names & _heat(part.name)))
             for number, part in enumerate(plan.parts, start=1)]  # fmt: skip
    labels = [svg.text(*label.at, label.says, size=NAME, fill=palette.QUIET, text_anchor=label.anchor)
             for label in plan.labels]  # fmt: skip
    inside = [*pipes, schematic_symbols.store(plan, names), *drawn, *labels, *rings, *map(_reading, passing)]
    rows, words = LateRows(lambda: _rows(plan, passing)), sentence(words, notice)
    return Picture(svg.frame(PAGE, title, words, *inside, notice=notice), words, rows)


def _heat(name):
    """Return the heat flows that pass through a part; a planted one has none."""
    return frozenset(table("parts")["part"].get(name, {}).get("heat", ()))


def _rows(plan, passing):
    """Write the table: with heat that passes, each part has what passes through it."""
    if not passing:
        return [("number", "part"), *((str(spot.number), spot.says) for spot in plan.spots)]
    through = {spot: [f"{heat.word} {heat.reading}" for heat in passing if heat.name in _heat(spot.name)]
               for spot in plan.spots}  # fmt: skip
    lines = [(str(spot.number), spot.says, ", ".join(says) or "nothing") for spot, says in through.items()]
    return [("number", "part", "heat now"), *lines]


def _pipe(pipe, passing):
    """Draw a pipe over those before it, with a gap round it where they cross."""
    steps, gap = (_steps(points) for points in (pipe.points, _shortened(pipe.points)))
    stroke, wide = palette.flow(pipe.flow), bool(passing.intersection(pipe.carries))
    width = schematic_symbols.THICK if wide else 2.2
    drawn = svg.path(steps, stroke=stroke.colour, width=width, line=stroke.line, stroke_linejoin="round")
    return svg.path(gap, stroke=palette.PAPER, width=width + 5.8) + drawn


def _steps(points):
    return "M" + "L".join(f"{x:g} {y:g}" for x, y in points)


def _shortened(points, by=7.0):
    """Return points whose two ends stop short, so that a pipe joins another without a gap."""
    ends = []
    for (x, y), (toward_x, toward_y) in ((points[0], points[1]), (points[-1], points[-2])):
        long = max(abs(toward_x - x), abs(toward_y - y))
        share = min(by / long, 0.45)
        ends.append((x + share * (toward_x - x), y + share * (toward_y - y)))
    return (ends[0], *points[1:-1], ends[1])


def _ring(number, part, is_marked, is_warm):
    x, y = part.spot
    ground, ink = (palette.INK, palette.PAPER) if is_warm else (palette.PAPER, palette.INK)
    ring = svg.tag("circle", cx=x, cy=y, r=10.5, fill=ground, stroke=palette.INK, stroke_width=1.2)
    if is_marked:
        ring = svg.tag("circle", cx=x, cy=y, r=14, fill="none", stroke=palette.INK, stroke_width=3) + ring
    return ring + svg.text(x, y + 5, str(number), size=NAME, fill=ink, text_anchor="middle")


def _reading(heat):
    """Write a word, and what passes under it."""
    x, y, anchor = PLACES[heat.name]
    return (svg.text(x, y, heat.word, size=NAME, fill=palette.QUIET, text_anchor=anchor)
            + svg.text(x, y + 17, heat.reading, size=NAME, text_anchor=anchor))  # fmt: skip
