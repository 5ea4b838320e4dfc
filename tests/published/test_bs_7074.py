"""BS 7074 part 1 and BS 5449: sizing expansion vessels in the United Kingdom.

Obtained: a public calculation sheet by the method of BS 7074, and the vessel table of BS 5449 as several boiler
instructions reproduce it, read. Grade A. A revision note's example stands with them.
"""

import pytest

from tlib import thermal_expansion

AIR = 101_325.0
SHEET_PRESSURES = (2.46, 6.30, 0.526)  # cold, top [bar gauge]; acceptance
SHEET_VESSEL = (5500.0, 0.0188, 0.5, 103.4, 206.8)  # litres, growth share, acceptance; growth, vessel [litres]
REVISION_NOTE = (100.0, 0.04, 0.5, 4.0, 8.0)
PLUMBING_TOOL = (3.0, 5.5, 0.385)  # cold, top [bar gauge]; acceptance, "around 38.5 %" with 1 bar of air
# relief setting, charge [bar gauge]: litres of vessel for 300 litres of system; flow below 110 °C
TABLE = {
    (3.0, 0.5): 25.0, (3.0, 1.0): 32.7, (3.0, 1.5): 46.8, (2.5, 0.5): 28.2, (2.5, 1.0): 40.2, (2.5, 1.5): 71.1,
    (2.0, 0.5): 33.9, (2.0, 1.0): 60.0,
}  # fmt: skip
BELOW_SETTING = 0.35  # bar, the standard's top pressure below the setting


def absolute(gauge):
    return gauge * 1e5 + AIR


@pytest.mark.evidence("published", "thermal_expansion.acceptance_factor")
@pytest.mark.parametrize(("cold", "top", "printed"), [SHEET_PRESSURES, PLUMBING_TOOL])
def test_acceptance(cold, top, printed):
    # The sheets count the air as 1 bar: 0.0005 of acceptance.
    assert thermal_expansion.acceptance_factor(absolute(cold), absolute(top)) == pytest.approx(printed, abs=0.0015)


@pytest.mark.evidence("published", "thermal_expansion.sealed_vessel")
@pytest.mark.parametrize(("litres", "share", "acceptance", "growth", "vessel"), [SHEET_VESSEL, REVISION_NOTE])
def test_vessel_from_growth_and_acceptance(litres, share, acceptance, growth, vessel):
    # The shares printed (1.88 %, 4 %) are the sheets' own; here only the arithmetic is held to them.
    assert litres * share == pytest.approx(growth, abs=0.06)
    ours = thermal_expansion.sealed_vessel(litres * share / 1000, 0.0, 1.5e5, 1.5e5 / (1 - acceptance))
    assert 1000 * ours == pytest.approx(vessel, abs=0.06)


@pytest.mark.evidence("published", "thermal_expansion.sealed_vessel")
@pytest.mark.parametrize("case", TABLE)
def test_table_of_bs_5449_for_every_setting_and_charge(case):
    setting, charge = case
    ours = thermal_expansion.sealed_vessel(0.0488 * 0.300, 0.0, absolute(charge), absolute(setting - BELOW_SETTING))
    # One growth share, 4.88 %, carries all eight columns. It is our reading, from the first; the other seven test it.
    assert 1000 * ours == pytest.approx(TABLE[case], rel=0.01)


@pytest.mark.evidence("published", "thermal_expansion.next_stock_size")
def test_the_revision_notes_vessel_is_on_the_list():
    assert thermal_expansion.next_stock_size(REVISION_NOTE[-1] / 1000) == 0.008
    assert thermal_expansion.next_stock_size(0.0156) == 0.018  # the tool: 15.6 litres, "the next common size is 18"
