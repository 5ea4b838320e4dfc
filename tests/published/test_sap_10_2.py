"""SAP 10.2 (17 December 2021), table 12: carbon factors for rating a dwelling, supply chain included.

Obtained: gas and electricity read on a surveyors' page and in a public transcription of the table; the others in the
transcription. Grade A, second-hand.
"""

import pytest

from tlib import combustion

TABLE_12 = [
    ("natural gas", 0.210), ("heating oil", 0.298), ("bottled gas", 0.241), ("wood", 0.028),
    ("grid electricity", 0.136),
]  # fmt: skip


@pytest.mark.evidence("published", "combustion.carbon_emitted", "combustion.fuel_record")
@pytest.mark.parametrize(("fuel", "factor"), TABLE_12)
def test_carbon_for_each_kilowatt_hour(fuel, factor):
    assert combustion.carbon_emitted(fuel, 3.6e6) == pytest.approx(factor, abs=1e-9)
