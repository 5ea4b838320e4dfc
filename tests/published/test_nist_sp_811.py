"""NIST SP 811 (2008), appendix B.8, factors for units listed alphabetically.

Obtained: rows read in two public transcriptions of the table that agree. Grade A.
"""

import pytest

from tlib import units

pytestmark = pytest.mark.evidence("published", "units.read", "units.write")

APPENDIX_B_8 = [
    # unit,        SI unit, digits as printed, exponent
    ("inch", "m", "2.54", -2),
    ("ft", "m", "3.048", -1),
    ("litre", "m3", "1.0", -3),
    ("gallon", "m3", "4.54609", -3),  # Canadian and U.K. (Imperial)
    ("lb", "kg", "4.535924", -1),  # avoirdupois
    ("tonne", "kg", "1.0", 3),  # ton, metric
    ("bar", "Pa", "1.0", 5),
    ("psi", "Pa", "6.894757", 3),
    ("kWh", "J", "3.6", 6),
    ("Wh", "J", "3.6", 3),
    ("Btu", "J", "1.055056", 3),  # British thermal unit (IT)
    ("kcal", "J", "4.1868", 3),  # calorie (IT), a thousand
    ("m/s", "m/s", "1.0", 0),
    ("km/h", "m/s", "2.777778", -1),
    ("ft2", "m2", "9.290304", -2),
]
STANDARD_ATMOSPHERE = 1.01325e5  # row "atmosphere, standard (atm)"


@pytest.mark.parametrize(("unit", "si", "digits", "exponent"), APPENDIX_B_8)
def test_one_of_each_unit_reads_as_printed(unit, si, digits, exponent):
    half_of_the_last_digit = 0.5 * 10.0 ** (exponent - len(digits.partition(".")[2]))
    assert units.read(f"1 {unit}", si) == pytest.approx(float(digits) * 10.0**exponent, abs=half_of_the_last_digit)


@pytest.mark.parametrize(("unit", "si", "digits", "exponent"), APPENDIX_B_8)
def test_the_printed_factor_writes_as_one(unit, si, digits, exponent):
    assert float(units.write(float(digits) * 10.0**exponent, si, unit, figures=5).split()[0]) == 1.0


def test_a_gauge_leaves_out_the_standard_atmosphere():
    assert units.ATMOSPHERE == STANDARD_ATMOSPHERE
    assert units.read("0 bar gauge", "Pa") == STANDARD_ATMOSPHERE
    assert units.write(STANDARD_ATMOSPHERE, "Pa", "bar gauge") == "0.00 bar gauge"
