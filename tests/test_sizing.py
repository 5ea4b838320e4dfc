"""Sizing: limits, balances and refusals of headroom, logs, hours and buffers; published numbers stand in published/."""

import re

import numpy as np
import pytest

from tlib import combustion, heat_transfer, sizing
from tlib.validation import OutOfRange

EXCUSED = [
    ("conservation", "sizing.buffer_is_enough", "a yes or a no moves no heat"),
]
EVENING = {
    "logs": 8.0, "moisture": 0.20, "efficiency": 0.75, "share": 0.65, "volume": 0.300, "store": 35.0, "limit": 80.0,
}  # fmt: skip
FIRE = {"burn_time": 3 * 3600.0, "rated": 10e3, "house": 6e3, "turn_down": 5e3}


STANDING = {
    "label": 2000 / 24, "test_store": 65.0, "test_room": 20.0, "store": 80.0, "room": 15.0, "volume": 0.300,
    "duration": 8 * 3600.0,
}  # fmt: skip
LAYERED = {"volume": 0.300, "hot_part": 0.120, "hot": 75.0, "cold": 35.0, "useful": 40.0}
BATH = {"volume": 0.120, "temperature": 42.0, "cold": 10.0}
FULL = {"volume": 0.300, "hot": 80.0, "useful": 40.0, "bath": BATH, "power": 10e3}


@pytest.mark.evidence("limit", "sizing.headroom")
def test_a_store_at_its_limit_or_past_it_has_no_room():
    assert sizing.headroom(0.3, 85.0, 85.0) == 0.0
    assert sizing.headroom(0.3, [90.0, 95.0], 85.0) == 0.0
    assert sizing.headroom(0.0, 20.0, 85.0) == 0.0


@pytest.mark.evidence("conservation", "sizing.headroom")
def test_the_room_of_a_store_is_the_room_of_its_layers():
    layers = np.array([31.0, 40.0, 77.0, 84.0])
    parts = sum(sizing.headroom(0.3 / 4, layer, 85.0) for layer in layers)
    assert sizing.headroom(0.3, layers, 85.0) == pytest.approx(parts, rel=1e-12)
    filled = heat_transfer.stored_heat(0.3, 85.0) - heat_transfer.stored_heat(0.3, layers.mean())
    assert sizing.headroom(0.3, layers, 85.0) == pytest.approx(filled, rel=1e-12)


def test_a_layer_past_the_limit_lends_no_room_to_the_others():
    assert sizing.headroom(0.3, [35.0, 95.0], 85.0) == pytest.approx(heat_transfer.stored_heat(0.15, 50.0))


def test_many_stores_and_limits_at_once():
    night = np.array([[35.0, 60.0], [50.0, 80.0]])
    assert sizing.headroom(0.3, night, 85.0).shape == (2,)
    assert sizing.headroom(0.3, 35.0, [80.0, 85.0, 90.0]).shape == (3,)
    assert np.ndim(sizing.headroom(0.3, 35.0, 85.0)) == 0


@pytest.mark.evidence("error", "sizing.headroom")
@pytest.mark.parametrize(
    ("given", "says"),
    [
        ((0.3, 101.0, 85.0), "temperature of the store must be 100 °C or less; got 101"),
        ((0.3, [40.0, -1.0], 85.0), "temperature of the store must be 0 °C or more; got -1"),
        ((0.3, 40.0, 120.0), "limit must be 100 °C or less; got 120"),
        ((-0.3, 40.0, 85.0), "volume must be 0 m3 or more; got -0.3"),
    ],
)
def test_headroom_refuses(given, says):
    with pytest.raises(OutOfRange, match=re.escape(says)):
        sizing.headroom(*given)


@pytest.mark.evidence("limit", "sizing.logs_tonight")
def test_no_room_no_logs():
    assert sizing.logs_tonight(0.0, 0.20, 0.75, 0.65) == 0.0


@pytest.mark.evidence("conservation", "sizing.logs_tonight")
def test_the_logs_that_fit_fill_the_room_and_no_more():
    room = sizing.headroom(0.3, [38.0, 52.0, 71.0], 85.0)
    kilos = sizing.logs_tonight(room, 0.18, 0.7, 0.6)
    assert combustion.heat_to_water(kilos, 0.18, 0.7, 0.6) == pytest.approx(room, rel=1e-12)


@pytest.mark.evidence("error", "sizing.logs_tonight")
def test_logs_tonight_refuses():
    with pytest.raises(OutOfRange, match="heat wanted in the water must be 0 J or more; got -1"):
        sizing.logs_tonight(-1.0, 0.20, 0.75, 0.65)
    with pytest.raises(OutOfRange, match=r"efficiency must be 1 \(a plain number\) or less; got 75"):
        sizing.logs_tonight(1.0, 0.20, 75.0, 0.65)


@pytest.mark.evidence("limit", "sizing.time_until_full")
def test_a_full_store_takes_no_time_and_a_draw_takes_longer():
    assert sizing.time_until_full(0.0, 10e3) == 0.0
    assert sizing.time_until_full(36e6, 10e3, drawn=5e3) == pytest.approx(2 * sizing.time_until_full(36e6, 10e3))


@pytest.mark.evidence("conservation", "sizing.time_until_full")
def test_what_comes_is_what_is_drawn_and_what_stays():
    time = sizing.time_until_full(50e6, 12e3, drawn=4e3)
    assert 12e3 * time == pytest.approx(4e3 * time + 50e6, rel=1e-12)


@pytest.mark.evidence("error", "sizing.time_until_full")
@pytest.mark.parametrize("drawn", [10e3, 12e3])
def test_a_store_that_gets_nothing_is_never_full(drawn):
    with pytest.raises(OutOfRange, match="power beyond what is drawn must be above 0 W"):
        sizing.time_until_full(36e6, 10e3, drawn=drawn)


@pytest.mark.evidence("limit", "sizing.least_buffer", "sizing.buffer_is_enough")
def test_never_under_the_usual_size():
    assert combustion.buffer_volume(**FIRE) < sizing.SMALLEST_BUFFER
    assert sizing.least_buffer(**FIRE) == sizing.SMALLEST_BUFFER
    assert sizing.least_buffer(**FIRE, smallest=0.0) == combustion.buffer_volume(**FIRE)
    assert sizing.buffer_is_enough([0.299, 0.300], **FIRE).tolist() == [False, True]


@pytest.mark.evidence("conservation", "sizing.least_buffer")
def test_an_idle_house_needs_a_store_for_the_whole_charge():
    """Without a house to heat, 15 l for each kWh of the charge: they take it up in 57 K."""
    volume = sizing.least_buffer(4 * 3600.0, 12e3, 0.0, 6e3)
    assert sizing.headroom(volume, 20.0, 20.0 + 1000 / 15 / 1.163) == pytest.approx(48 * 3.6e6, rel=1e-9)


@pytest.mark.evidence("error", "sizing.least_buffer", "sizing.buffer_is_enough", "sizing.buffer_working")
def test_buffers_refuse():
    with pytest.raises(OutOfRange, match="smallest store must be 0 m3 or more; got -1"):
        sizing.least_buffer(**FIRE, smallest=-1.0)
    for ask in (sizing.buffer_is_enough, sizing.buffer_working):
        with pytest.raises(OutOfRange, match="volume must be 0 m3 or more; got -1"):
            ask(volume=-1.0, **FIRE)


@pytest.mark.evidence("conservation", "sizing.evening_working")
def test_the_heat_of_an_evening_goes_to_the_water_or_the_room():
    _, wood, useful, water, room, headroom, fits = sizing.evening_working(**EVENING)
    assert water.value + room.value == pytest.approx(useful.value, rel=1e-12)
    assert useful.value == pytest.approx(0.75 * wood.value, rel=1e-12)
    assert fits.value * water.value / 8.0 == pytest.approx(headroom.value, rel=1e-12)


@pytest.mark.evidence("limit", "sizing.evening_working")
def test_nothing_fits_a_full_store_and_no_room_is_warmed_where_all_goes_to_water():
    lines = sizing.evening_working(**EVENING | {"store": 80.0, "share": 1.0})
    assert (lines[4].value, lines[5].value, lines[6].value) == (0.0, 0.0, 0.0)


@pytest.mark.evidence("error", "sizing.evening_working")
def test_an_evening_without_logs_is_refused():
    with pytest.raises(OutOfRange, match="logs must be above 0 kg; got 0"):
        sizing.evening_working(**EVENING | {"logs": 0.0})


@pytest.mark.evidence("conservation", "sizing.buffer_working")
@pytest.mark.evidence("limit", "sizing.buffer_working")
def test_a_store_of_the_least_size_has_nothing_beyond_it():
    spared, formula, least, beyond = sizing.buffer_working(volume=0.300, **FIRE)
    assert (spared.says, formula.says, least.says, beyond.value) == ("0.36", "288 litre", "300 litre", 0.0)


SUMS = [
    *sizing.evening_working(**EVENING),
    *sizing.buffer_working(volume=0.3, **FIRE),
    *sizing.full_store_working(**FULL),
]


@pytest.mark.parametrize("line", SUMS, ids=lambda line: line.name)
def test_the_sum_in_numbers_gives_what_the_line_says(line):
    """Work what is printed with the printed figures alone, as a learner with a calculator does."""
    if line.working.startswith("the greater of"):
        worked = max(float(number) for number in re.findall(r"\d+", line.working))
    else:
        arithmetic = line.working.replace("×", "*").replace("÷", "/").replace("−", "-")
        assert re.fullmatch(r"[\d.()+*/ -]+", arithmetic)
        worked = eval(arithmetic)  # figures and signs alone, as the line above proves
    said = float(line.says.split()[0])
    assert worked == pytest.approx(said, rel=0.004, abs=0.005)


@pytest.mark.evidence("conservation", "sizing.full_store_working")
def test_heat_comes_back_from_its_power_and_time_and_from_its_baths():
    _, heat, bath, baths, time = (line.value for line in sizing.full_store_working(**FULL))
    assert time * FULL["power"] == pytest.approx(heat, rel=1e-12)
    assert baths * bath == pytest.approx(heat, rel=1e-12)


@pytest.mark.evidence("limit", "sizing.full_store_working")
def test_a_store_that_is_one_bath_holds_one_bath():
    lines = sizing.full_store_working(volume=0.120, hot=42.0, useful=10.0, bath=BATH, power=1e3)
    assert lines[3].value == pytest.approx(1.0, rel=1e-12)


@pytest.mark.evidence("error", "sizing.full_store_working")
@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        ({"useful": 80.0}, "drop from hot to the lowest useful temperature must be above 0 K"),
        ({"power": 0.0}, "power of the source must be above 0 W"),
        ({"bath": BATH | {"cold": 50.0}}, "rise of the bath's water must be above 0 K"),
        ({"volume": -1.0}, "volume must be 0 m3 or more"),
    ],
)
def test_a_full_store_that_cannot_be_is_refused(wrong, says):
    with pytest.raises(OutOfRange, match=says):
        sizing.full_store_working(**FULL | wrong)


@pytest.mark.evidence("conservation", "sizing.stirring_working")
def test_stirring_moves_no_heat_out_of_the_store():
    lines = sizing.stirring_working(**LAYERED | {"useful": 35.0})
    assert lines[1].value == pytest.approx(lines[2].value, rel=1e-12)  # counted from the coolest, all of it is there
    assert lines[3].value == pytest.approx(1.0, rel=1e-12)


@pytest.mark.evidence("limit", "sizing.stirring_working")
def test_a_store_that_is_hot_all_through_loses_nothing_and_one_that_ends_too_cool_loses_all():
    assert sizing.stirring_working(**LAYERED | {"hot_part": 0.300})[3].value == pytest.approx(1.0, rel=1e-12)
    assert sizing.stirring_working(**LAYERED | {"useful": 60.0})[2].value == 0.0


@pytest.mark.evidence("error", "sizing.stirring_working")
@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        ({"hot_part": 0.4}, "hot part must be 0.3 m3 or less|hot part must be"),
        ({"hot": 30.0}, "hot must be 35"),
        ({"useful": 80.0}, "lowest useful temperature must be"),
        ({"volume": 0.0}, "volume must be above 0 m3"),
    ],
)
def test_layers_that_cannot_be_are_refused(wrong, says):
    with pytest.raises(OutOfRange, match=says):
        sizing.stirring_working(**LAYERED | wrong)


@pytest.mark.evidence("conservation", "sizing.standing_working")
def test_a_day_at_the_label_s_own_temperatures_loses_what_the_label_says():
    lines = sizing.standing_working(**STANDING | {"store": 65.0, "room": 20.0})
    assert lines[2].value == pytest.approx(lines[0].value, rel=1e-12)
    assert lines[4].value * lines[1].value == pytest.approx(heat_transfer.stored_heat(0.300, 1.0), rel=1e-12)


@pytest.mark.evidence("limit", "sizing.standing_working")
def test_twice_the_gap_loses_twice_the_heat():
    one, two = (sizing.standing_working(**STANDING | {"store": store})[2].value for store in (45.0, 75.0))
    assert two == pytest.approx(2 * one, rel=1e-12)


@pytest.mark.evidence("conservation", "sizing.standing_working")
def test_the_heat_gone_is_the_real_loss_for_a_short_time_and_all_of_it_for_a_long_one():
    gone = {hours: sizing.standing_working(**STANDING | {"duration": hours * 3600.0})[6].value for hours in (0.1, 9000)}
    real = sizing.standing_working(**STANDING)[2].value
    assert gone[0.1] == pytest.approx(real * 360.0, rel=1e-3)
    assert gone[9000] == pytest.approx(heat_transfer.stored_heat(0.300, 65.0), rel=1e-9)


@pytest.mark.evidence("error", "sizing.standing_working")
@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        ({"duration": 0.0}, "duration must be above 0 s"),
        ({"label": 0.0}, "loss of the label must be above 0 W"),
        ({"room": 80.0}, "store less room must be above 0 K"),
        ({"volume": 0.0}, "volume must be above 0 m3"),
    ],
)
def test_a_standing_loss_that_cannot_be_is_refused(wrong, says):
    with pytest.raises(OutOfRange, match=says):
        sizing.standing_working(**STANDING | wrong)
