"""Data and bibliography: every number has a source and a date, every citation a reference, every reference a use."""

import ast
import datetime
import re
import tomllib
import unicodedata
from functools import cache
from pathlib import Path

import pytest

from tlib import units
from tlib.tables import table

ROOT = Path(__file__).parent.parent
TABLES = sorted(path for path in (ROOT / "tlib" / "tables").glob("*.toml") if path.stem != "references")
REFERENCES = table("references")
OBTAINED = ("read", "second-hand", "memory", "sum", "check values")
NO_SOURCE = "common practice"


# --- the bibliography ---


@cache
def docstrings(folder):
    """Return (file, name, docstring) of every module, class and function below a folder."""
    found = []
    for path in sorted((ROOT / folder).rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef) and (text := ast.get_docstring(node)):
                found.append((path.relative_to(ROOT).as_posix(), getattr(node, "name", "module"), text))
    return found


def references_section(text):
    """Return the References section of a numpy docstring, or nothing."""
    match = re.search(r"^References\n-+\n(.*?)(?=\n\n[^\n]+\n-+\n|\Z)", text, re.DOTALL | re.MULTILINE)
    return match[1] if match else ""


def brackets(text):
    return re.findall(r"\[([^\]\n]+)\]", text)


def cited_in_tables(value):
    """Yield every text that a table gives as a source."""
    if isinstance(value, dict):
        for key, inner in value.items():
            if key in ("source", "reference") and isinstance(inner, str):
                yield inner
            else:
                yield from cited_in_tables(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from cited_in_tables(inner)


def names(text, key):
    """Say whether a text holds a key as whole words."""
    return re.search(rf"(?<![\w]){re.escape(key)}(?![\w])", text) is not None


@pytest.mark.parametrize("key", REFERENCES)
def test_a_reference_says_what_it_is_and_how_it_came_here(key):
    entry = REFERENCES[key]
    assert set(entry) >= {"title", "by", "year", "obtained"}
    assert all(str(entry[part]).strip() for part in ("title", "by", "obtained"))
    assert 1900 <= entry["year"] <= datetime.date.today().year


def test_every_key_that_a_docstring_cites_exists():
    wrong = [
        f"{path} {name}: [{key}]"
        for path, name, text in docstrings("tlib")
        for key in brackets(references_section(text))
        if key not in REFERENCES
    ]
    assert not wrong, "\n".join(wrong)


def test_every_key_that_a_published_test_cites_exists():
    wrong = [
        f"{path} {name}: [{key}]"
        for path, name, text in docstrings("tests/published")
        for key in brackets(text)
        if key not in REFERENCES
    ]
    assert not wrong, "\n".join(wrong)


PUBLISHED = sorted((ROOT / "tests" / "published").glob("test_*.py"))


def folded(text):
    """Return a text in small letters without accents, as file names spell authors."""
    plain = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode("ascii")
    return re.sub(r"[^a-z0-9./-]+", " ", plain.lower().replace("_", " "))


@cache
def head(path):
    """Return the words of a published test's name and of its opening docstring."""
    opening = ast.get_docstring(ast.parse(path.read_text(encoding="utf-8"))) or ""
    return set(re.findall(r"[a-z0-9/]+", folded(f"{path.stem} {opening}")))


def is_about(path, key):
    """Say whether a published test's name and opening docstring hold every word of a key."""
    return set(re.findall(r"[a-z0-9/]+", folded(key))) <= head(path)


@pytest.mark.parametrize("path", PUBLISHED, ids=lambda path: path.stem)
def test_a_published_test_is_about_a_reference(path):
    opening = ast.get_docstring(ast.parse(path.read_text(encoding="utf-8"))) or ""
    assert set(brackets(opening)) & set(REFERENCES) or any(is_about(path, key) for key in REFERENCES), (
        f"{path.name} opens with no reference"
    )


@pytest.mark.parametrize("path", TABLES, ids=lambda path: path.stem)
def test_every_source_of_a_table_is_a_reference_or_says_that_there_is_none(path):
    for source in cited_in_tables(tomllib.loads(path.read_text(encoding="utf-8"))):
        known = any(names(source, key) for key in REFERENCES)
        assert known or NO_SOURCE in source or "sum" in source or "atomic weights" in source, source


def test_every_exercise_cites_references_that_exist():
    for path in (ROOT / "exercises").rglob("*.toml"):
        for source in cited_in_tables(tomllib.loads(path.read_text(encoding="utf-8"))):
            assert NO_SOURCE in source or any(names(source, key) for key in REFERENCES), f"{path.name}: {source}"


@cache
def everything_written():
    """Return all text of the library, tests, exercises and workbooks but the bibliography and this file."""
    folders = ("tlib", "tests", "exercises", "workbooks")
    paths = [
        path for folder in folders for ending in ("*.py", "*.toml", "*.ipynb") for path in (ROOT / folder).rglob(ending)
    ]
    left_out = {ROOT / "tlib" / "tables" / "references.toml", Path(__file__)}
    return "\n".join(path.read_text(encoding="utf-8") for path in paths if path not in left_out)


@pytest.mark.parametrize("key", REFERENCES)
def test_every_reference_is_used(key):
    assert names(everything_written(), key) or any(is_about(path, key) for path in PUBLISHED), f"{key} is cited nowhere"


# --- rows ---


def provider(keys, document):
    """Return the mapping that gives a value's source: the nearest one round it, or a `source` table beside it."""
    rows = [document]
    for key in keys:
        rows.append(rows[-1][key])
    for depth in range(len(keys), -1, -1):
        row = rows[depth]
        if not isinstance(row, dict):
            continue
        if isinstance(row.get("source"), str):
            return row
        beside = [row.get("source"), *(row.get(f"{key}_source") for key in keys[depth : depth + 1])]
        for other in beside:
            if isinstance(other, dict):
                return other
    return None


def numbers(value, keys=()):
    """Yield the path of every number in a table; a list of numbers counts once."""
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from numbers(inner, (*keys, key))
    elif isinstance(value, list) and any(isinstance(inner, dict | list) for inner in value):
        for place, inner in enumerate(value):
            yield from numbers(inner, (*keys, place))
    elif isinstance(value, list) or (isinstance(value, int | float) and not isinstance(value, bool)):
        yield keys


def unsourced(document):
    """Return what is wrong with the rows of a table."""
    wrong = []
    for keys in numbers(document):
        row = provider(keys, document)
        place = ".".join(map(str, keys))
        if row is None:
            wrong.append(f"{place} has no source")
        elif "date" not in row and not any(names(str(row.get("source", row.get("title"))), key) for key in REFERENCES):
            wrong.append(f"{place} has no date, and its source is no reference with a year")
    return wrong


@pytest.mark.parametrize("path", TABLES, ids=lambda path: path.stem)
def test_every_number_has_a_source_and_a_date(path):
    wrong = unsourced(tomllib.loads(path.read_text(encoding="utf-8")))
    assert not wrong, "\n".join(wrong[:20])


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("[a]\nvalue = 1", "a.value has no source"),
        ('[a]\nvalue = 1\nsource = "hearsay"', "a.value has no date"),
        ('[[a]]\nvalue = 1\n[[a]]\nsource = "EN 442"\nvalue = 2', "a.0.value has no source"),
        ('[source]\ntitle = "hearsay"\n[a]\nvalue = [1, 2]', "a.value has no date"),
    ],
)
def test_the_test_itself_finds_a_row_without_source_or_date(text, says):
    assert unsourced(tomllib.loads(text))[0].startswith(says)


@pytest.mark.parametrize(
    "text",
    [
        '[a]\nvalue = 1\nsource = "EN 442"',
        '[a]\nvalue = 1\nsource = "hearsay"\ndate = "2026"',
        '[source]\nsource = "EN 442"\n[a.b]\nvalue = 1',
        'a = [[1, 2]]\n[a_source]\nsource = "EN 442"',
    ],
)
def test_the_test_itself_accepts_a_row_with_both(text):
    assert unsourced(tomllib.loads(text)) == []


# --- draw-off profiles ---

PROFILES = table("draw_off_profiles")
COUNTS = {"S": 11, "M": 23, "L": 24, "XL": 30}


@pytest.mark.parametrize("name", COUNTS)
def test_a_profile_adds_up_to_its_printed_reference_energy(name):
    """[EU 814/2013] annex III table 1: the draws of a day and the total printed below them."""
    draws = PROFILES["profiles"][name]["draws"]
    assert len(draws) == COUNTS[name]
    assert sum(draw["heat"] for draw in draws) == pytest.approx(PROFILES["reference_energy"][name], abs=1e-9)


def test_the_profiles_are_those_of_the_table():
    assert dict(PROFILES["reference_energy"]) == {
        "3XS": 0.345, "XXS": 2.1, "XS": 2.1, "S": 2.1, "M": 5.845, "L": 11.655, "XL": 19.07,
        "XXL": 24.53, "3XL": 46.76, "4XL": 93.52,
    }  # fmt: skip
    least = {name: litres for name, litres in PROFILES["least_mixed_water"].items() if isinstance(litres, int)}
    assert least == {"M": 65, "L": 130, "XL": 210, "XXL": 300}
    assert set(PROFILES["profiles"]) == set(COUNTS)


@pytest.mark.parametrize("name", COUNTS)
def test_draws_go_through_the_day_and_are_possible(name):
    draws = PROFILES["profiles"][name]["draws"]
    times = [datetime.time.fromisoformat(draw["time"]) for draw in draws]
    assert times == sorted(set(times))
    for draw, then in zip(draws, times, strict=True):
        assert draw["flow"] in (3, 4, 5, 6, 10)
        assert draw["useful"] in (10, 25, 40, 45)
        assert draw.get("peak", 40) in (40, 55)
        assert ("peak" in draw) == (draw["useful"] == 10)
        minutes = draw["heat"] * 3.6e6 / (4186.8 * 30.0) / draw["flow"]
        assert minutes < 60, f"{name} at {then}"


def test_profile_m_in_full_against_a_second_reading():
    """Written out by hand a second time: every draw of M that is not 0.105 kWh at 3 l/min from 25 °C."""
    usual = {"heat": 0.105, "flow": 3, "useful": 25}
    others = [
        {key: draw[key] for key in draw if key != "time"} | {"time": draw["time"]}
        for draw in PROFILES["profiles"]["M"]["draws"]
        if {key: draw[key] for key in draw if key != "time"} != usual
    ]
    assert others == [
        {"time": "07:05", "heat": 1.4, "flow": 6, "useful": 40},
        {"time": "10:30", "heat": 0.105, "flow": 3, "useful": 10, "peak": 40},
        {"time": "12:45", "heat": 0.315, "flow": 4, "useful": 10, "peak": 55},
        {"time": "18:15", "heat": 0.105, "flow": 3, "useful": 40},
        {"time": "18:30", "heat": 0.105, "flow": 3, "useful": 40},
        {"time": "20:30", "heat": 0.735, "flow": 4, "useful": 10, "peak": 55},
        {"time": "21:30", "heat": 1.4, "flow": 6, "useful": 40},
    ]


# --- trade defaults ---

DEFAULTS = table("trade_defaults")
SIGNALS = {name: row for name, row in DEFAULTS["signals"].items()}
UNITS = {"degC": "degC", "K": "K", "bar gauge": "Pa", "hour": "s", "litre": "m3", "m": "m", "mm": "m"}


def setting(signal, key):
    return units.read(SIGNALS[signal][key], "degC")


def rows(value):
    """Yield every row of the defaults: a table that holds no other tables."""
    if any(isinstance(inner, dict) for inner in value.values()):
        for inner in value.values():
            yield from rows(inner)
    else:
        yield value


def test_every_row_of_the_defaults_has_its_own_source_and_date():
    for row in rows(DEFAULTS):
        assert row["source"] == "common practice, no source" or row["source"] in REFERENCES, row
        assert re.fullmatch(r"\d{4}(-\d\d-\d\d)?", row["date"]), row


def test_every_quantity_of_the_defaults_can_be_read():
    read = 0
    for row in rows(DEFAULTS):
        for text in row.values():
            if isinstance(text, str) and (match := re.fullmatch(r"-?[\d.]+ ([A-Za-z ]+)", text)):
                units.read(text, UNITS[match[1]])
                read += 1
    assert read >= 40


def test_every_signal_of_the_course_is_there_once():
    tags = [row["tag"] for row in SIGNALS.values()]
    assert set(tags) == {
        "TC", "RC", "PS", "LV", "S1", "SL", "S2", "HL", "SD", "SM", "SK", "IT", "IC", "TV", "RV", "GR", "BV", "BT",
    }  # fmt: skip
    assert {tag for tag in tags if tags.count(tag) > 1} == {"IT", "IC"}
    for row in SIGNALS.values():
        assert row["kind"] in ("control", "limit", "last line", "passive")
        assert row["fails"]


def test_the_settings_ladder_holds_at_the_defaults():
    rungs = [
        setting("loading valve", "opens"),
        setting("store thermostat", "breaks"),
        setting("store limit", "breaks"),
        setting("solar store maximum", "breaks"),
        setting("high limit", "makes"),
        setting("thermal discharge valve", "opens_least"),
    ]
    assert rungs == sorted(rungs)
    gap = units.read(DEFAULTS["ladder"]["least_gap"]["value"], "K")
    breaks = {
        "S1": setting("store thermostat", "breaks"), "SL": setting("store limit", "breaks"),
        "SM": setting("solar store maximum", "breaks"), "HL": setting("high limit", "makes"),
        "TV": setting("thermal discharge valve", "opens_least"),
    }  # fmt: skip
    for lower, upper in DEFAULTS["ladder"]["least_gap"]["between"]:
        assert breaks[upper] - breaks[lower] >= gap, f"{lower} to {upper}"
    floor = DEFAULTS["ladder"]["floor_limit"]
    assert units.read(floor["most"], "degC") < setting("loading valve", "opens")


def test_gaps_of_the_thermostats():
    """The gap column of the settings table: what makes and what breaks lie this far apart [K]."""
    gaps = {
        "room thermostat": 0.5, "pipe thermostat": 8, "store thermostat": 8, "store limit": 5,
        "enough-heat thermostat": 7, "high limit": 6, "solar store maximum": 5, "collector protection": 10,
    }  # fmt: skip
    for name, gap in gaps.items():
        assert abs(setting(name, "makes") - setting(name, "breaks")) == pytest.approx(gap)


def test_a_thermostat_that_makes_on_rise_does_and_one_that_breaks_on_rise_does():
    on_rise = {
        name for name in SIGNALS if "makes" in SIGNALS[name] and setting(name, "makes") > setting(name, "breaks")
    }
    assert on_rise == {"pipe thermostat", "enough-heat thermostat", "high limit"}


def test_cut_outs_stand_above_their_thermostats():
    above = units.read(DEFAULTS["ladder"]["immersion_cut_out_above_thermostat"]["value"], "K")
    for thermostat in ("lower immersion thermostat", "upper immersion thermostat"):
        assert setting("immersion cut-out", "trips_least") >= setting(thermostat, "breaks") + above
