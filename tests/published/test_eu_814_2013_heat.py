"""Regulation (EU) 814/2013: what "energy content of hot water" means, and stored heat against steam tables.

Obtained: definitions of annex I read; steam tables by iapws 1.5.5 at test time. Grades A and B.
"""

import pytest
from iapws import IAPWS97

from tlib import heat_transfer, sizing

DRAW_OF_PROFILE_M = (1.4, 10.0, 40.0, 6.0, 40.13, 6.69)  # kWh, cold, hot [°C], litres a minute; litres, minutes
POWERS = [(10.0, 30.0, 20.93), (12.0, 35.0, 29.3)]  # litres a minute, rise [K]; kW
STORES = [(80.0, 40.0, 9.036), (75.0, 30.0, 10.192), (85.0, 10.0, 16.889)]  # 200 litres, hot, cold [°C]; kWh


@pytest.mark.evidence("published", "heat_transfer.stored_heat")
def test_litres_and_minutes_of_a_draw():
    energy, cold, hot, flow, litres, minutes = DRAW_OF_PROFILE_M
    ours = energy * 3.6e6 / heat_transfer.stored_heat(0.001, hot - cold)
    assert ours == pytest.approx(litres, rel=0.002)
    assert ours / flow == pytest.approx(minutes, rel=0.002)


@pytest.mark.evidence("published", "heat_transfer.stored_heat")
@pytest.mark.parametrize(("flow", "rise", "printed"), POWERS)
def test_power_of_a_draw(flow, rise, printed):
    assert heat_transfer.stored_heat(flow / 60_000, rise) / 1e3 == pytest.approx(printed, rel=0.002)


@pytest.mark.evidence("published", "heat_transfer.stored_heat")
@pytest.mark.parametrize(("hot", "cold", "printed"), STORES)
def test_taught_sum_against_steam_tables(hot, cold, printed):
    warm, cool = IAPWS97(T=hot + 273.15, P=0.3), IAPWS97(T=cold + 273.15, P=0.3)
    theirs = 0.200 * warm.rho * (warm.h - cool.h) / 3600
    assert theirs == pytest.approx(printed, rel=0.001)
    ours = heat_transfer.stored_heat(0.200, hot - cold) / 3.6e6
    # A litre counts as a kilogram: the taught sum is 2 to 3.5 % above the truth for hot water, and says so.
    assert theirs < ours < 1.035 * theirs


@pytest.mark.evidence("published", "sizing.headroom", "sizing.time_until_full")
@pytest.mark.parametrize(("flow", "rise", "printed"), POWERS)
def test_a_minute_of_flow_is_full_in_a_minute(flow, rise, printed):
    room = sizing.headroom(flow / 1000, 10.0, 10.0 + rise)
    assert sizing.time_until_full(room, printed * 1000) == pytest.approx(60.0, rel=0.002)


@pytest.mark.evidence("published", "sizing.headroom")
@pytest.mark.parametrize(("hot", "cold", "printed"), STORES)
def test_room_of_200_litres_against_steam_tables(hot, cold, printed):
    """The taught constant counts a litre as a kilogram; hot water is up to 3 % lighter."""
    assert sizing.headroom(0.200, cold, hot) / 3.6e6 == pytest.approx(printed, rel=0.035)


@pytest.mark.evidence("published", "sizing.full_store_working")
@pytest.mark.parametrize(("flow", "rise", "printed"), POWERS)
def test_a_store_of_one_minutes_flow_is_filled_in_a_minute(flow, rise, printed):
    bath = {"volume": flow / 1000, "temperature": 10.0 + rise, "cold": 10.0}
    *_, baths, time = sizing.full_store_working(
        volume=flow / 1000, hot=10.0 + rise, useful=10.0, bath=bath, power=printed * 1000
    )
    assert (baths.value, time.value) == pytest.approx((1.0, 60.0), rel=0.002)
