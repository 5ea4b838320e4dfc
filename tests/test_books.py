"""Every book's panel: each control at both ends, every preset and every prediction draws, and says so in words."""

import importlib
import pkgutil

import pytest

from tlib.panels import books, ends

from .reading import sentences, words

LONGEST = 25
"""Words that a sentence may have, as `test_words` has it for those that stand in a file."""
MODULES = {
    name: importlib.import_module(f"tlib.panels.books.{name}") for _, name, _ in pkgutil.iter_modules(books.__path__)
}
PANELS = {name: module for name, module in MODULES.items() if hasattr(module, "panel")}


def drawn(module, values, **prediction):
    """Return the pictures for some values, once each of them has shown that it can be seen and read."""
    pictures = module.pictures(**values, **prediction)
    for picture in pictures:
        assert picture.words.endswith(".")
        assert 'role="img"' in picture.markup or "<img alt=" in picture.markup
        assert len(picture.rows) > 1
        assert len({len(row) for row in picture.rows}) == 1
        assert max(len(words(said)) for said in sentences(picture.words)) <= LONGEST, picture.words
    return pictures


@pytest.fixture(params=PANELS)
def module(request):
    return PANELS[request.param]


def controls(module):
    return (*module.SIGHT, *getattr(module, "MORE", ()))


def test_every_control_draws_at_both_ends(module):
    for values in ends(controls(module)):
        drawn(module, values)


def test_every_preset_draws(module):
    panel = module.panel()
    assert 2 <= len(module.PRESETS) <= 5
    for values in panel.controls.presets.values():
        drawn(module, values)


def test_no_preset_is_only_the_start_again_under_two_names(module):
    presets = list(module.panel().controls.presets.values())
    assert all(presets.count(values) == 1 for values in presets)


def test_every_prediction_is_drawn_or_told(module):
    places, asked = module.panel().controls.presets.values(), module.prediction()
    guesses = (None, *(asked.options or (1.0, 70.0)))

    def told(guess):
        return tuple((picture.markup, picture.words) for values in places
                     for picture in drawn(module, values, prediction=guess))  # fmt: skip

    assert len(set(map(told, guesses))) == len(guesses)


def test_the_panel_shows_what_the_function_draws(module):
    panel = module.panel()
    assert panel.show is module.pictures
    assert [control.name for control in panel.controls.all] == [control.name for control in controls(module)]
    assert not panel.is_open


def test_every_player_plays_the_run_of_its_panel():
    played = {name: panel for name, module in PANELS.items() if (panel := module.panel()).play}
    assert {"evening_fire", "heat_day", "hot_on_top"} <= set(played)
    for panel in played.values():
        result = panel.play._run(**panel.controls.values(), prediction=None)
        for time in (0.0, float(result.time[-1]) / 2, float(result.time[-1])):
            assert all(picture.words.endswith(".") for picture in panel.play._frame(result, time))
