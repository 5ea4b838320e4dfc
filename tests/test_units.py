"""Quantities as people type them: what reads, what is refused and with which words, and that nothing is lost."""

import math
import subprocess
import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tlib import units
from tlib.units import SI_UNITS, UnreadableQuantity, read, write

EXCUSED = [
    ("conservation", "units.read", "reading a text moves no heat or mass"),
    ("conservation", "units.write", "writing a number moves no heat or mass"),
]

TYPED = [
    # volume, mass, length, area
    ("300 litre", "m3", 0.3), ("300 L", "m3", 0.3), ("300l", "m3", 0.3), ("0.3 m³", "m3", 0.3), ("0.3 m^3", "m3", 0.3),
    ("300 dm3", "m3", 0.3), ("28 mm", "m", 0.028), ("1.26 m", "m", 1.26), ("4 m2", "m2", 4.0), ("12 kilos", "kg", 12.0),
    # numbers
    ("12,5 kW", "W", 12500.0), (".5 kW", "W", 500.0), ("0,125 m3", "m3", 0.125), ("1 500 litre", "m3", 1.5),
    ("1,234.5 l", "m3", 1.2345), ("1.234,5 l", "m3", 1.2345), ("1,234,567 J", "J", 1234567.0), ("1e-3 m", "m", 0.001),
    ("-3 W", "W", -3.0), ("−3 W", "W", -3.0), ("–3 W", "W", -3.0), ("+3 W", "W", 3.0), ("12 500 Wh", "J", 4.5e7),
    # time
    ("1 h 24 min", "s", 5040.0), ("1h24min", "s", 5040.0), ("1.4 h", "s", 5040.0), ("84 min", "s", 5040.0),
    ("1 hour and 24 minutes", "s", 5040.0), ("2 days, 3 h 10 s", "s", 183610.0), ("-1 h 24 min", "s", -5040.0),
    # flow
    ("12.5 l/min", "m3/s", 12.5 / 60000), ("12,5 lpm", "m3/s", 12.5 / 60000), ("600 litre/hour", "kg/s", 1 / 6),
    ("10 litres per minute", "kg/s", 1 / 6), ("10 litres a minute", "kg/s", 1 / 6), ("1.8 m3/h", "kg/s", 0.5),
    ("0.2 kg/s", "kg/s", 0.2), ("1.5 m/s", "m/s", 1.5),
    # pressure
    ("1.0 bar gauge", "Pa", 201325.0), ("1 barg", "Pa", 201325.0), ("1 bar(g)", "Pa", 201325.0),
    ("1 Bar G", "Pa", 201325.0),
    ("1.5 bar absolute", "Pa", 150000.0), ("1.5 bara", "Pa", 150000.0), ("1.5 bar abs", "Pa", 150000.0),
    ("500 mbar gauge", "Pa", 151325.0), ("20 kPa", "Pa", 20000.0), ("1013.25 mbar", "Pa", 101325.0),
    ("1 MPa", "Pa", 1e6), ("15 psi", "Pa", 103421.355),
    # heat and power
    ("14 kWh", "J", 50.4e6), ("14 kwh", "J", 50.4e6), ("14 KWH", "J", 50.4e6), ("50.4 MJ", "J", 50.4e6),
    ("10 kW", "W", 10000.0), ("2.1 kWh per day", "W", 87.5), ("2.1 kWh/24 h", "W", 87.5), ("2.1 kWh a day", "W", 87.5),
    ("4.1 kWh/kg", "J/kg", 14.76e6), ("14.76 MJ/kg", "J/kg", 14.76e6), ("4.2 kJ/kgK", "J/(kg K)", 4200.0),
    ("1 kWh/m²", "J/m2", 3.6e6), ("0.9 kg/kWh", "kg/J", 2.5e-7),
    # heat loss
    ("0.028 W/(m K)", "W/(m K)", 0.028), ("0.028 W/mK", "W/(m K)", 0.028), ("0.028 W/m/K", "W/(m K)", 0.028),
    ("3.9 W/m²K", "W/(m2 K)", 3.9), ("3.9 W/(m2·°C)", "W/(m2 K)", 3.9), ("3.9 W per m2 K", "W/(m2 K)", 3.9),
    ("0.015 W/(m2 K2)", "W/(m2 K2)", 0.015), ("900 W/K", "W/K", 900.0), ("22 MJ/K", "J/K", 22e6),
    ("0.15 m²K/W", "m2 K/W", 0.15), ("100 Pa/m", "Pa/m", 100.0), ("1 mPa s", "Pa s", 0.001),
    # temperature and its differences
    ("60 degC", "degC", 60.0), ("60 °C", "degC", 60.0), ("60C", "degC", 60.0), ("60 º C", "degC", 60.0),
    ("60°", "degC", 60.0),
    ("60 ℃", "degC", 60.0), ("-5 degrees Celsius", "degC", -5.0), ("8 K", "K", 8.0), ("8 °C", "K", 8.0),
    ("8 deg C", "K", 8.0),
    # shares and angles
    ("0.65", "1", 0.65), ("65 %", "1", 0.65), ("65 per cent", "1", 0.65), ("40 degree", "degree", 40.0),
    ("40°", "degree", 40.0),
]  # fmt: skip


@pytest.mark.evidence("limit", "units.read")
@pytest.mark.parametrize(("text", "unit", "meant"), TYPED, ids=[f"{text} as {unit}" for text, unit, _ in TYPED])
def test_what_people_type(text, unit, meant):
    assert read(text, unit) == pytest.approx(meant, rel=1e-15)


REFUSED = [
    ("", "m3", "'' is not a volume: it should begin with a number, like 300 litre"),
    ("hot", "degC", "'hot' is not a temperature: it should begin with a number, like 60 degC"),
    ("nan W", "W", "should begin with a number"),
    ("300", "m3", "'300' has no unit; a volume needs one, such as 300 litre"),
    ("60", "degC", "'60' has no unit; a temperature needs one"),
    ("14 kW", "J", "'14 kW' is a power, not an amount of heat; write it like 14 kWh"),
    ("300 kg", "m3", "'300 kg' is a mass, not a volume"),
    ("60 K", "degC", "'60 K' is a temperature difference, not a temperature; write it like 60 degC"),
    ("2 bar gauge", "W", "'2 bar gauge' is a pressure, not a power"),
    ("1 m K", "m", "'1 m K' is not a length; write it like 28 mm"),
    ("5 %", "K", "'5 %' is a plain number or share, not a temperature difference"),
    ("40 degree", "1", "'40 degree' is an angle, not a plain number or share"),
    ("0.5 %", "degree", "not an angle"),
    ("10 kg/min", "m3/s", "'10 kg/min' is a flow, not a volume flow"),
    ("300 litr", "m3", "'300 litr' is not a volume: 'litr' is not a unit; perhaps litre is meant"),
    ("3 wibbles", "kg", "'wibbles' is not a unit that is known here"),
    ("5 $", "m", "is not a unit that is known here"),
    ("60 °F", "degC", "degrees Fahrenheit are not used here; write °C"),
    ("60 F", "K", "degrees Fahrenheit are not used here; write °C"),
    ("5 mW", "W", "mW is a thousandth of a watt; write kW or MW"),
    ("5 ton", "kg", "a ton has three sizes"),
    ("12-14 kW", "W", "'12-14 kW' has more than one number; write one, like 10 kW"),
    ("12–14 kW", "W", "has more than one number"),
    ("5 to 6 kW", "W", "has more than one number"),
    ("3 4 kW", "W", "has more than one number"),
    ("1:24", "s", "has more than one number"),
    ("1/2 inch", "m", "has more than one number"),
    ("1,500 litre", "m3", "'1,500 litre' could mean 1500 or 1.500; write it without the comma"),
    ("1.2.3 W", "W", "has marks in its number that cannot be read"),
    ("1,23,456 W", "W", "has marks in its number that cannot be read"),
    ("1 h 24", "s", "'24' has no unit; a time needs one"),
    ("1 h 2 kg", "s", "'2 kg' is a mass, not a time"),
    ("1 h 24 min", "m", "'1 h 24 min' is a time, not a length"),
    ("1e999999999 W", "W", "is not a unit that is known here"),
    ("1e308 kW", "W", "'1e308 kW' is too large to be a power"),
    ("9" * 81 + " W", "W", "is too long to be a power"),
    ("5 W", "furlong", "'furlong' is not a unit of the package; it speaks in degC, K, Pa"),
]


@pytest.mark.evidence("error", "units.read")
@pytest.mark.parametrize(("text", "unit", "sentence"), REFUSED)
def test_what_is_refused_and_why(text, unit, sentence):
    with pytest.raises(UnreadableQuantity) as refusal:
        read(text, unit)
    assert sentence in str(refusal.value)


WRITTEN = [
    (50.24e6, "J", "kWh", 3, "14.0 kWh"),
    (0.3, "m3", "litre", 3, "300 litre"),
    (9.996, "m", "m", 3, "10.0 m"),
    (1234.6, "W", "W", 3, "1230 W"),
    (-2500.0, "W", "kW", 2, "-2.5 kW"),
    (0.0, "W", "kW", 3, "0.00 kW"),
    (-0.0, "W", "kW", 3, "0.00 kW"),
    (201325.0, "Pa", "bar gauge", 3, "1.00 bar gauge"),
    (201325.0, "Pa", "bar absolute", 3, "2.01 bar absolute"),
    (0.62, "1", "%", 2, "62 %"),
    (0.62, "1", "", 2, "0.62"),
    (3.9, "W/(m2 K)", "W/(m2 K)", 2, "3.9 W/(m² K)"),
    (1e-9, "m", "m", 3, "1.00e-09 m"),
    (5040.0, "s", "h min", 3, "1 h 24 min"),
    (3599.0, "s", "h min", 3, "1 h 0 min"),
    (-5040.0, "s", "h min", 3, "-1 h 24 min"),
    (60.0, "degC", "degC", 3, "60.0 °C"),
    (60.4, "degC", "°C", 2, "60 °C"),
    (-0.04, "degC", "degC", 3, "0.0 °C"),
    (8.0, "K", "°C", 2, "8.0 °C"),
]


@pytest.mark.evidence("limit", "units.write")
@pytest.mark.parametrize(("value", "unit", "wanted", "figures", "shown"), WRITTEN)
def test_what_people_read(value, unit, wanted, figures, shown):
    assert write(value, unit, wanted, figures) == shown


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_a_value_that_is_not_finite_is_said_to_be_undefined(value):
    assert write(value, "J", "kWh") == write(value, "degC", "degC") == "not defined"


@pytest.mark.evidence("error", "units.write")
@pytest.mark.parametrize(
    ("unit", "wanted", "sentence"),
    [
        ("J", "kW", "'kW' is a power, not an amount of heat"),
        ("degC", "kWh", "'kWh' is an amount of heat, not a temperature"),
        ("J", "wibble", "'wibble' is not a unit that is known here"),
        ("furlong", "m", "'furlong' is not a unit of the package"),
    ],
)
def test_writing_in_another_kind_of_unit_is_refused(unit, wanted, sentence):
    with pytest.raises(UnreadableQuantity) as refusal:
        write(1.0, unit, wanted)
    assert sentence in str(refusal.value)


SPELLINGS = [(unit, unit) for unit in SI_UNITS if unit not in ("degC", "1")] + [
    ("m3", "litre"), ("m3/s", "m3/h"), ("kg/s", "l/min"), ("J", "kWh"), ("W", "kWh per day"), ("J/kg", "kWh/kg"),
    ("Pa", "mbar"), ("Pa", "bar absolute"), ("m", "mm"), ("s", "hour"), ("1", "%"), ("1", ""), ("K", "°C"),
]  # fmt: skip


@pytest.mark.parametrize(("unit", "spelt"), SPELLINGS)
@given(value=st.floats(-1e12, 1e12))
def test_what_is_written_reads_back_the_same(unit, spelt, value):
    assert read(write(value, unit, spelt, figures=17), unit) == pytest.approx(value, rel=1e-15, abs=1e-300)


@given(value=st.floats(0.0, 1e7))
def test_a_gauge_reading_reads_back_the_same(value):
    assert read(write(value, "Pa", "bar gauge", figures=17), "Pa") == pytest.approx(value, rel=1e-15, abs=1e-9)


@given(minutes=st.integers(-10000, 10000))
def test_a_time_in_hours_and_minutes_reads_back_the_same(minutes):
    assert read(write(60.0 * minutes, "s", "h min"), "s") == 60.0 * minutes


@given(st.text(max_size=30), st.sampled_from(list(SI_UNITS)))
def test_any_text_reads_as_a_finite_number_or_is_refused_with_a_sentence(text, unit):
    try:
        outcome = read(text, unit)
    except UnreadableQuantity as refusal:
        outcome = str(refusal)
    assert outcome.endswith(".") if isinstance(outcome, str) else math.isfinite(outcome)


def test_every_unit_of_the_package_reads_in_its_own_spelling():
    for unit, kind in SI_UNITS.items():
        assert read(f"2 {unit if unit != '1' else ''}", unit) == 2.0, kind


def test_no_two_units_share_a_spelling():
    spellings = [word for name, (_, words) in units._UNITS.items() for word in [name, *words.split()]]
    assert sorted(set(spellings)) == sorted(spellings)


def test_the_unit_library_loads_at_the_first_quantity_only():
    code = (
        "import sys; from tlib import units; units.read('60 degC', 'degC'); assert 'pint' not in sys.modules; "
        "units.read('1 m', 'm'); print('pint' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True).stdout.strip() == "True"
