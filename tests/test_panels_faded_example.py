"""The faded example: lines given, lines to work, told right or not yet, and kept as evidence without marks."""

import pytest

from tlib import sizing
from tlib.panels import FadedExample
from tlib.panels.sitting import Sitting
from tlib.validation import OutOfRange

LINES = sizing.evening_working(
    logs=8.0, moisture=0.20, efficiency=0.75, share=0.65, volume=0.300, store=35.0, limit=80.0
)


@pytest.fixture
def place(tmp_path, monkeypatch):
    monkeypatch.setenv("TLIB_ANSWERS", str(tmp_path))
    sitting = Sitting()
    sitting.begin("book-04")
    sitting.switch("17")
    yield sitting
    sitting.close()


@pytest.fixture
def faded(place):
    return FadedExample("second-evening", LINES, yours=(3, 4), title="Fill in two", place=place)


def typed(faded, **texts):
    for line, text in texts.items():
        faded.fields[int(line[1:])].value = text
    faded.check.click()


def test_given_lines_stand_there_and_yours_do_not(faded):
    markup = " ".join(child.value for child in faded.widget.children if hasattr(child, "value"))
    assert "8 × 4.09 = 32.7 kWh" in markup
    assert "24.5 × 0.65" not in markup
    assert list(faded.fields) == [3, 4]
    assert faded.fields[3].description == "Line 3: useful heat"


def test_a_right_line_says_what_it_is(faded):
    typed(faded, l3="24,5 kWh")
    assert "Right. 32.7 × 0.75 = 24.5 kWh." in faded.says[3].value
    assert faded.says[4].value == ""
    assert "1 of your 2 lines is right. It is kept with your answers and earns no marks." in faded.total.value


@pytest.mark.parametrize(("text", "is_right"), [("25.2 kWh", True), ("25.4 kWh", False), ("88.3 MJ", False)])
def test_three_parts_in_a_hundred_and_no_more(faded, text, is_right):
    typed(faded, l3=text)
    assert (3 in faded.right) is is_right


def test_each_miss_tells_more(faded):
    typed(faded, l3="43.6 kWh")
    assert "Not yet. This line is heat in the logs × efficiency." in faded.says[3].value
    typed(faded, l3="40 kWh")
    assert "Not yet. This line is 32.7 × 0.75." in faded.says[3].value
    for text in ("41 kWh", "42 kWh"):
        typed(faded, l3=text)
        assert "Not yet. It is 32.7 × 0.75 = 24.5 kWh." in faded.says[3].value


def test_the_same_text_is_looked_at_once(faded, place):
    typed(faded, l3="43.6 kWh")
    faded.check.click()
    assert "heat in the logs × efficiency" in faded.says[3].value
    assert len([event for event in place.events() if event["event"] == "said"]) == 1


def test_a_line_that_leans_on_a_wrong_one_waits(faded):
    typed(faded, l3="43.6 kWh", l4="28.3 kWh")
    assert "Not yet. Put line 3 right first. This line is useful heat × share to the water." in faded.says[4].value


def test_a_number_without_its_unit_is_told_so(faded):
    typed(faded, l3="24.5")
    assert "The number is right. No unit is written; kWh was wanted." in faded.says[3].value
    typed(faded, l3="24.5 kW")
    assert "The number is right. kW measures a power" in faded.says[3].value
    assert faded.right == ()


def test_what_is_no_number_costs_nothing(faded):
    typed(faded, l3="a lot")
    assert "We could not find a number in this." in faded.says[3].value
    typed(faded, l3="43.6 kWh")
    assert "This line is heat in the logs × efficiency." in faded.says[3].value, "the first miss"


def test_every_line_can_be_the_learners(place):
    faded = FadedExample("third-evening", LINES, place=place)
    typed(faded, **{f"l{number}": line.says for number, line in enumerate(LINES, start=1)})
    assert faded.right == (1, 2, 3, 4, 5, 6, 7)


def test_it_is_there_again_after_a_restart(faded, place):
    typed(faded, l3="24.5 kWh", l4="20 kWh")
    place.close()
    again = Sitting()
    again.begin("book-04")
    back = FadedExample("second-evening", LINES, yours=(3, 4), place=again)
    assert (back.fields[3].value, back.fields[4].value) == ("24.5 kWh", "20 kWh")
    assert "Right." in back.says[3].value
    assert "Not yet. This line is useful heat × share to the water." in back.says[4].value
    again.close()


def test_another_learner_sees_none_of_it(faded, place):
    typed(faded, l3="24.5 kWh")
    place.switch("18")
    assert (faded.fields[3].value, faded.says[3].value, faded.total.value) == ("", "", "")


def test_nobody_at_the_desk_is_told_to_give_a_number(tmp_path, monkeypatch):
    monkeypatch.setenv("TLIB_ANSWERS", str(tmp_path))
    nobody = Sitting()
    nobody.begin("book-04")
    faded = FadedExample("second-evening", LINES, yours=(3,), place=nobody)
    typed(faded, l3="24.5 kWh")
    assert "Give your learner number" in faded.says[3].value
    assert faded.right == ()


def test_it_is_kept_as_evidence_and_never_as_an_answer(faded, place):
    typed(faded, l3="24.5 kWh")
    (kept,) = [event for event in place.events() if event["event"] == "said"]
    assert (kept["said"], kept["text"], kept["checked"]) == ("second-evening-3", "24.5 kWh", "right")
    assert not [event for event in place.events() if event["event"] == "answered"]


@pytest.mark.parametrize("yours", [(0,), (8,), ()])
def test_lines_that_are_not_there_are_refused(place, yours):
    with pytest.raises(OutOfRange, match="yours must name lines from 1 to 7"):
        FadedExample("second-evening", LINES, yours=yours, place=place)
