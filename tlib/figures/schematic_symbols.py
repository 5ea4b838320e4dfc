"""The symbols of a schematic in our own plain lines: boxes, valves, pumps, coils, and the tank itself."""

from tlib.figures import palette, svg

__all__ = ["THICK", "draw", "store"]

THICK = 5.0
"""Width of a pipe or coil through which heat passes [px]; others are less than half as wide."""


def draw(part):
    """Draw the symbol of a part at its place."""
    return _SYMBOLS[part.symbol](part)


def store(plan, passing=frozenset()):
    """Draw the tank with its coils, those thick through which a heat passes."""
    left, top, right, bottom = plan.tank
    shell = svg.tag("rect", x=left, y=top, width=right - left, height=bottom - top, rx=16, fill=palette.SHELL,
                    stroke=palette.INK, stroke_width=1.6)  # fmt: skip
    return shell + "".join(_coil(coil, passing) for coil in plan.coils)


def _coil(coil, passing):
    """Draw a coil as a line that winds between its two ends."""
    (left, right), low, high = coil.across, coil.low, coil.high
    turns = max(round((low - high) / 16), 2)
    rise = (low - high) / turns
    steps = [f"M{left} {low}"]
    for turn in range(turns):
        x = right if turn % 2 == 0 else left
        steps.append(f"L{x} {low - rise * turn - rise / 2:.1f}L{x} {low - rise * (turn + 1):.1f}")
    stroke = palette.flow(coil.flow)
    width = THICK if passing.intersection(coil.carries) else 2.0
    return svg.path("".join(steps), stroke=stroke.colour, width=width, line=stroke.line)


def _box(part):
    x, y = part.at
    wide, high = part.size
    return svg.tag("rect", x=x - wide / 2, y=y - high / 2, width=wide, height=high, fill=palette.PAPER,
                   stroke=palette.INK, stroke_width=1.6)  # fmt: skip


def _flame(part):
    x, y = part.at
    return _box(part) + svg.path(f"M{x} {y - 18}L{x - 10} {y + 8}L{x + 10} {y + 8}Z", width=1.6)


def _ribs(part):
    """Draw a radiator."""
    x, y = part.at
    wide, high = part.size
    ribs = "".join(svg.line(x - wide / 2 + wide * k / 6, y - high / 2, x - wide / 2 + wide * k / 6, y + high / 2)
                   for k in range(1, 6))  # fmt: skip
    return _box(part) + ribs


def _waves(part):
    """Draw a heated floor."""
    x, y = part.at
    wide = part.size[0]
    steps = f"M{x - wide / 2 + 6} {y}" + "".join(f"q8 {-10 if k % 2 else 10} 16 0" for k in range(int(wide // 16) - 1))
    return _box(part) + svg.path(steps, width=1.4)


def _panel(part):
    x, y = part.at
    wide, high = part.size
    lines = "".join(svg.line(x - wide / 2 + wide * k / 5, y - high / 2, x - wide / 2 + wide * k / 5, y + high / 2)
                    for k in range(1, 5))  # fmt: skip
    return _box(part) + lines + svg.line(x - wide / 2, y, x + wide / 2, y)


def _pump(part):
    x, y = part.at
    circle = svg.tag("circle", cx=x, cy=y, r=10, fill=palette.PAPER, stroke=palette.INK, stroke_width=1.6)
    way = part.way
    return circle + svg.path(f"M{x - 5 * way} {y - 7}L{x + 8 * way} {y}L{x - 5 * way} {y + 7}Z", width=1.4)


def _valve(part):
    x, y = part.at
    if part.is_upright:
        steps = f"M{x - 7} {y - 9}L{x + 7} {y - 9}L{x - 7} {y + 9}L{x + 7} {y + 9}Z"
    else:
        steps = f"M{x - 9} {y - 7}L{x - 9} {y + 7}L{x + 9} {y - 7}L{x + 9} {y + 7}Z"
    return svg.tag("path", d=steps, fill=palette.PAPER, stroke=palette.INK, stroke_width=1.6)


def _three_way(part):
    x, y = part.at
    return _valve(part) + svg.tag("path", d=f"M{x} {y}L{x - 7} {y - 10}L{x + 7} {y - 10}Z", fill=palette.PAPER,
                                  stroke=palette.INK, stroke_width=1.6)  # fmt: skip


def _one_way(part):
    x, y = part.at
    way = part.way
    disc = svg.tag("rect", x=x - 10, y=y - 8, width=20, height=16, fill=palette.PAPER, stroke="none")
    return (disc + svg.path(f"M{x - 8 * way} {y - 7}L{x + 6 * way} {y}L{x - 8 * way} {y + 7}Z", width=1.4)
            + svg.line(x + 7 * way, y - 8, x + 7 * way, y + 8))  # fmt: skip


def _relief(part):
    x, y = part.at
    return _valve(part) + svg.path(f"M{x} {y}L{x} {y - 14}M{x - 5} {y - 10}L{x + 5} {y - 14}", width=1.4)


def _vessel(part):
    x, y = part.at
    circle = svg.tag("circle", cx=x, cy=y, r=17, fill=palette.PAPER, stroke=palette.INK, stroke_width=1.6)
    return circle + svg.line(x - 17, y, x + 17, y, line="dashed")


def _tank(part):
    x, y = part.at
    wide, high = part.size
    steps = f"M{x - wide / 2} {y - high / 2}L{x - wide / 2} {y + high / 2}L{x + wide / 2} {y + high / 2}"
    steps += f"L{x + wide / 2} {y - high / 2}"
    return svg.path(steps, width=1.6) + svg.line(x - wide / 2, y - 2, x + wide / 2, y - 2, line="dashed")


def _tap(part):
    x, y = part.at
    spout = f"M{x - 14} {y}L{x + 6} {y}L{x + 6} {y + 12}"
    handle = f"M{x - 8} {y}L{x - 8} {y - 10}M{x - 14} {y - 10}L{x - 2} {y - 10}"
    return svg.path(spout + handle, width=2.0)


def _sensor(part):
    x, y = part.at
    return svg.tag("circle", cx=x, cy=y, r=4, fill=palette.INK)


def _rod(part):
    x, y = part.at
    steps = f"M{x - 8} {y}L{x + 44} {y}M{x - 8} {y - 7}L{x - 8} {y + 7}"
    return svg.path(steps, stroke=palette.flow("spare PV").colour, width=3.0)


_SYMBOLS = {
    "flame": _flame, "ribs": _ribs, "waves": _waves, "panel": _panel, "pump": _pump, "valve": _valve,
    "three-way": _three_way, "one-way": _one_way, "relief": _relief, "vessel": _vessel, "tank": _tank, "tap": _tap,
    "sensor": _sensor, "rod": _rod,
}  # fmt: skip
