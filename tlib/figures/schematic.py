"""The schematic of an installation, drawn from its plan in plain lines, with numbered spots.

Every part has a number and stands in the list below the drawing by that number and its name, so that a spot can be
named, ticked and read out without seeing it. A planted mistake is drawn like any other part: nothing gives it away.
"""

from tlib.figures import palette, schematic_symbols, svg
from tlib.figures.lettering import SMALL
from tlib.figures.picture import LateRows, Picture, sentence
from tlib.installation.schematic_parts import PAGE
from tlib.validation import OutOfRange

__all__ = ["schematic"]


def schematic(plan, marked=(), *, title, words, notice=""):
    """Draw the schematic of an installation.

    Parameters
    ----------
    plan : tlib.installation.schematic_plan.Plan
        As `tlib.installation.schematic_plan.plan_of` lays it out.
    marked : sequence of int, optional
        Numbers of spots that somebody has marked: they are drawn with a thick double ring.
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
    pipes = [_pipe(pipe) for pipe in plan.pipes]
    drawn = [schematic_symbols.draw(part) for part in plan.parts if part.symbol]
    rings = [_ring(number, part, number in marked) for number, part in enumerate(plan.parts, start=1)]
    names = [svg.text(*label.at, label.says, size=SMALL, fill=palette.QUIET, text_anchor=label.anchor)
             for label in plan.labels]  # fmt: skip
    rows = LateRows(lambda: [("number", "part"), *((str(spot.number), spot.says) for spot in plan.spots)])
    words = sentence(words, notice)
    markup = svg.frame(PAGE, title, words, *pipes, schematic_symbols.store(plan), *drawn, *names, *rings, notice=notice)
    return Picture(markup, words, rows)


def _pipe(pipe):
    """Draw a pipe over those before it, with a gap round it where they cross."""
    steps, gap = (_steps(points) for points in (pipe.points, _shortened(pipe.points)))
    stroke = palette.flow(pipe.flow)
    return (svg.path(gap, stroke=palette.PAPER, width=8.0)
            + svg.path(steps, stroke=stroke.colour, width=2.2, line=stroke.line, stroke_linejoin="round"))  # fmt: skip


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


def _ring(number, part, is_marked):
    x, y = part.spot
    ring = svg.tag("circle", cx=x, cy=y, r=10, fill=palette.PAPER, stroke=palette.INK, stroke_width=1.2)
    if is_marked:
        ring = svg.tag("circle", cx=x, cy=y, r=14, fill="none", stroke=palette.INK, stroke_width=3) + ring
    return ring + svg.text(x, y + 4, str(number), size=SMALL, text_anchor="middle")
