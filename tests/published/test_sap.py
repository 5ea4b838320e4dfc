"""The Standard Assessment Procedure of the United Kingdom, 2012 and 10.2: tables 2, 2a and 2b, loss of stores.

Obtained: formulas of the notes and the factors, restated in three unrelated public programs. Grade A.
"""

import pytest

from tlib import heat_transfer

# thickness [mm]: loss factor [kWh/(litre day)]
TABLE_2_FOAM = {25: 0.02397, 35: 0.0191, 38: 0.0181, 50: 0.01519, 80: 0.01155, 120: 0.00944}
TABLE_2_JACKET = {25: 0.05156, 50: 0.03303, 80: 0.02397}
TABLE_2A = {120: 1.0, 150: 0.9283, 200: 0.8434, 210: 0.8298, 300: 0.7368}  # litres: volume factor
WHOLE = [(210, 50, 1.588), (300, 80, 1.532)]  # litres, mm, kWh/day with the temperature factor 0.60


def daily(watts):
    return watts * 24 / 1000


@pytest.mark.evidence("published", "heat_transfer.sap_foam_loss")
@pytest.mark.parametrize("thickness", TABLE_2_FOAM)
def test_table_2_foam(thickness):
    ours = daily(heat_transfer.sap_foam_loss(0.120, thickness / 1000)) / 120
    assert ours == pytest.approx(TABLE_2_FOAM[thickness], abs=2e-5)


@pytest.mark.evidence("published", "heat_transfer.sap_jacket_loss")
@pytest.mark.parametrize("thickness", TABLE_2_JACKET)
def test_table_2_jacket(thickness):
    ours = daily(heat_transfer.sap_jacket_loss(0.120, thickness / 1000)) / 120
    assert ours == pytest.approx(TABLE_2_JACKET[thickness], abs=2e-5)


@pytest.mark.evidence("published", "heat_transfer.sap_foam_loss", "heat_transfer.sap_jacket_loss")
@pytest.mark.parametrize("rule", [heat_transfer.sap_foam_loss, heat_transfer.sap_jacket_loss])
@pytest.mark.parametrize("litres", TABLE_2A)
def test_table_2a(litres, rule):
    for_each_litre = rule(litres / 1000, 0.05) / litres / (rule(0.120, 0.05) / 120)
    assert for_each_litre == pytest.approx(TABLE_2A[litres], abs=1e-4)


@pytest.mark.evidence("published", "heat_transfer.sap_foam_loss", "heat_transfer.sap_temperature_factor")
@pytest.mark.parametrize(("litres", "thickness", "printed"), WHOLE)
def test_the_whole_sum(litres, thickness, printed):
    factor = heat_transfer.sap_temperature_factor("cylinder")
    assert daily(heat_transfer.sap_foam_loss(litres / 1000, thickness / 1000, factor)) == pytest.approx(
        printed, abs=0.002
    )


@pytest.mark.evidence("published", "heat_transfer.sap_temperature_factor")
@pytest.mark.parametrize(
    ("kind", "details", "printed"),
    [
        ("cylinder", (), 0.60),
        ("cylinder", ("separately timed",), 0.60 * 0.9),
        ("cylinder", ("no thermostat",), 0.60 * 1.3),
        ("thermal store", (), 1.08),
        ("thermal store", ("separately timed",), 1.08 * 0.81),
        ("thermal store", ("outside an airing cupboard",), 1.08 * 1.1),
    ],
)
def test_table_2b(kind, details, printed):
    assert heat_transfer.sap_temperature_factor(kind, *details) == pytest.approx(printed, rel=1e-12)
