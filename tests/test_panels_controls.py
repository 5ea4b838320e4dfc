"""Controls: a value beyond the ends cannot happen, slider and box agree, and a change is told once."""

import pytest

from tlib.panels import Choice, Control, ends
from tlib.panels.controls import Controls
from tlib.validation import OutOfRange

LOGS = Control("logs", 0, 20, 0.5, 8, "kg")
START = Control("store_at_lighting", 25, 75, 1, 35, "°C", "Before the fire.")
PUMP = Choice("pump", {"pump on": True, "pump off": False})


@pytest.fixture
def column():
    made = Controls((LOGS, START), (PUMP,), {"wet wood": {"logs": 12, "pump": False}})
    made.told = []
    made.on_change(lambda: made.told.append(made.values()))
    return made


def test_a_slider_moves_its_box_and_is_told_once(column):
    column.rows["logs"].slider.value = 9.5
    assert column.rows["logs"].box.value == 9.5
    assert column.told == [{"logs": 9.5, "store_at_lighting": 35.0, "pump": True}]


def test_a_typed_number_moves_the_slider_and_is_told_once(column):
    column.rows["logs"].box.value = 3.26
    assert (column.rows["logs"].slider.value, column.rows["logs"].box.value) == (3.3, 3.3)
    assert [said["logs"] for said in column.told] == [3.3]


@pytest.mark.parametrize(("typed", "kept"), [(999, 20), (-1, 0)])
def test_a_number_beyond_the_ends_becomes_the_end(column, typed, kept):
    column.rows["logs"].box.value = typed
    assert column.values()["logs"] == kept


def test_a_number_that_is_none_never_arrives(column):
    with pytest.raises(OutOfRange, match=r"Logs must be a finite number; got nan\."):
        column.set(logs=float("nan"))
    assert column.told == []


def test_a_preset_sets_everything_at_once(column):
    column.rows["store_at_lighting"].slider.value = 60
    column.buttons["wet wood"].click()
    assert column.told[1:] == [{"logs": 12.0, "store_at_lighting": 35, "pump": False}]


def test_back_to_the_start_and_reset(column):
    column.buttons["wet wood"].click()
    column.rows["logs"].reset.click()
    assert column.values()["logs"] == 8
    assert column.values()["pump"] is False
    column.buttons["Back to the start"].click()
    assert column.values() == {"logs": 8, "store_at_lighting": 35, "pump": True}


def test_the_label_carries_the_unit_and_names_both_widgets(column):
    row = column.rows["store_at_lighting"]
    assert row.slider.description == "Store at lighting (°C)"
    assert row.box.description == "Store at lighting (°C), type a number"
    assert row.slider.readout is False
    assert "25 to 75 °C. Before the fire." in row.widget.children[-1].value


def test_what_is_not_in_sight_comes_when_asked_for(column):
    assert column.more.button.description == "More settings"
    assert column.more.widget.children[1].layout.display == "none"
    column.more.button.click()
    assert column.more.button.description == "Fewer settings"
    assert column.more.widget.children[1].layout.display is None


def test_six_controls_in_sight_are_refused():
    six = [Control(f"c{n}", 0, 1, 0.1, 0, "") for n in range(6)]
    with pytest.raises(OutOfRange, match="at most 5 controls at once, so that a learner can see what each does; got 6"):
        Controls(six)


@pytest.mark.parametrize(
    ("presets", "says"),
    [
        ({"too much": {"logs": 21}}, "Logs must be 20 kg or less; got 21"),
        ({"odd": {"peat": 1}}, "The preset 'odd' names peat; the controls are logs"),
    ],
)
def test_a_preset_that_cannot_be_is_refused(presets, says):
    with pytest.raises(OutOfRange, match=says):
        Controls((LOGS,), presets=presets)


def test_two_controls_of_one_name_are_refused():
    with pytest.raises(OutOfRange, match="a name of its own"):
        Controls((LOGS, LOGS))


@pytest.mark.parametrize(
    ("numbers", "says"),
    [
        ((20, 0, 1, 5), "the upper end of logs must be above 20 kg; got 0"),
        ((0, 20, 1, 21), "the start of logs must be 20 kg or less; got 21"),
        ((0, 20, 0, 5), "the step of logs must be above 0 kg; got 0"),
    ],
)
def test_a_control_that_cannot_be_is_refused(numbers, says):
    with pytest.raises(OutOfRange, match=says):
        Control("logs", *numbers, "kg")


def test_a_choice_knows_its_words_and_refuses_others():
    assert (PUMP.written(False), PUMP.said, PUMP.start) == ("pump off", "Pump", True)
    with pytest.raises(OutOfRange, match=r"Pump must be one of True, False; got stuck\."):
        PUMP.accepted("stuck")


@pytest.mark.parametrize(
    ("step", "start", "decimals", "written"), [(10, 300, 0, "300 l"), (0.5, 8, 1, "8.0 l"), (1, 0.25, 2, "0.25 l")]
)
def test_a_value_is_written_with_the_decimals_of_its_step(step, start, decimals, written):
    control = Control("volume", 0, 500, step, start, "l")
    assert (control.decimals, control.written(start)) == (decimals, written)


def test_ends_visit_each_control_at_each_end():
    visited = list(ends((LOGS, PUMP)))
    assert {"logs": 0.0, "pump": True} in visited
    assert {"logs": 8, "pump": False} in visited
    assert visited[-1] == {"logs": 20.0, "pump": False}
    assert len(visited) == 2 + 2 + 2
