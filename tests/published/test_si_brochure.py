"""SI Brochure, 9th edition (2019), section 5.4.4: how numbers are set out, quoted word for word.

"Neither dots nor commas are inserted in the spaces between groups of three. However, when there are only four digits
before or after the decimal marker, it is customary not to use a space to isolate a single digit." Grade A.
"""

import pytest

from tlib import units

GAP = "\u00a0"


@pytest.mark.evidence("published", "units.write")
def test_groups_of_three_are_set_apart_by_a_gap_and_four_digits_are_not():
    assert units.write(43279.168, "W", "W", figures=8) == f"43{GAP}279.168 W"
    assert units.write(3279.168, "W", "W", figures=7) == "3279.168 W"
    assert units.write(1234567.0, "J", "J", figures=7) == f"1{GAP}234{GAP}567 J"


@pytest.mark.evidence("published", "units.read")
@pytest.mark.parametrize("gap", [" ", GAP, "\u2009", "\u202f"])
@pytest.mark.parametrize("decimal", [".", ","])  # "either the point on the line or the comma on the line"
def test_either_decimal_marker_and_any_gap_are_read(gap, decimal):
    assert units.read(f"43{gap}279{decimal}168 W", "W") == 43279.168
