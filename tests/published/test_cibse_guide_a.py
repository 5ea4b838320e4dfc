"""CIBSE Guide A, tables 3.36 and 3.37: conductivity of foams and metals. Obtained: seen quoted. Grade A."""

import pytest

from tlib.tables import table

TABLES_3_36_AND_3_37 = {
    "polyurethane": 0.028, "polyisocyanurate": 0.030, "phenolic": 0.040, "steel": 45.0, "copper": 384.0,
}  # fmt: skip


@pytest.mark.parametrize("material", TABLES_3_36_AND_3_37)
def test_conductivity(material):
    assert table("conductivities")[material]["conductivity"] == TABLES_3_36_AND_3_37[material]


def test_nothing_stands_in_the_table_that_the_source_does_not_print():
    assert set(table("conductivities")) == set(TABLES_3_36_AND_3_37)
