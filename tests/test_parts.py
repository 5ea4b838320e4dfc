"""The words on every part: one entry for each spot that can be drawn, in plain sentences that agree with the chain."""

import re

import pytest

from tlib import installation, tables
from tlib.installation.schematic_plan import plan_of
from tlib.safety import LAYERS
from tlib.tables import table
from tlib.units import ATMOSPHERE

SITES = {path.stem: installation.load(path) for path in sorted((tables.shipped("workbooks") / "sites").glob("*.toml"))}
PARTS = table("parts")["part"]
SPOTS = {spot.name for site in SITES.values() for spot in plan_of(site).spots}
SAID = [(name, key, PARTS[name][key]) for name in PARTS for key in ("is", "why", "hurts")]
LAYER_OF = {
    "charge pump": "1", "heat leak": "2", "heating pump": "3", "high limit": "4", "zone valve": "4",
    "thermal valve": "5", "cistern": "6", "open vent": "6", "cold feed": "6", "vessel": "6", "relief valve": "6",
}  # fmt: skip
"""The parts that make a layer work: what the layer needs, they need."""


def sentences(text):
    return [part for part in re.split(r"(?<=[.!?]) ", text) if part]


def test_every_spot_has_its_entry_and_every_entry_a_spot():
    assert len(SITES) == 3
    assert set(PARTS) == SPOTS


@pytest.mark.parametrize("name", PARTS)
def test_an_entry_says_all_that_it_must_and_nothing_else(name):
    entry = PARTS[name]
    assert set(entry) == {"is", "why", "hurts", "needs", "heat", "book"}
    assert entry["needs"] in table("parts")["needs"]
    assert re.fullmatch(r"0[4-9]|1[0-4]", entry["book"])


@pytest.mark.parametrize(("name", "key", "text"), SAID, ids=[f"{name}-{key}" for name, key, _ in SAID])
def test_sentences_are_short_and_whole(name, key, text):
    assert text.endswith(".")
    assert max(len(sentence.split()) for sentence in sentences(text)) <= 25
    assert len(sentences(text)) <= 3


def test_the_words_read_as_for_a_ten_year_old():
    import textstat

    everything = " ".join(text for *_, text in SAID)
    # Both count letters and sentences, in American school years; the fifth is the eleventh of age.
    assert textstat.automated_readability_index(everything) < 5
    assert textstat.coleman_liau_index(everything) < 5


@pytest.mark.parametrize(("name", "number"), LAYER_OF.items())
def test_what_a_part_needs_agrees_with_the_safety_chain(name, number):
    layer = LAYERS[number]
    needs = "power" if layer.needs_power else "mains" if layer.needs_mains else "nothing"
    assert PARTS[name]["needs"] == needs


def test_the_fire_needs_neither_power_nor_mains_and_says_so():
    assert PARTS["log burner"]["needs"] == "nothing"
    assert "burns on in a power cut" in PARTS["log burner"]["hurts"]


def test_every_pump_and_electric_heater_needs_power():
    for name, entry in PARTS.items():
        if "pump" in name or "immersion" in name:
            assert entry["needs"] == "power", name


def test_numbers_in_the_words_are_those_of_the_sites():
    for site in SITES.values():
        assert f"{(site.safety.relief - ATMOSPHERE) / 1e5:.0f} bar" in PARTS["relief valve"]["is"]
        assert f"{site.safety.high_limit.makes:.0f} °C" in PARTS["high limit"]["why"]
        if site.safety.thermal_valve:  # "when the burner comes near boiling": the words hold for no other sensor
            assert site.safety.thermal_valve.sensor == "burner"


def test_a_licensed_person_is_called_for_where_the_work_is_theirs():
    for name in ("boiler", "boiler pump", "low immersion", "solar coil", "blending valve"):
        assert re.search(r"registered|qualified|electrician|trained", PARTS[name]["hurts"]), name
