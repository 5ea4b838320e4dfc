"""The body of the store picture: shell, bands, coil and rods, all at their true heights."""

import math
from dataclasses import dataclass

from tlib import units
from tlib.figures import lettering, palette, svg

__all__ = [
    "FADE",
    "REACH",
    "SPAN",
    "TANK",
    "Tank",
    "bands",
    "bracket",
    "coil",
    "level",
    "numbers",
    "outline",
    "plates",
    "plume",
    "rod",
    "shell",
]

_DOME = 20  # height of the rounded ends [px]
_GAP, _THICK = 4, 10  # between wall and insulation, and its thickness [px]
_NUMBER = 62  # from the left wall to the right edge of the numbers [px]
_PITCH, _TILT = 27, 3  # of the coil's turns [px]
_PLUME = 96  # from the wall to the line along which a plume rises or sinks [px]


@dataclass(frozen=True)
class Tank:
    """Where the store stands on its picture [px]."""

    left: float
    top: float
    width: float
    height: float

    @property
    def right(self):
        """The right wall."""
        return self.left + self.width

    @property
    def bottom(self):
        """The floor."""
        return self.top + self.height

    def y(self, height):
        """Return the place of a height that runs from 0 (bottom) to 1 (top)."""
        return self.bottom - self.height * height

    def wall(self, side):
        """Return the wall on one side."""
        return self.left if side == "left" else self.right


TANK = Tank(left=238, top=80, width=160, height=372)
REACH = 58  # from the wall to the outer end of an arrow
SPAN = _GAP + _THICK  # from the wall to the outside of the insulation


def shell(tank):
    """Draw the insulation as one pale line round the store."""
    out = _GAP + _THICK / 2
    return _dished(tank, out, fill="none", stroke=palette.SHELL, stroke_width=_THICK)


def outline(tank):
    """Draw the wall."""
    return _dished(tank, 0, fill="none", stroke=palette.INK, stroke_width=1.6)


def _dished(tank, out, **attributes):
    """Draw the store's outline, `out` px outside its wall."""
    steps = _rounded(
        tank.left - out, tank.top - out, tank.width + 2 * out, tank.height + 2 * out, 46 + out, _DOME + out
    )
    return svg.tag("path", d=steps, **attributes)


def _rounded(x, y, wide, high, rx, ry, upper=True, lower=True):
    """Return the steps round a box whose upper and lower corners are dished."""
    top, floor = (ry if upper else 0), (ry if lower else 0)
    steps = [f"M{x:g} {y + top:.2f}"]
    steps.append(f"a{rx} {ry} 0 0 1 {rx} {-ry}h{wide - 2 * rx:g}a{rx} {ry} 0 0 1 {rx} {ry}" if upper else f"h{wide:g}")
    steps.append(f"v{high - top - floor:.2f}")
    steps.append(
        f"a{rx} {ry} 0 0 1 {-rx} {ry}h{2 * rx - wide:g}a{rx} {ry} 0 0 1 {-rx} {-ry}" if lower else f"h{-wide:g}"
    )
    return "".join(steps) + "z"


def bands(tank, temperatures, before):
    """Draw the water in flat bands, the first at the bottom; each fades from what it was."""
    count, high = len(temperatures), tank.height / len(temperatures)
    drawn = []
    for place, (now, was) in enumerate(zip(temperatures, before, strict=True)):
        top = tank.bottom - (place + 1) * high
        steps = _rounded(
            tank.left, top, tank.width, high, 46, _DOME, upper=place == count - 1, lower=place == 0
        )  # the seam between two bands is covered by a hairline
        colour = palette.heat_colour(now)
        fade = _fade("tlib-fade", was=palette.heat_colour(was)) if now != was else {}
        drawn.append(svg.tag("path", d=steps, fill=colour, **fade))
        if place:
            drawn.append(
                svg.line(tank.left, top + high, tank.right, top + high, stroke=palette.PAPER, width=0.9, opacity=0.28)
            )
    return "".join(drawn)


def plates(tank, temperatures, before):
    """Lay a plate of the band's own colour behind each number, where something runs across the store."""
    high, right = tank.height / len(temperatures), tank.left + _NUMBER
    drawn = []
    for place, (now, was) in enumerate(zip(temperatures, before, strict=True)):
        wide = lettering.width(_says(now), lettering.NAME) - 2
        top, colour = tank.bottom - (place + 0.5) * high - 9.5, palette.heat_colour(now)
        fade = _fade("tlib-fade", was=palette.heat_colour(was)) if now != was else {}
        drawn.append(svg.tag("rect", x=right - wide, y=top, width=wide + 4, height=19, fill=colour, **fade))
    return "".join(drawn)


def numbers(tank, temperatures, before):
    """Print each band's temperature, right-aligned; its ink changes half-way through a fade."""
    high, right = tank.height / len(temperatures), tank.left + _NUMBER
    drawn = []
    for place, (now, was) in enumerate(zip(temperatures, before, strict=True)):
        ink, ink_was = (palette.ink_on(palette.heat_colour(temperature)) for temperature in (now, was))
        base = tank.bottom - (place + 0.5) * high + 5.3
        fade = _fade("tlib-ink", was=ink_was, is_=ink) if ink != ink_was else {}
        drawn.append(svg.text(right, base, _says(now), fill=ink, text_anchor="end", **fade))
    return "".join(drawn)


def _says(temperature):
    return units.write(temperature, "degC", "degC", figures=2)


def _fade(name, **colours):
    """Return what lets a shape fade from one colour to another by the rules of `FADE`."""
    return {"class_": name, "style": ";".join(f"--{key.rstrip('_')}:{colour}" for key, colour in colours.items())}


def coil(tank, lower, upper, colour, lane):
    """Draw a coil whose first turn leaves the wall at one height and whose last returns at another.

    Parameters
    ----------
    tank : Tank
        The store.
    lower, upper : float
        Heights of its two ends; the drawn line begins and ends exactly there.
    colour : str
        Its colour.
    lane : tuple of float
        Left and right edge of the turns, from the left wall [px].

    Returns
    -------
    str
        Markup.
    """
    low, high = tank.y(lower), tank.y(upper)
    turns = max(round((low - high) / _PITCH), 1)
    left, right = tank.left + lane[0], tank.left + lane[1]
    middle, radius = (left + right) / 2, (right - left) / 2
    halves = [_half(middle, radius, low, (high - low) / turns, half) for half in range(2 * turns)]
    tails = f"M{tank.right:g} {low:.2f}H{right:g}M{right:g} {high:.2f}H{tank.right:g}"
    front, back = "".join(halves[0::2]), "".join(halves[1::2])
    round_ = {"stroke_linecap": "round"}
    return (
        svg.path(back, stroke=palette.PAPER, width=4.4, opacity=0.8, **round_)
        + svg.path(back, stroke=colour, width=1.7, **round_)
        + svg.path(tails + front, stroke=palette.PAPER, width=5.6, **round_)
        + svg.path(tails + front, stroke=colour, width=3, **round_)
    )


def _half(middle, radius, start, rise, half):
    """Return half a turn of a helix seen from the side: two quarter ellipses that climb as they go."""
    steps, bend = "", 4 / 3 * math.tan(math.pi / 8)
    for quarter in (2 * half, 2 * half + 1):
        a, b = quarter * math.pi / 2, (quarter + 1) * math.pi / 2
        points = [
            (math.cos(a), math.sin(a), 0.0),
            (math.cos(a) - bend * math.sin(a), math.sin(a) + bend * math.cos(a), 1 / 3),
            (math.cos(b) + bend * math.sin(b), math.sin(b) - bend * math.cos(b), 2 / 3),
            (math.cos(b), math.sin(b), 1.0),
        ]
        climbed = [start + rise * (quarter + share) / 4 + _TILT * y for _, y, share in points]
        places = [f"{middle + radius * x:.1f} {y:.1f}" for (x, _, _), y in zip(points, climbed, strict=True)]
        steps += ("" if steps else f"M{places[0]}") + f"C{places[1]} {places[2]} {places[3]}"
    return steps


def rod(tank, height, colour, working):
    """Draw an immersion element: a hairpin from the left wall at its height; a working one is filled."""
    y, end = tank.y(height), tank.left + 92
    steps = f"M{tank.left:g} {y - 3.5:.2f}H{end:g}a3.5 3.5 0 0 1 0 7H{tank.left:g}"
    casing = svg.tag("path", d=steps, fill="none", stroke=palette.PAPER, stroke_width=5.4, opacity=0.9)
    return casing + svg.tag("path", d=steps, fill=colour if working else palette.PAPER, stroke=colour, stroke_width=2)


def level(tank, height, side):
    """Draw a dashed line across the store at one height, ending in an open diamond outside it."""
    y, out = tank.y(height), SPAN + 12
    begin, end = (tank.left - 6, tank.right + out) if side == "right" else (tank.right + 6, tank.left - out)
    reach = tank.wall(side) + (REACH if side == "right" else -REACH)
    diamond = f"M{end:g} {y - 6:.2f}l6 6l-6 6l-6 -6z"
    return (
        svg.line(begin, y, end, y, stroke=palette.PAPER, width=4.2, opacity=0.85)
        + svg.line(begin, y, end, y, width=1.6, line="dashed")
        + svg.line(end, y, reach, y, stroke=palette.QUIET, width=0.9)
        + svg.tag("path", d=diamond, fill=palette.PAPER, stroke=palette.INK, stroke_width=1.8)
    )


def bracket(tank, bottom, top, side):
    """Draw a bracket outside the insulation, with a thin line from its middle out to its label."""
    low, high, sign = tank.y(bottom), tank.y(top), -1 if side == "left" else 1
    x, tick = tank.wall(side) + sign * (SPAN + 8), -sign * 5
    steps = f"M{x + tick:g} {high + 0.5:.2f}H{x:g}V{low - 0.5:.2f}H{x + tick:g}M{x:g} {(low + high) / 2:.2f}"
    return svg.path(f"{steps}H{tank.wall(side) + sign * REACH:g}", stroke=palette.QUIET, width=1.1)


def plume(tank, begins, ends, side, stroke):
    """Draw water on its way from where it enters to where it belongs: a quiet wavy arrow inside the store."""
    sign = 1 if side == "left" else -1
    x, start, end = tank.wall(side) + sign * _PLUME, tank.y(begins), tank.y(ends)
    down = 1 if end > start else -1
    run = abs(end - start)
    waves = max(round(run / 28), 1)
    steps = f"M{tank.wall(side):g} {start:.2f}H{x - sign * 8:g}q{sign * 8} 0 {sign * 8} {down * min(8, run / 2):.2f}"
    steps += "".join(_wave(x, start + down * (8 + (run - 18) * place / waves), down * (run - 18) / waves,
                           5 if place % 2 else -5) for place in range(waves) if run > 18)  # fmt: skip
    head = f"M{x:g} {end:.2f}l-6 {-down * 10}h12z" if run > 18 else f"M{x + sign * 4:g} {start:.2f}l{-sign * 10} -6v12z"
    other = tank.right if side == "left" else tank.left
    return (
        svg.line(x + sign * 10, end, other + sign * REACH, end, stroke=palette.PAPER, width=3.0, opacity=0.85)
        + svg.line(x + sign * 10, end, other + sign * REACH, end, stroke=palette.QUIET, width=1.1, line="dotted")
        + svg.path(steps, stroke=palette.PAPER, width=6.4, opacity=0.85)
        + svg.path(steps, stroke=stroke.colour, width=2.4)
        + svg.tag("path", d=head, fill=stroke.colour, stroke=palette.PAPER, stroke_width=1.2)
    )


def _wave(x, y, run, swing):
    return f"M{x:g} {y:.2f}q{swing} {run / 4:.2f} 0 {run / 2:.2f}q{-swing} {run / 4:.2f} 0 {run / 2:.2f}"


FADE = (
    "<style>@keyframes tlib-fade{from{fill:var(--was)}}"
    "@keyframes tlib-ink{from,49%{fill:var(--was)}50%{fill:var(--is)}}"
    "@media (prefers-reduced-motion:no-preference){.tlib-fade{animation:tlib-fade .6s ease-out}"
    ".tlib-ink{animation:tlib-ink .6s ease-out}}</style>"
)
"""How bands fade, once, and not at all for those who ask for no motion."""
