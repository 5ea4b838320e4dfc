"""The panel: one call of the pure function a change, faults as sentences, nothing before the prediction is locked."""

import subprocess
import sys
from dataclasses import dataclass

import pytest

from tlib.panels import Control, Panel, Prediction, ends, show
from tlib.panels.panel import GETTING_READY
from tlib.panels.sitting import Sitting
from tlib.validation import require


@dataclass(frozen=True)
class Drawn:
    markup: str
    words: str
    rows: object


CONTROLS = (Control("logs", 0, 20, 1, 8, "kg"), Control("moisture", 12, 50, 1, 20, "%"))
PRESETS = {"wet wood": {"logs": 10, "moisture": 40}}


class Show:
    """A pure function that counts its calls and gives as many pictures as there are logs in a ten."""

    def __init__(self):
        self.calls = []

    def __call__(self, **values):
        self.calls.append(values)
        require(values["logs"], "the load of logs", "kg", at_most=18)
        if values["moisture"] == 49:
            raise ZeroDivisionError("a slip <in the code>")
        said = f"{values['logs']:g} kg & more"
        markup = f'<svg role="img" width="640" height="360">{said}</svg>'
        return [Drawn(markup, said, (("what", "reading"), ("logs", "<8>")))] * (2 if values["logs"] > 9 else 1)


@pytest.fixture
def panel():
    made = Panel(CONTROLS, PRESETS, Show(), title="One <evening>")
    made.draw()
    return made


def test_nothing_is_drawn_before_it_is_on_the_page():
    show = Show()
    Panel(CONTROLS, PRESETS, show)
    assert show.calls == []


@pytest.mark.parametrize("shown", [lambda panel: panel, lambda panel: panel.widget])
def test_it_is_drawn_when_it_is_on_the_page(monkeypatch, shown):
    order = []
    monkeypatch.setattr("IPython.display.publish_display_data", lambda data: order.append(sorted(data)))
    monkeypatch.setattr("IPython.display.display", lambda widget: widget._ipython_display_())
    panel = Panel(CONTROLS, PRESETS, lambda **_: order.append("drawn") or [])
    shown(panel)._ipython_display_()
    assert order == [["application/vnd.jupyter.widget-view+json", "text/plain"], "drawn"]


def test_one_move_of_a_slider_is_one_call(panel):
    panel.controls.rows["logs"].slider.value = 9
    assert panel.show.calls == [{"logs": 8.0, "moisture": 20.0}, {"logs": 9.0, "moisture": 20.0}]


def test_one_typed_number_is_one_call_and_a_preset_too(panel):
    panel.controls.rows["logs"].box.value = 7.4
    panel.controls.buttons["wet wood"].click()
    assert panel.show.calls[1:] == [{"logs": 7.0, "moisture": 20.0}, {"logs": 10.0, "moisture": 40.0}]


def test_every_end_can_be_visited(panel):
    for values in ends(CONTROLS):
        panel.controls.set(**values)
        assert bool(panel.says.value) == (values["logs"] > 18)


def test_words_are_a_live_region_and_escaped(panel):
    words = panel.pictures[0].words.value
    assert words == '<p role="status" aria-live="polite">8\xa0kg &amp; more</p>'
    assert "One &lt;evening&gt;" in panel.widget.children[1].value
    assert panel.pictures[0].widget.layout.width == "640px"


def test_the_table_is_written_only_when_it_is_opened(panel):
    box = panel.pictures[0]
    assert box.rows.value == ""
    box.table.button.click()
    assert "&lt;8&gt;" in box.rows.value
    assert box.table.button.description == "Hide the table"


def test_an_open_table_follows_the_controls():
    counted = []

    def pictures(logs, moisture):
        counted.append(logs)
        return [Drawn("<svg/>", "Words.", (("what", "reading"), ("logs", f"{logs:g} kg")))]

    panel = Panel(CONTROLS, {}, pictures)
    panel.draw()
    panel.pictures[0].table.turn()
    panel.controls.set(logs=3)
    assert "3 kg" in panel.pictures[0].rows.value


def test_out_of_range_is_a_sentence_and_the_old_picture_is_out_of_sight(panel):
    panel.controls.set(logs=19)
    assert panel.says.value == (
        '<p role="status" aria-live="polite">The load of logs must be 18 kg or less; got 19.</p>'
    )
    assert "tlib-blank" in panel.easel.box._dom_classes
    panel.controls.set(logs=5)
    assert panel.says.value == ""
    assert "tlib-blank" not in panel.easel.box._dom_classes


def test_a_broken_function_shows_a_sentence_and_keeps_the_fault_for_tests(panel):
    panel.controls.set(moisture=49)
    assert "This picture could not be drawn. You did nothing wrong." in panel.says.value
    assert "ZeroDivisionError: a slip &lt;in the code&gt;" in panel.says.value
    assert "Traceback" not in panel.says.value
    assert isinstance(panel.fault, ZeroDivisionError)


def test_the_number_of_pictures_may_change(panel):
    first = panel.pictures[0]
    panel.controls.set(logs=12)
    assert len(panel.pictures) == len(panel.easel.box.children) == 2
    panel.controls.set(logs=2)
    assert panel.pictures == [first]


def test_the_wait_for_the_engine_is_said_while_it_lasts():
    said = []
    panel = Panel(CONTROLS, {}, lambda **_: said.append(panel.says.value) or [], getting_ready=lambda: True)
    panel.draw()
    assert GETTING_READY in said[0]
    assert panel.says.value == ""


@pytest.fixture
def place(tmp_path, monkeypatch):
    monkeypatch.setenv("TLIB_ANSWERS", str(tmp_path))
    sitting = Sitting()
    sitting.begin("book-04")
    sitting.switch("17")
    yield sitting
    sitting.close()


def test_a_panel_stays_closed_until_the_prediction_is_locked(place):
    show = Show()
    panel = Panel(CONTROLS, PRESETS, show, prediction=Prediction("wet", "How much less?", ("5", "20"), place=place))
    panel.draw()
    panel.controls.set(logs=3)
    assert (show.calls, panel._desk.layout.display) == ([], "none")
    panel._prediction.field.value = "20"
    panel._prediction.lock.click()
    assert show.calls == [{"logs": 3.0, "moisture": 20.0, "prediction": "20"}]
    assert panel._desk.layout.display is None


def test_a_panel_closes_when_another_learner_sits_down(place):
    prediction = Prediction("wet", "How much less?", ("5", "20"), place=place)
    panel = Panel(CONTROLS, PRESETS, Show(), prediction=prediction)
    prediction.field.value = "5"
    prediction.lock.click()
    place.switch("18")
    assert (panel.is_open, panel._desk.layout.display) == (False, "none")
    place.switch("17")
    assert panel.is_open
    assert panel.show.calls[-1]["prediction"] == "5"


def test_show_gives_a_still_picture_with_its_sentence_and_table():
    page = show(Drawn('<svg width="640"/>', "A < B.", (("what", "reading"),)))
    drawing, words, _ = page.children[1].children
    assert drawing.value == '<svg width="640"/>'
    assert "A &lt; B." in words.value


def test_importing_the_kit_loads_nothing_slow():
    code = "import sys, tlib.panels; print({'matplotlib', 'numba', 'CoolProp', 'pint', 'pvlib'} & set(sys.modules))"
    printed = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout
    assert printed.strip() == "set()"
