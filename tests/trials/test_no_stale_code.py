"""An edit of one number or sign in any kernel, or of a number in a table, is seen by the next process.

A copy of the package is compiled and its cache kept. Then each file with kernels is edited in turn, by an edit that a
run without the compiler showed to matter, and the same run in a new process, the old cache at hand, must give what
the edited file gives uncompiled, and not what it gave before. Takes about a quarter of an hour on two cores,
most of it compiling.
"""

import json
import os
import re
import shutil
import subprocess
import sys
import threading
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from queue import Queue

import pytest

import tlib

from .kernel_edits import files_with_kernels, tables_read_in
from .small_runs import differs

PACKAGE = Path(tlib.__file__).parent
SITES = PACKAGE.parent / "workbooks" / "sites"
RUNS = Path(__file__).parent / "small_runs.py"
FILES = files_with_kernels(PACKAGE)
SAME, OTHER = 1e-6, 5e-4  # compiled and plain agree better than the first; an edit moves more than the second
COPIES = 2  # at work side by side, each with a cache of its own: what is kept hangs on a file's place too


class Copy:
    """A copy of the package with what it compiled to, unchanged."""

    def __init__(self, folder, *, one_name=False):
        self.folder, self.package, self.kept = folder, folder / "tlib", folder / "kept"
        self.count = 0
        shutil.copytree(PACKAGE, self.package, ignore=shutil.ignore_patterns("__pycache__"))
        if one_name:
            with (self.package / "compiled.py").open("a", encoding="utf-8") as file:
                file.write('\n\ndef cache_folder():\n    return Path(os.environ["TLIB_CACHE"]) / "engine" / "one"\n')
        self.plain = self.run("plain")
        self.compiled = self.run("compiled", cache=self.kept)

    def run(self, how, *names, cache=None):
        """Return the numbers of cases, or of every one, in a new process."""
        self.count += 1
        out = self.folder / f"{self.count}.json"
        here = {"PYTHONPATH": str(self.folder), "PYTHONDONTWRITEBYTECODE": "1", "TLIB_CACHE": str(cache or self.kept)}
        done = subprocess.run([sys.executable, RUNS, SITES, out, how, *names], cwd=self.folder, env=os.environ | here,
                              capture_output=True, text=True, timeout=1800)  # fmt: skip
        assert done.returncode == 0, done.stderr[-2000:]
        return json.loads(out.read_text(encoding="utf-8"))

    def again(self, *names):
        """Return the numbers of cases from the compiler, the cache of the unchanged copy at hand; and that cache."""
        cache = self.folder / f"cache {self.count}"
        shutil.copytree(self.kept, cache)
        return self.run("compiled", *names, cache=cache), cache

    def edited(self, path, text, *hows):
        """Return what each way of running gives while a file is edited."""
        was = (self.package / path).read_bytes()
        try:
            (self.package / path).write_text(text, encoding="utf-8")
            return [how() for how in hows]
        finally:
            (self.package / path).write_bytes(was)


class Trial:
    """Two copies at work on the edits of every file."""

    def __init__(self, folder):
        self.pool, self.copies, self.lock = ThreadPoolExecutor(COPIES), Queue(), threading.Lock()
        made = list(self.pool.map(lambda place: Copy(folder / str(place)), range(COPIES)))
        self.first = made[0]
        searched = self.first.run("search")
        self.found, self.compiled = searched["found"], searched["compiled"]
        for copy in made:
            self.copies.put(copy)
        self.proofs = {path: self.pool.submit(self.prove, path, edit["text"], edit["case"])
                       for path, edit in self.found.items()}  # fmt: skip

    def prove(self, path, text, case):
        """Return the numbers of a case before an edit, after it uncompiled, and after it compiled."""
        copy = self.copies.get()
        try:
            plain, compiled = copy.edited(path, text, lambda: copy.run("plain", case)[case],
                                          lambda: copy.again(case)[0][case])  # fmt: skip
            return copy.compiled[case], plain, compiled
        finally:
            self.copies.put(copy)


@pytest.fixture(scope="module")
def trial(tmp_path_factory):
    one = Trial(tmp_path_factory.mktemp("copies"))
    yield one
    one.pool.shutdown(cancel_futures=True)


def test_compiled_and_plain_agree_on_every_run(trial):
    for name, numbers in trial.first.compiled.items():
        assert not differs(numbers, trial.first.plain[name], by=SAME), name


@pytest.mark.parametrize("path", FILES)
def test_an_edit_of_a_kernel_is_seen(trial, path):
    if path not in trial.found:
        assert path not in trial.compiled, "no run shows an edit of a file that the engine compiles"
        pytest.skip("no simulation calls its kernels, so none is compiled")
    before, plain, compiled = trial.proofs[path].result()
    assert differs(plain, before, by=OTHER), trial.found[path]["says"]
    assert differs(compiled, before, by=OTHER), f"stale: {trial.found[path]['says']}"
    assert not differs(compiled, plain, by=SAME), trial.found[path]["says"]


def edits_of_table(text):
    """Yield a table's text with one of its numbers with a point changed, the largest first: they weigh most."""
    numbers = re.finditer(r"(?<![\w.\"-])\d+\.\d+(?:e-?\d+)?", text)
    for number in sorted(numbers, key=lambda found: -float(found[0])):
        yield f"{text[: number.start()]}{float(number[0]) * 1.02!r}{text[number.end() :]}"


def changed_table(copy, files):
    """Return a table that files read, its text with a number changed, and a case that shows it."""
    for name in tables_read_in(PACKAGE, files):
        path = f"tables/{name}.toml"
        for text, _ in zip(edits_of_table((PACKAGE / path).read_text(encoding="utf-8")), range(8), strict=False):
            try:
                (now,) = copy.edited(path, text, lambda: copy.run("plain"))
            except AssertionError:  # a number without which nothing runs
                continue
            shows = [case for case in now if differs(now[case], copy.plain[case], by=2 * OTHER)]
            if shows:
                return path, text, shows[0]
    raise AssertionError("no number of a table that kernels freeze changes any run")


def test_an_edit_of_a_table_is_seen(trial):
    path, text, case = trial.pool.submit(changed_table_of, trial).result()
    before, plain, compiled = trial.pool.submit(trial.prove, path, text, case).result()
    assert differs(plain, before, by=OTHER), path
    assert differs(compiled, before, by=OTHER), f"stale: {path}"
    assert not differs(compiled, plain, by=SAME), path


def changed_table_of(trial):
    copy = trial.copies.get()
    try:
        return changed_table(copy, trial.compiled)
    finally:
        trial.copies.put(copy)


def test_the_kept_cache_is_one_that_a_new_process_uses(trial):
    """Or else it would not matter whether it is stale."""
    copy = trial.copies.get()
    try:
        numbers, cache = copy.again()
    finally:
        trial.copies.put(copy)
    assert numbers == copy.compiled
    assert sorted(p.name for p in cache.rglob("*.nb?")) == sorted(p.name for p in copy.kept.rglob("*.nb?"))
    assert any(copy.kept.rglob("*.nbc"))


def test_under_one_name_for_every_source_stale_code_would_run(trial, tmp_path):
    """The trial can fail: with the hash of the sources taken away, an edit is not seen."""
    blind = Copy(tmp_path / "blind", one_name=True)
    stale = []
    for path in trial.compiled:
        edit = trial.found[path]
        case = edit["case"]
        (now,) = blind.edited(path, edit["text"], lambda case=case: blind.again(case)[0][case])
        stale.append(not differs(now, blind.compiled[case], by=SAME))
        if any(stale):
            return
    raise AssertionError("every edit was seen without the hash of the sources")
