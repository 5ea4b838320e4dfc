"""Book 04's panel: every control at both ends, the printed sums worked again, and words that fit the picture."""

from itertools import product

import pytest

from tlib.panels.books import evening_fire, evening_sums

START = {control.name: control.start for control in (*evening_fire.SIGHT, *evening_fire.MORE)}


@pytest.mark.parametrize(
    ("name", "end"),
    [(control.name, end) for control in (*evening_fire.SIGHT, *evening_fire.MORE) for end in control.ends],
)
def test_every_control_draws_at_its_ends(name, end):
    heat, store, day = evening_fire.pictures(**START | {name: end}, prediction="About 20 % less")
    assert heat.words.endswith("You predicted: about 20 % less.")
    assert "°C" in store.words
    assert day.words.endswith(".")
    assert store.markup.count("°C") >= 12
    assert 'role="img"' in store.markup
    assert "alt=" in day.markup


@pytest.mark.parametrize(("logs", "lit", "share"), list(product((0, 20), (25, 75), (30, 80))))
def test_the_worst_corners_draw_too(logs, lit, share):
    corner = START | {"logs": logs, "store_at_lighting": lit, "share_to_water": share, "efficiency": 85, "burn_time": 1}
    for picture in evening_fire.pictures(**corner):
        assert picture.words


def test_the_worked_sum_is_the_hand_sum():
    """By hand with 19.0 MJ/kg dry, 2.44 MJ/kg to boil off water and 1.163 Wh per litre and kelvin."""
    results = [float(line.says.split()[0]) for line in evening_sums.sums(evening_sums.BY_HAND)]
    per_kilo = (19.0 * 0.8 - 2.44 * 0.2) / 3.6
    room = 300 * 45 * 1.163 / 1000
    by_hand = [
        per_kilo,
        8 * per_kilo,
        6 * per_kilo,
        6 * per_kilo * 0.65,
        6 * per_kilo * 0.35,
        room,
        8 * room / (6 * per_kilo * 0.65),
    ]
    assert results == pytest.approx(by_hand, abs=0.051)


def test_wet_wood_gives_a_fifth_less_to_the_water():
    def given(moisture):
        values = {k: v for k, v in (START | {"moisture": moisture}).items() if k != "store_drawn_at"}
        return evening_fire.evening(**values).ledger["fire to water"]

    assert 1 - given(35) / given(20) == pytest.approx(0.22, abs=0.005)


def test_boiling_is_said_and_nothing_after_it():
    values = START | {"logs": 20, "moisture": 12, "store_at_lighting": 75, "share_to_water": 80, "burn_time": 1}
    _, store, day = evening_fire.pictures(**values)
    assert "boiling: the sum no longer describes what happens" in store.markup
    assert "boiled: the sum stops here" in day.words
    assert "shower" not in day.words


def test_the_guess_stands_beside_what_wet_wood_brings():
    """By hand: 19.0 MJ/kg dry and 2.44 MJ/kg for the water give 4.087 kWh/kg at 20 % and 3.193 at 35 %: 22 % less."""
    heat, *_ = evening_fire.pictures(**START | {"moisture": 35}, prediction="About 20 % less")
    rows = dict(heat.rows[1:])
    assert rows["8 kg at 35 %"] == "12.5 kWh"
    assert rows["the same at 20 %"] == "15.9 kWh"
    assert rows["your guess for 35 %"] == "12.8 kWh"
    assert "22 % less than the same kilos at 20 %" in heat.words
    dry, *_ = evening_fire.pictures(**START)
    assert "less" not in dry.words
    drier, *_ = evening_fire.pictures(**START | {"moisture": 12})
    assert "% more than the same kilos" in drier.words


def test_the_same_logs_only_wetter_lose_little():
    """The same dry wood, 6.4 kg, weighs 9.85 kg at 35 %; the panel's ten kilos are the nearest half kilo."""
    dry, wetter = (evening_fire.water_heat(kilos, wet, 75, 65) for kilos, wet in ((8.0, 20), (8.0 * 0.80 / 0.65, 35)))
    assert 100 * (1 - wetter / dry) == pytest.approx(4, abs=0.5)


def test_more_than_the_store_can_take_is_said():
    heat, *_ = evening_fire.pictures(**START | evening_fire.PRESETS["Lit on a hot store"])
    assert "burn less" in heat.words


def test_showers_are_counted_in_words():
    *_, day = evening_fire.pictures(**START)
    assert "All 4 showers stay warm." in day.words
    *_, cool = evening_fire.pictures(**START | {"logs": 2})
    assert "runs cool" in cool.words
    *_, none = evening_fire.pictures(**START | {"morning_showers": 0})
    assert "shower" not in none.words


def test_the_next_evening_holds_less_and_the_third_is_all_the_learners():
    """Room from 50 to 85 °C in 300 l: 12.2 kWh, so 6.1 kg (course sums, worked by hand with 1.163 Wh)."""
    room, fits = (line.value for line in evening_sums.sums(evening_sums.SECOND)[5:])
    assert room / 3.6e6 == pytest.approx(300 * 35 * 1.163 / 1000)
    assert fits == pytest.approx(6.1, abs=0.05)
    assert list(evening_sums.second_evening().fields) == [4, 6, 7]
    assert len(evening_sums.third_evening().fields) == len(evening_sums.sums(evening_sums.THIRD))


def test_the_opening_picture_says_what_it_draws():
    rows = dict(evening_sums.room_picture().rows[1:])
    assert rows["still to come"] == "15.9 kWh"
    assert rows["room to 85 °C"] == "17.4 kWh"


def test_the_account_of_the_evening_adds_up_as_printed():
    rows = evening_sums.account().rows
    for side in ("came from", "went to"):
        *heats, together = [float(row[2].split()[0]) for row in rows if row[0] == side]
        assert sum(heats) == pytest.approx(together, abs=1e-9)
    assert ("came from", "fire to water", "15.9 kWh") in rows  # the hand sum of the course
