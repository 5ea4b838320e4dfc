"""Every test writes into a folder that is thrown away, never into a user's own; a busy machine fails no test."""

import os

import pytest
from hypothesis import settings

# The build draws the same examples every time; a person at work draws new ones at every run.
settings.register_profile("tlib", deadline=None, derandomize=bool(os.environ.get("CI")))
settings.load_profile("tlib")


@pytest.fixture(autouse=True, scope="session")
def answers_folder(tmp_path_factory):
    """Point the learner's folder at a throw-away one for the whole run, workbooks included."""
    patch = pytest.MonkeyPatch()
    folder = tmp_path_factory.mktemp("answers")
    patch.setenv("TLIB_ANSWERS", str(folder))
    yield folder
    patch.undo()
