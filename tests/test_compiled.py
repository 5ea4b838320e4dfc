"""What the compiler promises: the plain function, the same numbers, and never stale code."""

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tlib import compiled
from tlib.compiled import elementwise, engine, kernel


@kernel
def half(x):
    return x / 2.0


@kernel
def sum_of_halves(values):
    total = 0.0
    for value in values:
        total += half(value)
    return total


def test_a_kernel_stays_a_plain_function():
    assert half(3.0) == 1.5
    assert type(half).__name__ == "function"


def test_an_engine_compiles_the_kernels_it_reaches(tmp_path, monkeypatch):
    import numpy as np

    monkeypatch.setenv("TLIB_CACHE", str(tmp_path))
    run = engine(sum_of_halves)
    assert run(np.array([1.0, 2.0, 5.0])) == run.plain(np.array([1.0, 2.0, 5.0])) == 4.0
    assert list(tmp_path.rglob("*sum_of_halves*.nbi")), "nothing was kept for the next session"
    assert run.is_ready


@kernel
def whole_less_halves(values):
    return 2.0 * sum_of_halves(values) - half(values[0])


def test_only_the_outermost_function_becomes_machine_code(tmp_path, monkeypatch):
    import numpy as np

    monkeypatch.setenv("TLIB_CACHE", str(tmp_path))
    run = engine(whole_less_halves)
    assert run(np.array([4.0, 8.0])) == 10.0
    (outer,) = run.fast.overloads.values()
    inner = [made for each in (half, sum_of_halves) for made in compiled._inner(each).overloads.values()]
    addresses = [made.library.get_pointer_to_function(made.fndesc.llvm_func_name) for made in (outer, *inner)]
    assert addresses[0] != 0
    assert addresses[1:] == [0] * len(inner) != [], "time was spent on what is never run"


def test_two_engines_may_share_a_kernel_and_both_come_from_the_cache(tmp_path, monkeypatch):
    import numpy as np

    monkeypatch.setenv("TLIB_CACHE", str(tmp_path))
    values = np.array([4.0, 8.0])
    assert [engine(each)(values) for each in (whole_less_halves, sum_of_halves)] == [10.0, 6.0]
    again = [engine(each) for each in (sum_of_halves, whole_less_halves)]
    assert [run(values) for run in again] == [6.0, 10.0]
    assert all(sum(run.fast.stats.cache_hits.values()) == 1 for run in again)


def test_a_cache_that_cannot_be_written_is_done_without(tmp_path, monkeypatch):
    import numpy as np

    blocker = tmp_path / "file"
    blocker.write_text("in the way", encoding="utf-8")
    monkeypatch.setenv("TLIB_CACHE", str(blocker))
    assert engine(sum_of_halves)(np.array([2.0, 4.0])) == 3.0


def test_elementwise_broadcasts_and_keeps_scalars():
    larger = elementwise(lambda a, b: a if a > b else b)
    assert larger(2.0, 3.0) == 3.0
    assert larger([[1.0], [9.0]], [4.0, 5.0]).tolist() == [[4.0, 5.0], [9.0, 9.0]]


@pytest.mark.parametrize("changed", ["validation.py", "figures/__init__.py", "tables/water.toml"])
def test_an_edit_anywhere_changes_the_cache_folder(tmp_path, changed):
    copy = tmp_path / "tlib"
    shutil.copytree(Path(compiled.__file__).parent, copy, ignore=shutil.ignore_patterns("__pycache__"))
    ask = [sys.executable, "-c", "from tlib import compiled; print(compiled.cache_folder())"]

    def folder():
        return subprocess.run(ask, cwd=tmp_path, capture_output=True, text=True, check=True).stdout

    before = folder()
    path = copy / changed
    path.write_text(path.read_text(encoding="utf-8") + "\n# one more line\n", encoding="utf-8")
    assert folder() != before


def test_old_folders_are_let_go(tmp_path, monkeypatch):
    monkeypatch.setenv("TLIB_CACHE", str(tmp_path))
    for name in ("aaa", "bbb", "ccc"):
        (tmp_path / "engine" / name).mkdir(parents=True)
    compiled._keep_newest(compiled.cache_folder())
    assert len(list((tmp_path / "engine").iterdir())) == 2


def test_without_numba_the_plain_function_runs(monkeypatch):
    monkeypatch.setattr(compiled.importlib.util, "find_spec", lambda name: None)
    run = engine(sum_of_halves)
    assert run.fast is run.plain
    assert run([2.0, 4.0]) == 3.0


def test_an_engine_is_not_ready_before_anything_was_compiled(tmp_path, monkeypatch):
    monkeypatch.setenv("TLIB_CACHE", str(tmp_path))
    assert not engine(sum_of_halves).is_ready


def test_what_an_earlier_session_compiled_makes_an_engine_ready(tmp_path, monkeypatch):
    import numpy as np

    monkeypatch.setenv("TLIB_CACHE", str(tmp_path))
    engine(sum_of_halves)(np.array([1.0]))
    assert engine(sum_of_halves).is_ready
