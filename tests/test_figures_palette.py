"""The palette reads well: contrast, order of lightness, distance in every kind of sight, one source of colour."""

from itertools import combinations, pairwise
from pathlib import Path

import numpy as np
import pytest
from colorspacious import cspace_convert, deltaE

from tlib.figures import palette
from tlib.figures.canvas import STYLE
from tlib.validation import OutOfRange

SIGHTS = (None, "protanomaly", "deuteranomaly", "tritanomaly")
TEMPERATURES = np.linspace(0, 140, 281)

# Public tables of contrast against white print these two decimals (several agree); 21 is the definition's own end.
PRINTED_CONTRAST = [("#000000", 21.0), ("#767676", 4.54), ("#595959", 7.0)]


def rgb(colour):
    return np.array([int(colour[place : place + 2], 16) for place in (1, 3, 5)]) / 255


def seen(colour, sight):
    """Return a colour as an eye of one kind sees it, by an independent library."""
    if sight is None:
        return rgb(colour)
    return np.clip(
        cspace_convert(rgb(colour), {"name": "sRGB1+CVD", "cvd_type": sight, "severity": 100}, "sRGB1"), 0, 1
    )


def distance(one, other, sight):
    return float(deltaE(seen(one, sight), seen(other, sight), input_space="sRGB1", uniform_space="CAM02-UCS"))


@pytest.mark.parametrize(("colour", "printed"), PRINTED_CONTRAST)
def test_contrast_agrees_with_printed_tables(colour, printed):
    assert palette.contrast(colour, "#ffffff") == pytest.approx(printed, abs=0.005)
    assert palette.contrast("#ffffff", colour) == palette.contrast(colour, "#ffffff")


@pytest.mark.parametrize("colour", ["#5b4010", "#d61576", "#006b61", "#e0904a", "#0a0a0a"])
def test_luminance_agrees_with_an_independent_library(colour):
    assert palette.luminance(colour) == pytest.approx(cspace_convert(rgb(colour), "sRGB1", "XYZ1")[1], abs=5e-4)


@pytest.mark.parametrize("ink", [palette.INK, palette.QUIET])
@pytest.mark.parametrize("ground", [palette.PAPER, palette.STRIP])
def test_words_stand_out_from_their_ground(ink, ground):
    assert palette.contrast(ink, ground) >= 4.5


@pytest.mark.parametrize("stroke", [*palette.FLOWS.values(), *palette.LEVELS.values()], ids=lambda stroke: stroke.word)
def test_words_in_the_colour_of_a_line_can_be_read(stroke):
    assert palette.contrast(stroke.colour, palette.PAPER) >= 4.5


def test_numbers_can_be_read_on_water_of_every_temperature():
    grounds = [palette.heat_colour(temperature) for temperature in TEMPERATURES]
    assert min(palette.contrast(palette.ink_on(ground), ground) for ground in grounds) >= 4.5


@pytest.mark.parametrize("sight", SIGHTS)
def test_the_hotter_the_darker_in_every_sight(sight):
    lightness = [
        cspace_convert(seen(palette.heat_colour(t), sight), "sRGB1", "CAM02-UCS")[0] for t in TEMPERATURES[::10]
    ]
    assert all(cooler > hotter for cooler, hotter in pairwise(lightness))


def test_the_hotter_the_darker_in_grey_print():
    assert all(
        palette.luminance(palette.heat_colour(a)) > palette.luminance(palette.heat_colour(b))
        for a, b in pairwise(range(0, 141))
    )


@pytest.mark.parametrize("sight", SIGHTS)
def test_no_two_flows_look_alike(sight):
    for one, other in combinations(palette.FLOWS.values(), 2):
        assert distance(one.colour, other.colour, sight) >= 16, f"{one.word} and {other.word}"


@pytest.mark.parametrize("sight", SIGHTS)
def test_no_two_levels_look_alike(sight):
    for one, other in combinations(palette.LEVELS.values(), 2):
        assert distance(one.colour, other.colour, sight) >= 14, f"{one.word} and {other.word}"


def test_neighbouring_levels_differ_by_line_style_too():
    assert all(one.line != other.line for one, other in pairwise(palette.LEVELS.values()))


def test_there_are_six_flows_each_with_a_word_a_colour_and_a_known_line_style():
    assert list(palette.FLOWS) == ["log burner", "boiler", "sun", "spare PV", "hot water", "heating"]
    assert {flow.line for flow in palette.FLOWS.values()} == set(palette.DASHES)
    assert len({flow.colour for flow in palette.FLOWS.values()}) == 6


@pytest.mark.parametrize("temperature", [-0.5, 140.5, float("nan")])
def test_a_temperature_off_the_ramp_is_refused(temperature):
    with pytest.raises(OutOfRange, match=r"^temperature must be "):
        palette.heat_colour(temperature)


def test_an_unknown_flow_is_refused():
    with pytest.raises(OutOfRange, match=r"^flow must be one of log burner, .*; got 'wind'"):
        palette.flow("wind")


def style():
    import matplotlib

    return matplotlib.rc_params_from_file(STYLE, use_default_template=False)


def test_the_style_sheet_agrees_with_the_palette():
    rules = style()
    papers = ("figure.facecolor", "figure.edgecolor", "savefig.facecolor", "axes.facecolor")
    inks = ("text.color", "axes.labelcolor", "axes.titlecolor", "xtick.color", "ytick.color")
    for keys, colour in (
        (papers, palette.PAPER),
        (inks, palette.INK),
        (("grid.color", "axes.edgecolor"), palette.RULE),
    ):
        assert {f"#{rules[key].lstrip('#')}" for key in keys} == {colour}
    for line in ("dashed", "dotted", "dashdot"):
        assert tuple(rules[f"lines.{line}_pattern"]) == palette.DASHES[line]


def test_the_style_sheet_cycles_through_the_levels():
    marks = {"solid": "-", "dashed": "--", "dotted": ":", "dashdot": "-."}
    cycle = [(f"#{step['color'].lstrip('#')}", step["linestyle"]) for step in style()["axes.prop_cycle"]]
    assert cycle == [(level.colour, marks[level.line]) for level in palette.LEVELS.values()]


def test_no_other_file_of_the_room_writes_a_colour():
    import re

    rooms = [path for path in Path(palette.__file__).parent.glob("*.py") if path.name != "palette.py"]
    found = {path.name: re.findall(r"#[0-9a-f]{6}\b", path.read_text(encoding="utf-8")) for path in rooms}
    assert not {name: colours for name, colours in found.items() if colours}
