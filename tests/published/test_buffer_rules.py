"""Buffer volumes: EN 303-5's formula with a worked number, and the German rule of the 1. BImSchV.

Obtained: the formula and its example read in two manuals; the rule and its example on three public pages. Grade A.
"""

import pytest

from tlib import combustion, sizing


@pytest.mark.evidence("published", "combustion.buffer_volume")
def test_en_303_5_worked_number():
    """2 h, 32 kW that cannot turn down, house 25 kW: 735 l."""
    assert 1000 * combustion.buffer_volume(7200.0, 32e3, 25e3, 32e3) == pytest.approx(735.0, abs=0.5)


@pytest.mark.evidence("published", "combustion.buffer_by_rating")
def test_litres_for_each_kilowatt():
    """5 kW at 55 l/kW need 275 l by law; 11 kW at the trade's 50 l/kW make 550 l."""
    assert 1000 * combustion.buffer_by_rating([5e3, 11e3], [55.0, 50.0]) == pytest.approx([275.0, 550.0], abs=0.5)


@pytest.mark.evidence("published", "combustion.heat_to_water", "combustion.logs_for_heat")
def test_heat_of_logs_by_definition():
    """The product of published parts: 14.71 MJ/kg (DESNZ 2025, logs as sold) times shares. Grade B, arithmetic."""
    assert combustion.heat_to_water(10.0, 0.20, 0.75, 0.65) / 1e6 == pytest.approx(147.1 * 0.75 * 0.65, rel=1e-3)
    assert combustion.logs_for_heat(147.1e6 * 0.75 * 0.65, 0.20, 0.75, 0.65) == pytest.approx(10.0, rel=1e-3)


@pytest.mark.evidence("published", "sizing.least_buffer", "sizing.buffer_is_enough", "sizing.buffer_working")
def test_sizing_keeps_to_the_worked_number():
    fire = {"burn_time": 7200.0, "rated": 32e3, "house": 25e3, "turn_down": 32e3}
    assert 1000 * sizing.least_buffer(**fire) == pytest.approx(735.0, abs=0.5)
    assert sizing.buffer_is_enough([0.734, 0.736], **fire).tolist() == [False, True]
    _, formula, least, beyond = sizing.buffer_working(volume=0.800, **fire)
    assert (formula.says, least.says, beyond.says) == ("735 litre", "735 litre", "65.0 litre")


@pytest.mark.evidence("published", "sizing.logs_tonight", "sizing.evening_working")
def test_logs_by_definition():
    """14.71 MJ/kg (DESNZ 2025, logs as sold) times shares. Grade B, arithmetic."""
    assert sizing.logs_tonight(147.1e6 * 0.75 * 0.65, 0.20, 0.75, 0.65) == pytest.approx(10.0, rel=1e-3)
    lines = sizing.evening_working(
        logs=10.0, moisture=0.20, efficiency=0.75, share=0.65, volume=0.3, store=35.0, limit=80.0
    )
    assert [line.value / 1e6 for line in lines[:3]] == pytest.approx([14.71, 147.1, 147.1 * 0.75], rel=1e-3)
