"""The schematic, read from its markup: every part numbered and listed, spots apart, each mistake in its place."""

import re
from itertools import combinations
from xml.etree import ElementTree

import pytest

from tlib import installation, tables
from tlib.figures.schematic import MISTAKES, schematic, spots
from tlib.figures.schematic_plan import plan_of
from tlib.validation import OutOfRange

SITES = {name: installation.load(tables.shipped("workbooks") / "sites" / f"{name}.toml")
         for name in ("larkrigg", "quillbeck", "tansy")}  # fmt: skip
FITS = [(site, name) for site in SITES for name, mistake in MISTAKES.items()
        if all(getattr(SITES[site], part) for part in mistake.needs)]  # fmt: skip


def draw(site, mistake=None, **more):
    return schematic(SITES[site], mistake, title=SITES[site].name, words="Every pipe and part.", **more)


def numbers(picture):
    texts = [
        element.text for element in ElementTree.fromstring(picture.markup).iter("{http://www.w3.org/2000/svg}text")
    ]
    return sorted(int(text) for text in texts if re.fullmatch(r"\d+", text))


@pytest.mark.parametrize("site", SITES)
def test_every_spot_is_numbered_once_and_listed(site):
    picture, listed = draw(site), spots(SITES[site])
    assert numbers(picture) == [spot.number for spot in listed] == list(range(1, len(listed) + 1))
    assert [row[1] for row in picture.rows[1:]] == [spot.says for spot in listed]
    assert len({spot.name for spot in listed}) == len(listed)


@pytest.mark.parametrize(("site", "mistake"), FITS)
def test_a_mistake_is_a_spot_like_any_other(site, mistake):
    wrong = MISTAKES[mistake]
    planted = [spot.name for spot in spots(SITES[site], mistake)]
    assert wrong.spot in planted
    assert wrong.spot not in [spot.name for spot in spots(SITES[site])]
    assert mistake not in draw(site, mistake).markup
    assert "mistake" not in draw(site, mistake).markup


def test_most_mistakes_fit_larkrigg_and_each_fits_somewhere():
    assert {mistake for _, mistake in FITS} == set(MISTAKES)
    assert sum(site == "larkrigg" for site, _ in FITS) == len(MISTAKES)


@pytest.mark.parametrize(("site", "mistake"), [*FITS, *((site, None) for site in SITES)])
def test_spots_stand_apart_and_on_the_page(site, mistake):
    parts = plan_of(SITES[site], MISTAKES[mistake] if mistake else None).parts
    for one, other in combinations(parts, 2):
        apart = ((one.spot[0] - other.spot[0]) ** 2 + (one.spot[1] - other.spot[1]) ** 2) ** 0.5
        assert apart >= 21.0, f"{one.name} and {other.name} are {apart:.0f} px apart"
    for part in parts:
        assert 12 <= part.spot[0] <= 688, part.name
        assert 30 <= part.spot[1] <= 588, part.name


def test_connections_stand_at_their_true_heights():
    for site in SITES.values():
        plan = plan_of(site)
        ends = {point[1] for pipe in plan.pipes for point in (pipe.points[0], pipe.points[-1])}
        for name, height in site.store.connections.items():
            assert round(470 - 320 * height, 1) in ends, name


def test_a_marked_spot_has_a_second_thicker_ring():
    plain, marked = draw("larkrigg"), draw("larkrigg", marked=(3,))
    assert marked.markup.count("<circle") == plain.markup.count("<circle") + 1


def test_only_what_is_there_is_drawn():
    assert "log burner" not in [spot.name for spot in spots(SITES["tansy"])]
    assert "vessel" in [spot.name for spot in spots(SITES["tansy"])]
    assert "open vent" in [spot.name for spot in spots(SITES["quillbeck"])]


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: spots(SITES["larkrigg"], "gremlins"), "no mistake is known by the name 'gremlins'; the names are"),
        (lambda: spots(SITES["tansy"], "valve in the vent"), r"has no \[burner\], so its schematic cannot show"),
        (lambda: draw("tansy", marked=(99,)), "a marked spot must be a number from 1 to 18; got 99"),
    ],
)
def test_what_cannot_be_is_refused_in_words(call, says):
    with pytest.raises(OutOfRange, match=says):
        call()
