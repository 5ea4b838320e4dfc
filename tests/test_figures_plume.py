"""A plume: water drawn on its way from its inlet to where it belongs, inside the store, and told in words."""

import re
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tlib.figures.store import Plume, Port, store_picture
from tlib.figures.tank import TANK
from tlib.validation import OutOfRange

SVG = "{http://www.w3.org/2000/svg}"
HEIGHTS = st.floats(0, 1)


def drawn(begins, home, side="left"):
    plume = Plume(Port("comes in", begins, "in", "45 °C", "sun", side), home, "45 °C")
    return plume, store_picture([35] * 6 + [75] * 6, [plume], title="Twenty minutes later", words="It found its place.")


def heads(picture):
    """Return where the heads of the plume stand: filled shapes inside the walls."""
    found = []
    for path in ElementTree.fromstring(picture.markup).iter(f"{SVG}path"):
        tip = re.match(r"M([\d.]+) ([\d.]+)l", path.get("d") or "")
        if tip and path.get("stroke-width") == "1.2":
            found.append((float(tip[1]), float(tip[2])))
    return found


@pytest.mark.parametrize("side", ["left", "right"])
@given(HEIGHTS, HEIGHTS)
@settings(max_examples=30, deadline=None)
def test_it_ends_inside_the_store_at_the_height_where_it_belongs(side, begins, home):
    _, picture = drawn(begins, home, side)
    ((x, y),) = heads(picture)
    assert TANK.left < x < TANK.right
    at = home if abs(TANK.y(begins) - TANK.y(home)) > 18 else begins
    assert y == pytest.approx(TANK.y(at), abs=0.02)


@pytest.mark.parametrize(
    ("begins", "home", "says"),
    [(1.0, 0.6, "it sinks to here"), (0.1, 0.6, "it rises to here"), (0.6, 0.61, "it stays here")],
)
def test_it_says_which_way_it_goes(begins, home, says):
    plume, picture = drawn(begins, home)
    assert plume.says == says
    assert says in [text.text for text in ElementTree.fromstring(picture.markup).iter(f"{SVG}text")]
    assert picture.rows[-2:] == (
        ("comes in", f"{100 * begins:.0f} %", "in, 45 °C"),
        (says, f"{100 * home:.0f} %", "45 °C"),
    )


def test_a_place_outside_the_store_is_refused():
    with pytest.raises(OutOfRange, match=r"home must be 1 or less; got 1\.2"):
        Plume(Port("comes in", 0.5, "in"), 1.2)
