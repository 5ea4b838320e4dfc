"""The player: what it shows is the run at that minute, it rests when told, and it draws nothing while out of sight."""

import re

import numpy as np
import pytest

from tlib.figures.store import banded, store_picture
from tlib.installation import Store
from tlib.panels import Control, Panel, Playback
from tlib.panels.clock import in_words, minute_of
from tlib.panels.playback import BEAT, PACES
from tlib.simulation import Loop, Result, run_store
from tlib.validation import OutOfRange

TANK = Store(volume="300 litre", height="1.26 m", wall={"material": "steel", "thickness": "3 mm"},
             loss="1.85 W/K", room="15 degC")  # fmt: skip
HOURS = 3


@pytest.fixture(scope="module")
def day():
    """Return three hours of a store that is filled with hot water from the top."""
    loops = (Loop(drawn_from=0.0, returned_to=1.0, flow=0.02, inlet=80.0),)
    return run_store(TANK, loops, start=20.0, duration=HOURS * 3600.0)


class Frame:
    """A pure function that draws the store and counts its calls."""

    def __init__(self):
        self.times = []

    def __call__(self, result, time):
        self.times.append(time)
        bands = result.bands(time)
        return (store_picture(bands, title="A store", words=f"The top is {bands[-1]:.2f} °C."),)


@pytest.fixture
def player(day):
    made = Playback(Frame(), lambda: day)
    made._disclosure.turn()
    return made


def said(player):
    return re.search(r"The top is ([\d.]+)", player.easel.pictures[0].words.value)[1]


def top(day, minute):
    return f"{banded(day.layers[minute])[-1]:.2f}"


def test_it_draws_and_runs_nothing_while_out_of_sight(day):
    runs, frame = [], Frame()
    player = Playback(frame, lambda: runs.append(1) or day)
    player.take()
    player.clock.value = player.beat.value = 0
    assert (runs, frame.times, player.result) == ([], [], None)
    player._disclosure.button.click()
    assert (runs, frame.times) == ([1], [0.0])
    player._disclosure.button.click()
    player.clock.value = 50
    player.beat.value = 60
    player.take()
    assert (runs, frame.times) == ([1], [0.0])


def test_it_begins_at_rest_at_the_start(player, day):
    assert (player.is_playing, player.minute, player.press.description) == (False, 0, "Play")
    assert said(player) == top(day, 0) == "20.00"
    assert player.clock.description == "Time: 00:00, midnight"


def test_each_step_shows_the_run_at_that_minute(player, day):
    for minute in (10, 20, 30):
        player.on.click()
        assert (player.minute, player.clock.value, player.beat.value) == (minute,) * 3
        assert said(player) == top(day, minute)
    player.pace.value = 1
    player.back.click()
    assert (player.minute, said(player)) == (29, top(day, 29))
    assert len({top(day, minute) for minute in (0, 10, 20, 29, 30)}) > 3, "the day must change for this to prove much"


def test_the_table_shows_the_same_minute(player, day):
    player.easel.pictures[0].table.turn()
    player.clock.value = 73
    bands = banded(day.layers[73])
    assert f"{bands[-1]:.0f} °C" in player.easel.pictures[0].rows.value


def test_at_both_ends_there_is_no_further_step(player, day):
    last = 60 * HOURS
    assert (player.back.disabled, player.on.disabled, player.last) == (True, False, last)
    player.clock.value = last - 5
    player.on.click()
    assert (player.minute, said(player)) == (last, top(day, last))
    assert (player.back.disabled, player.on.disabled) == (False, True)
    player.on.click()
    assert player.minute == last
    with pytest.raises(OutOfRange, match="the minute must be 180 or less; got 181"):
        player.go(last + 1)


def test_play_moves_with_the_beat_and_pause_really_stops(player, day):
    player.press.click()
    assert (player.beat.playing, player.press.description, player.beat.step) == (True, "Pause", 10)
    player.beat.value = 10  # as the browser does
    assert (player.minute, said(player)) == (10, top(day, 10))
    assert "role=" not in player.easel.pictures[0].words.value, "a screen reader must not speak four times a second"
    player.press.click()
    assert (player.beat.playing, player.press.description, player.minute) == (False, "Play", 10)
    assert 'role="status"' in player.easel.pictures[0].words.value


def test_the_browser_never_asks_for_more_than_five_pictures_a_second(player):
    assert player.beat.interval == BEAT
    assert 1000 / BEAT <= 5
    assert (player.beat.repeat, player.beat.layout.display) == (False, "none")


def test_a_moved_clock_goes_on_from_there(player, day):
    player.clock.value = 100
    assert (player.minute, player.beat.value, said(player)) == (100, 100, top(day, 100))
    player.press.click()
    player.beat.value = 110
    player.clock.value = 40  # by hand, while it plays
    assert (player.minute, player.beat.value, player.is_playing) == (40, 40, True)
    player.beat.value = 50
    assert (player.minute, player.clock.value, said(player)) == (50, 50, top(day, 50))


def test_a_beat_under_way_when_it_was_stopped_or_moved_is_taken_back(player, day):
    player.press.click()
    player.beat.value = 10
    player.press.click()
    drawn = len(player._frame.times)
    player.beat.value = 20  # sent by the browser before it heard
    assert (player.minute, player.clock.value, player.beat.value) == (10, 10, 10)
    player.press.click()
    player.clock.value = 45
    player.beat.value = 30
    player.beat.value = 50
    assert (player.minute, player.clock.value, player.beat.value) == (45, 45, 45)
    player.beat.value = 75  # two beats were left out while a picture was drawn
    assert (player.minute, player.clock.value, len(player._frame.times)) == (75, 75, drawn + 2)


def test_the_last_short_step_is_shown_and_play_begins_again(player, day):
    player.clock.value = 175
    player.press.click()
    player.beat.playing = False  # the browser, where another ten minutes would pass the end
    assert (player.minute, said(player)) == (180, top(day, 180))
    player.press.click()
    assert (player.minute, player.is_playing) == (0, True)


def test_pause_within_the_last_step_stays_there(player):
    player.clock.value = 175
    player.press.click()
    player.press.click()
    assert player.minute == 175


def test_a_typed_time_is_gone_to_and_a_wrong_one_is_told(player, day):
    player.typed.value = "2.15"
    player.go_to.click()
    assert (player.minute, said(player), player.says.value) == (135, top(day, 135), "")
    player.typed.value = "4:00"
    player.go_to.click()
    assert "The time must lie from 00:00, midnight to 03:00, at night; got 4:00." in player.says.value
    player.typed.value = "<b>"
    player.go_to.click()
    assert "written like 06:30; got &#x27;&lt;b&gt;&#x27;" in player.says.value
    assert player.minute == 135


def test_a_shorter_run_ends_where_it_ends(day):
    short = Result(time=day.time[:61] * 0.995, layers=day.layers[:61].copy(), flows={}, powers={}, ledger=day.ledger,
                   begins=6 * 3600.0)  # fmt: skip
    runs = [day, short, day]
    player = Playback(Frame(), lambda: runs.pop(0))
    player._disclosure.turn()
    player.clock.value = 150
    player.take()
    assert (player.minute, player.last, player.clock.value, player.beat.max) == (60, 60, 60, 60)
    assert player._frame.times[-1] == short.time[-1]
    assert player.clock.description == "Time: 07:00, in the morning"
    player.take()
    assert (player.minute, player.last) == (60, 180)


def test_a_run_that_cannot_be_is_told_and_the_buttons_go(day):
    def run():
        raise OutOfRange("the load of logs must be 18 kg or less; got 19.")

    player = Playback(Frame(), run)
    player._disclosure.turn()
    assert "The load of logs must be 18 kg or less" in player.easel.says.value
    assert (player.result, player._deck.layout.display) == (None, "none")
    player.clock.value = 0
    player._run = lambda: day
    player.take()
    assert (player.easel.says.value, player._deck.layout.display) == ("", None)


def test_a_year_is_not_played(day):
    long = Result(time=np.arange(3) * 86_400.0 * 2, layers=day.layers[:3].copy(), flows={}, powers={},
                  ledger=day.ledger)  # fmt: skip
    player = Playback(Frame(), lambda: long)
    player._disclosure.turn()
    assert "must be 172800 s or less" in player.easel.says.value.replace("1.728e+05", "172800")


@pytest.mark.parametrize("paces", [{}, {"a": 1, "b": 2, "c": 3}])
def test_there_are_at_most_two_speeds(paces):
    with pytest.raises(OutOfRange, match="the number of speeds must be"):
        Playback(Frame(), lambda: None, paces=paces)


def test_one_speed_needs_no_choice():
    assert Playback(Frame(), lambda: None, paces={"a": 5}).pace.layout.display == "none"
    assert len(Playback(Frame(), lambda: None).pace.options) == len(PACES) == 2


def test_in_a_panel_it_plays_the_run_of_the_controls(day):
    asked = []

    def run(hot):
        asked.append(hot)
        return day

    player = Playback(Frame(), run)
    panel = Panel((Control("hot", 40, 90, 5, 80, "°C"),), {}, lambda hot: (), play=player)
    panel.draw()
    assert (asked, player._values) == ([], {"hot": 80.0})
    player._disclosure.button.click()
    player.clock.value = 30
    player.turn()
    panel.controls.set(hot=85)
    assert (asked, player.minute, player.is_playing) == ([80.0, 85.0], 30, False)
    assert player.widget in panel._desk.children[1].children


@pytest.mark.parametrize(
    ("minute", "begins", "says"),
    [
        (0, 0, "00:00, midnight"),
        (720, 0, "12:00, noon"),
        (299, 0, "04:59, at night"),
        (300, 0, "05:00, in the morning"),
        (721, 0, "12:01, in the afternoon"),
        (0, 64_800, "18:00, in the evening"),
        (240, 64_800, "22:00, at night"),
        (360, 64_800, "00:00, midnight"),
        (361, 64_800, "00:01, at night, the next day"),
        (3300, 64_800, "01:00, at night, 3 days on"),
    ],
)
def test_times_in_words(minute, begins, says):
    assert in_words(minute, begins) == says


@pytest.mark.parametrize(
    ("typed", "minute"),
    [("18:00", 0), ("6", 720), ("0630", 750), ("630", 750), (" 17h59 ", 1439), ("24:00", 360), ("0", 360)],
)
def test_times_as_people_type_them(typed, minute):
    assert minute_of(typed, 1440, 64_800.0) == minute


@pytest.mark.parametrize("typed", ["", "half past six", "25:00", "12:60", "1:2:3"])
def test_what_is_no_time_is_refused(typed):
    with pytest.raises(OutOfRange, match="a time must be written like 06:30"):
        minute_of(typed, 1440)
