"""Every test writes into a folder that is thrown away, never into a user's own; a busy machine fails no test."""

import pytest
from hypothesis import settings

settings.register_profile("tlib", deadline=None)
settings.load_profile("tlib")


@pytest.fixture(autouse=True, scope="session")
def answers_folder(tmp_path_factory):
    """Point the learner's folder at a throw-away one for the whole run, workbooks included."""
    patch = pytest.MonkeyPatch()
    folder = tmp_path_factory.mktemp("answers")
    patch.setenv("TLIB_ANSWERS", str(folder))
    yield folder
    patch.undo()
