"""The schematic, read from its markup: every part numbered and listed, spots apart, each mistake in its place."""

import json
import re
from itertools import combinations
from typing import get_args
from xml.etree import ElementTree

import pytest

from tlib import installation, tables
from tlib.figures import palette, schematic_symbols
from tlib.figures.schematic import PLACES, Passing, schematic
from tlib.installation import schematic_parts
from tlib.installation.schematic_plan import MISTAKES, Plan, Spot, plan_of
from tlib.tables import table
from tlib.validation import OutOfRange

SITES = {name: installation.load(tables.shipped("workbooks") / "sites" / f"{name}.toml")
         for name in ("larkrigg", "quillbeck", "tansy")}  # fmt: skip
FITS = [(site, name) for site in SITES for name, mistake in MISTAKES.items()
        if all(getattr(SITES[site], part) for part in mistake.needs)]  # fmt: skip


ALL = [*FITS, *((site, None) for site in SITES)]


def draw(site, mistake=None, **more):
    return picture_of(plan_of(SITES[site], mistake), **more)


def picture_of(plan, **more):
    return schematic(plan, title="A place", words="Every pipe and part.", **more)


def spots(site, mistake=None):
    return plan_of(SITES[site], mistake).spots


def numbers(picture):
    texts = [
        element.text for element in ElementTree.fromstring(picture.markup).iter("{http://www.w3.org/2000/svg}text")
    ]
    return sorted(int(text) for text in texts if re.fullmatch(r"\d+", text))


@pytest.mark.parametrize("site", SITES)
def test_every_spot_is_numbered_once_and_listed(site):
    picture, listed = draw(site), spots(site)
    assert numbers(picture) == [spot.number for spot in listed] == list(range(1, len(listed) + 1))
    assert [row[1] for row in picture.rows[1:]] == [spot.says for spot in listed]
    assert len({spot.name for spot in listed}) == len(listed)


@pytest.mark.parametrize(("site", "mistake"), FITS)
def test_a_mistake_is_a_spot_like_any_other(site, mistake):
    wrong = MISTAKES[mistake]
    planted = [spot.name for spot in spots(site, mistake)]
    assert wrong.spot in planted
    assert wrong.spot not in [spot.name for spot in spots(site)]
    assert mistake not in draw(site, mistake).markup
    assert "mistake" not in draw(site, mistake).markup


def test_most_mistakes_fit_larkrigg_and_each_fits_somewhere():
    assert {mistake for _, mistake in FITS} == set(MISTAKES)
    assert sum(site == "larkrigg" for site, _ in FITS) == len(MISTAKES)


@pytest.mark.parametrize(("site", "mistake"), ALL)
def test_spots_stand_apart_and_on_the_page(site, mistake):
    parts = plan_of(SITES[site], mistake).parts
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
    assert "log burner" not in [spot.name for spot in spots("tansy")]
    assert "vessel" in [spot.name for spot in spots("tansy")]
    assert "open vent" in [spot.name for spot in spots("quillbeck")]


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: spots("larkrigg", "gremlins"), "no mistake is known by the name 'gremlins'; the names are"),
        (lambda: spots("tansy", "valve in the vent"), r"has no \[burner\], so its schematic cannot show"),
        (lambda: draw("tansy", marked=(99,)), "a marked spot must be a number from 1 to 18; got 99"),
    ],
)
def test_what_cannot_be_is_refused_in_words(call, says):
    with pytest.raises(OutOfRange, match=says):
        call()


def travelled(plan):
    return Plan.from_record(json.loads(json.dumps(plan.record())))


@pytest.mark.parametrize(("site", "mistake"), ALL)
def test_a_plan_comes_back_from_its_record_and_draws_the_same(site, mistake):
    plan = plan_of(SITES[site], mistake)
    back = travelled(plan)
    assert back == plan
    assert back.spots == plan.spots
    assert picture_of(back, marked=(2,)) == picture_of(plan, marked=(2,))


@pytest.mark.parametrize(("site", "mistake"), FITS)
def test_a_record_does_not_tell_what_was_planted(site, mistake):
    """Each part has the keys of every other, and its words tell neither the mistake nor what is wrong with it."""
    record = plan_of(SITES[site], mistake).record()
    assert len({tuple(part) for part in record["parts"]}) == 1
    assert record.keys() == plan_of(SITES[site]).record().keys()
    written = json.dumps(record).lower()
    for telling in (mistake, MISTAKES[mistake].says.lower(), "mistake", "wrong", "planted"):
        assert telling not in written


@pytest.mark.parametrize(("site", "mistake"), ALL)
def test_numbers_come_back_the_same_when_whole_ones_lost_their_point(site, mistake):
    plan = plan_of(SITES[site], mistake)
    bare = json.loads(re.sub(r"(\d)\.0\b", r"\1", json.dumps(plan.record())))
    pointed = json.loads(json.dumps(plan.record()), parse_int=float)
    for part in pointed["parts"]:
        part["way"] = int(part["way"])
    assert picture_of(Plan.from_record(bare)) == picture_of(Plan.from_record(pointed)) == picture_of(plan)


def test_a_plan_once_laid_out_stays_as_it_is():
    plan = plan_of(SITES["tansy"])
    assert isinstance(plan.parts, tuple)
    assert isinstance(plan.pipes[0].points, tuple)
    with pytest.raises(ValueError, match="frozen"):
        plan.parts = ()
    with pytest.raises(ValueError, match="frozen"):
        plan.parts[0].name = "kettle"
    with pytest.raises(AttributeError):
        Spot(1, "boiler", "boiler").number = 2


def test_every_symbol_and_flow_that_a_record_may_name_can_be_drawn():
    part = plan_of(SITES["tansy"]).parts[0]
    symbols = set(get_args(schematic_parts.Symbol)) - {""}
    assert symbols == set(schematic_symbols._SYMBOLS)
    for symbol in symbols:
        assert schematic_symbols.draw(part.model_copy(update={"symbol": symbol})).startswith("<")
    assert set(get_args(schematic_parts.Flow)) == set(palette.FLOWS)


def changed(*path, to):
    record = json.loads(json.dumps(plan_of(SITES["tansy"]).record()))
    place = record
    for step in path[:-1]:
        place = place[step]
    place[path[-1]] = to
    return record


DEEP = []
for _ in range(100_000):
    DEEP = [DEEP]


@pytest.mark.parametrize(
    ("record", "says"),
    [
        (None, "input should be an object"),
        ([], "input should be an object"),
        ({}, "parts: field required"),
        (changed("parts", to=[]), "parts: tuple should have at least 1 item"),
        (changed("parts", 1, "symbol", to="bomb"), "parts 2 symbol: input should be ''"),
        (changed("parts", 1, "at", to=[10, 1e9]), "parts 2 at 2: input should be less than or equal to 700"),
        (changed("parts", 1, "at", to=["10", 20]), "parts 2 at 1: input should be a valid number"),
        (changed("parts", 1, "name", to="boiler"), "more than one part is called 'boiler'"),
        (changed("parts", 1, "says", to="x" * 201), "parts 2 says: string should have at most 200 characters"),
        (changed("parts", 1, "planted", to=True), "parts 2 planted: extra inputs are not permitted"),
        (changed("pipes", 0, "points", to=[[1, 2]]), "pipes 1 points: tuple should have at least 2 items"),
        (changed("pipes", 0, "flow", to="gravy"), "pipes 1 flow: input should be 'log burner'"),
        (changed("coils", 0, "low", to=float("nan")), "it must be lists, numbers and texts"),
        (changed("tank", to={1, 2}), "it must be lists, numbers and texts"),
        (changed("tank", to=DEEP), "it must be lists, numbers and texts"),
    ],
)  # fmt: skip
def test_what_is_no_record_is_refused_in_words(record, says):
    with pytest.raises(OutOfRange, match=f"the record is no plan of a schematic: .*{re.escape(says)}"):
        Plan.from_record(record)


SUN = Passing("solar to store", "sun", "1.3 kW")


def test_where_heat_passes_pipes_and_coil_are_thick_and_the_reading_stands_beside():
    plain, sunny = draw("larkrigg"), draw("larkrigg", passing=(SUN,))
    thick = 'stroke-width="5"'
    assert (plain.markup.count(thick), sunny.markup.count(thick)) == (0, 3)  # two pipes and the coil
    assert ">sun</text>" in sunny.markup
    assert ">1.3 kW</text>" in sunny.markup
    assert plain.rows[0] == ("number", "part")
    warm = [row[1] for row in sunny.rows[1:] if row[2] == "sun 1.3 kW"]
    assert warm == ["solar collector", "solar pump", "non-return valve of the solar loop", "solar coil"]
    assert {row[2] for row in sunny.rows[1:] if row[1] not in warm} == {"nothing"}


def test_numbers_stay_readable_where_heat_passes():
    assert draw("larkrigg", passing=(SUN,)).markup.count(f'fill="{palette.PAPER}" text-anchor="middle"') == 4
    assert palette.contrast(palette.INK, palette.PAPER) >= 4.5  # WCAG 2.2, criterion 1.4.3


def test_all_that_pipes_carry_and_parts_pass_on_has_a_place_for_its_reading():
    carried = {heat for site in SITES.values() for pipe in plan_of(site).pipes for heat in pipe.carries}
    assert carried == set(get_args(schematic_parts.Heat)) <= set(PLACES)
    assert {heat for part in table("parts")["part"].values() for heat in part["heat"]} == set(PLACES)


def boxes_of_readings():
    for x, y, anchor in PLACES.values():
        left = {"start": x, "middle": x - 28, "end": x - 56}[anchor]
        yield left, y - 11, left + 56, y + 17


@pytest.mark.parametrize("site", SITES)
def test_readings_stand_clear_of_each_other_and_of_every_spot(site):
    boxes = list(boxes_of_readings())
    for one, other in combinations(boxes, 2):
        assert one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1], (one, other)
    for part in plan_of(SITES[site]).parts:
        x, y = part.spot
        for left, top, right, bottom in boxes:
            gap = ((x - min(max(x, left), right)) ** 2 + (y - min(max(y, top), bottom)) ** 2) ** 0.5
            assert gap >= 10, (part.name, left, top)


def test_heat_without_a_place_is_refused():
    with pytest.raises(OutOfRange, match=r"heat that passes must be one of fire to water, .*; got 'gossip'\."):
        Passing("gossip", "talk", "1 kW")


def test_a_record_from_before_pipes_carried_heat_still_reads():
    record = plan_of(SITES["tansy"]).record()
    for drawn in (*record["pipes"], *record["coils"]):
        del drawn["carries"]
    back = Plan.from_record(record)
    assert picture_of(back).markup == draw("tansy").markup
