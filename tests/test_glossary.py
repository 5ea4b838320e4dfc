"""One name for each quantity, in one spelling of its unit, and every word of the trade said plainly."""

import importlib
import inspect
import re
from collections import defaultdict

import pytest

from tlib.tables import table
from tlib.units import SI_UNITS

ROOMS = (
    "water_properties", "hydraulics", "heat_transfer", "thermal_expansion", "stratification", "combustion",
    "solar_radiation",
)  # fmt: skip
GLOSSARY = table("glossary")
UNITS = set(SI_UNITS) - {"degC"} | {"°C", "-", "1/K", "m3/h at 1 bar", "Pa s2/kg2"}


def described(function):
    """Return what a docstring says of each argument."""
    found = re.search(r"Parameters\n-+\n(.*?)(?:\n\n[A-Z]\w+\n-+\n|\Z)", inspect.getdoc(function) or "", re.DOTALL)
    says, names = defaultdict(str), []
    for row in found[1].splitlines() if found else ():
        if head := re.match(r"(\w+(?:, \w+)*) : ", row):
            names = head[1].split(", ")
        else:
            for name in names:
                says[name] += " " + row.strip()
    return says


def arguments():
    """Yield function, argument and unit for every argument that a docstring gives a unit."""
    for room in ROOMS:
        module = importlib.import_module(f"tlib.{room}")
        for name in module.__all__:
            function = getattr(module, name)
            if callable(function) and not isinstance(function, type):
                says = described(function)
                for argument in inspect.signature(function).parameters:
                    if unit := re.search(r"\[([^\]]+)\]", says[argument]):
                        yield f"{room}.{name}", argument, unit[1]


ARGUMENTS = sorted(set(arguments()))
USED = {argument for _, argument, _ in ARGUMENTS}


def units_of(entry):
    return entry["unit"].split("; ")


@pytest.mark.parametrize("argument", sorted(USED))
def test_every_argument_stands_in_the_glossary_with_its_unit(argument):
    found = {unit: function for function, name, unit in ARGUMENTS if name == argument}
    assert argument in GLOSSARY["quantity"], f"{argument} of {found} is not in tlib/tables/glossary.toml"
    known = units_of(GLOSSARY["quantity"][argument])
    assert set(found) <= set(known), f"the glossary has {argument} in {known}, not as in {found}"


def test_no_quantity_stands_in_the_glossary_for_nothing():
    assert set(GLOSSARY["quantity"]) <= USED


@pytest.mark.parametrize("name", GLOSSARY["quantity"])
def test_units_keep_to_one_spelling(name):
    assert set(units_of(GLOSSARY["quantity"][name])) <= UNITS


def test_both_lists_are_in_order():
    for part in ("quantity", "word"):
        assert list(GLOSSARY[part]) == sorted(GLOSSARY[part])


@pytest.mark.parametrize("word", GLOSSARY["word"])
def test_a_word_of_the_trade_is_said_in_a_sentence_or_two(word):
    says = GLOSSARY["word"][word]
    assert says.endswith(".")
    assert says.count(". ") <= 1
    assert len(says.split()) <= 24
    assert not says.lower().startswith(word.lower()), "a word does not explain itself"


def test_the_words_read_as_for_a_ten_year_old():
    import textstat

    everything = " ".join(GLOSSARY["word"].values())
    # Both count letters and sentences, in American school years; the fifth is the eleventh of age. Measures that count
    # syllables would fetch a dictionary from the web.
    assert textstat.automated_readability_index(everything) < 5
    assert textstat.coleman_liau_index(everything) < 5
