"""Formulas are read and checked, never executed; dimensions are told apart as the trade tells them."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tlib.assessment import quantities
from tlib.assessment.formulary import IN_SI, KINDS, PRINTED
from tlib.assessment.formulas import FormulaFault, NoValue, parse
from tlib.assessment.quantities import NUMBER, UNITS

GIVENS = {name: UNITS[unit].kind for name, unit in
          {"volume": "litre", "hot": "degC", "cold": "degC", "heat": "kWh", "power": "kW", "share": "share",
           "top": "bar gauge", "charge": "bar gauge", "head": "bar", "rise": "K"}.items()}  # fmt: skip

# How the independent unit library writes each of our units.
PINT = {
    "share": "dimensionless", "%": "percent", "degC": "degC", "K": "delta_degC", "bar gauge": "bar",
    "bar absolute": "bar", "kWh/day": "kWh/day", "m2": "m**2", "m3": "m**3", "litre/second": "kg/s",
    "litre/minute": "kg/minute", "litre/hour": "kg/hour", "kg/m3": "kg/m**3", "W/m2": "W/m**2", "W/(m K)": "W/(m*K)",
    "W/(m2 K)": "W/(m**2*K)", "tonne": "metric_ton", "W/(m2 K2)": "W/(m**2*K**2)", "K day": "delta_degC*day",
}  # fmt: skip


@pytest.fixture(scope="module")
def registry():
    import pint

    return pint.UnitRegistry(cache_folder=None)


@pytest.mark.parametrize("unit", UNITS.values(), ids=lambda unit: unit.name)
def test_factors_and_kinds_agree_with_pint(unit, registry):
    """An independent unit library; a litre of flow counts one kilogram, as the trade does (common practice)."""
    theirs = registry.Quantity(1.0, PINT.get(unit.name, unit.name))
    if unit.name == "degC":
        assert (unit.factor, unit.offset) == (1.0, 0.0)  # °C is the one exception to SI inside
        theirs = registry.Quantity(1.0, "delta_degC")
    theirs = theirs.to_base_units()
    in_kilograms = theirs.to({"gram": "kilogram"}.get(str(theirs.units), theirs.units))
    assert unit.factor == pytest.approx(in_kilograms.magnitude, rel=1e-12)
    powers = dict(zip(("[mass]", "[length]", "[time]", "[temperature]", "[current]"), unit.kind.powers, strict=True))
    assert {base: power for base, power in powers.items() if power} == dict(theirs.dimensionality)


def test_a_gauge_reading_lies_one_standard_atmosphere_below_absolute():
    """The standard atmosphere is 101 325 Pa by definition (10th CGPM, 1954)."""
    assert UNITS["bar gauge"].to_si(0.0) == 101_325.0


@pytest.mark.parametrize(
    ("text", "unit"),
    [
        ("stored_heat(volume, hot - cold)", "kWh"),
        ("heat / power", "hour"),
        ("heat * share", "kWh"),
        ("volume_for(heat, rise)", "litre"),
        ("rise_for(heat, volume)", "K"),
        ("cold + rise", "degC"),
        ("mean(hot, cold)", "degC"),
        ("top - charge", "bar"),
        ("charge + head", "bar gauge"),
        ("top / charge", "share"),
        ("when(hot > cold, hot, cold)", "degC"),
        ("(volume ** 2) ** 0.5", "litre"),
        ("-heat / -1", "kWh"),
        ("min(heat, 2 * heat)", "kWh"),
    ],
)
def test_dimensions_that_fit(text, unit):
    assert parse(text).kind(GIVENS, KINDS) == UNITS[unit].kind


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("hot + cold", "two of a temperature cannot be added"),
        ("hot * 2", "a temperature cannot be multiplied"),
        ("hot ** 2", "a temperature cannot be raised"),
        ("top + charge", "two of an absolute pressure cannot be added"),
        ("rise - hot", "a temperature cannot be taken from a temperature difference"),
        ("heat + power", "an amount of heat and a power cannot be added"),
        ("heat - 1", "an amount of heat and a plain number cannot be subtracted"),
        ("stored_heat(volume, hot)", "stored_heat wants a temperature difference for rise, not a temperature"),
        ("stored_heat(volume)", "stored_heat wants volume"),
        ("min(heat, power)", "cannot be compared"),
        ("hot > rise", "cannot be compared"),
        ("when(heat, 1, 2)", "when wants a comparison"),
        ("2 ** heat", "a power must be a plain number"),
        ("volume ** share", "only to a power written as a number"),
        ("min()", "want at least one value"),
    ],
)
def test_dimensions_that_do_not_fit(text, says):
    with pytest.raises(FormulaFault, match=says):
        parse(text).kind(GIVENS, KINDS)


def test_a_literal_carries_no_dimension_so_the_taught_constant_needs_its_function():
    assert parse("1.163 * volume * rise").kind(GIVENS, KINDS) != UNITS["kWh"].kind


def test_kinds_without_trade_words_are_told_by_their_base_units():
    assert str(UNITS["litre"].kind.times(UNITS["K"].kind)) == "something in m3 K"
    assert str(NUMBER) == "a plain number"
    assert quantities.WORDS[UNITS["kWh"].kind] == "an amount of heat"


@pytest.mark.parametrize(
    ("text", "printed"),
    [  # course sums, each worked by hand
        ("stored_heat(300, 40)", 13.956),  # 300 x 40 x 1.163 = 13 956 Wh
        ("volume_for(12, 35)", 294.8),  # 12 000 / (35 x 1.163)
        ("rise_for(7.2, 180)", 34.39),  # 7200 / (180 x 1.163)
        ("net_calorific_value(20)", 4.087),  # (19.0 x 0.8 - 2.44 x 0.2) / 3.6
        ("buffer_volume(2, 32, 25, 32)", 735.0),  # EN 303-5's worked number, second-hand
        ("when(3 > 2, 1, 0) + max(1, 2) + mean(2, 4)", 6.0),
    ],
)
def test_functions_on_printed_numbers(text, printed):
    assert parse(text).value({}, PRINTED) == pytest.approx(printed, rel=2e-4)


def test_the_same_function_in_si_and_in_print_agree():
    assert parse("stored_heat(0.3, 40)").value({}, IN_SI) == pytest.approx(13.956 * 3.6e6)


HOSTILE = [
    ("", "a formula is missing"),
    ("(" * 150 + "1" + ")" * 140, "not a formula that can be read"),
    ("-" * 200 + "1", "at most 20 steps deep"),
    ("+".join("1" * 100), "at most 20 steps deep"),
    ("1" * 301, "at most 300 signs"),
    ("1" * 299, "at most 1e12"),
    ("1e999", "at most 1e12"),
    ("10 ** 100000", "a power in a formula is at most 9"),
    ("v\u043elume", "may not hold 'о'"),  # a Cyrillic letter
    ("\uff56olume", "plain letters and signs only"),  # a full-width letter, which Python would take for v
    ("volume\u200b", "plain letters and signs only"),
    ("__import__('os')", "it may not hold: 'os'"),
    ("().__class__", "it may not hold"),
    ("volume.real", "it may not hold: volume.real"),
    ("volume[0]", "it may not hold"),
    ("[volume]", "it may not hold"),
    ("lambda: 1", "it may not hold"),
    ("(a := 1)", "it may not hold"),
    ("1 if a else 2", "it may not hold"),
    ("a and b", "it may not hold"),
    ("a < b < c", "it may not hold"),
    ("a == b", "it may not hold"),
    ("a // b", "it may not hold"),
    ("a % b", "it may not hold"),
    ("a @ b", "it may not hold"),
    ("~1", "it may not hold"),
    ("+a", "it may not hold"),
    ("True", "it may not hold"),
    ("1j", "it may not hold"),
    ("'9' * 9", "it may not hold"),
    ("f'{a}'", "it may not hold"),
    ("f(*a)", "it may not hold"),
    ("f(x=1)", "it may not hold"),
    ("f(1)(2)", "it may not hold"),
    ("await a", "it may not hold"),
    ("a; b", "not a formula that can be read"),
    ("a = 1", "not a formula that can be read"),
    ("import os", "not a formula that can be read"),
]


@pytest.mark.parametrize(("text", "says"), HOSTILE, ids=range(len(HOSTILE)))
def test_hostile_formulas_are_refused(text, says):
    with pytest.raises(FormulaFault, match=says):
        parse(text)


@pytest.mark.parametrize(
    "text", ["1 / 0", "9 ** 9 ** 9", "(0 - 8) ** 0.5", "9 ** 9 ** 9 ** 9", "unknown + 1", "1e12 ** 9 ** 9"]
)
def test_what_has_no_value_says_so(text):
    with pytest.raises(NoValue, match="has no"):
        parse(text).value({}, PRINTED)


def test_an_input_outside_the_library_range_has_no_value():
    with pytest.raises(NoValue, match="moisture must be"):
        parse("net_calorific_value(95)").value({}, PRINTED)


@given(st.text(max_size=60))
@settings(max_examples=300, deadline=None)
def test_any_text_is_read_or_refused_never_anything_else(text):
    try:
        formula = parse(text)
    except FormulaFault:
        return
    try:
        assert math.isfinite(formula.value(dict.fromkeys(formula.names, 2.0), PRINTED))
    except NoValue:
        return


SUMS = st.recursive(
    st.one_of(st.integers(0, 99).map(str), st.sampled_from(["a", "b"])),
    lambda inner: st.tuples(inner, st.sampled_from("+-*/"), inner).map(lambda three: f"({' '.join(three)})"),
    max_leaves=12,
)


@given(SUMS, st.floats(0.1, 50), st.floats(0.1, 50))
@settings(max_examples=200, deadline=None)
def test_arithmetic_agrees_with_exact_fractions(text, a, b):
    """Python's own fractions, worked by another route, are the independent reference."""
    from fractions import Fraction

    tokens = text.replace("(", " ( ").replace(")", " ) ").split()
    try:
        exact, _ = _worked(tokens, 0, {"a": Fraction(a), "b": Fraction(b)})
    except ZeroDivisionError:
        return
    try:
        value = parse(text).value({"a": a, "b": b}, {})
    except (NoValue, FormulaFault):
        return
    scale = max(abs(exact), 1)
    if abs(exact) > 1e-6:  # far from where subtraction eats all figures
        assert value == pytest.approx(float(exact), rel=1e-6, abs=1e-6 * float(scale))


def _worked(tokens, place, numbers):
    from fractions import Fraction

    if tokens[place] != "(":
        token = tokens[place]
        return (numbers[token] if token in numbers else Fraction(token)), place + 1
    left, place = _worked(tokens, place + 1, numbers)
    sign = tokens[place]
    right, place = _worked(tokens, place + 1, numbers)
    done = {"+": left + right, "-": left - right, "*": left * right}
    return (left / right if sign == "/" else done[sign]), place + 1
