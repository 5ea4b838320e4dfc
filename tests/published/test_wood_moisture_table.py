"""Calorific value of wood against moisture, a public page on firewood: 19.00 GJ/t dry, falling 0.214 for each per cent.

Obtained: the table read. Grade A. Two of its cells are misprints against its own law (25 %: 13.72, 50 %: 8.20) and are
left out. It counts 2.40 MJ for each kilogram of water, we 2.44; the rows differ by up to 0.03.
"""

import pytest

from tlib import combustion

TABLE = [
    # moisture / %, GJ/t
    (0, 19.00), (15, 15.79), (20, 14.72), (30, 12.58), (35, 11.51), (40, 10.44), (45, 9.37), (55, 7.23), (60, 6.16),
]  # fmt: skip


@pytest.mark.evidence("published", "combustion.net_calorific_value")
@pytest.mark.parametrize(("moisture", "printed"), TABLE)
def test_our_defaults_beside_the_table(moisture, printed):
    assert combustion.net_calorific_value(moisture / 100) / 1e6 == pytest.approx(printed, abs=0.03)


@pytest.mark.evidence("published", "combustion.net_calorific_value")
@pytest.mark.parametrize(("moisture", "printed"), TABLE)
def test_the_table_s_own_latent_heat_gives_its_rows(moisture, printed):
    assert combustion.net_calorific_value(moisture / 100, latent=2.40e6) / 1e6 == pytest.approx(printed, abs=5e-3)
