"""Small runs of whichever copy of tlib comes first on the path, in a process of their own; their numbers go to a file.

python small_runs.py SITES OUT plain|compiled CASE…   runs cases, and writes their numbers
python small_runs.py SITES OUT search                 finds, for each file with kernels, an edit that matters, and
                                                      which files no engine compiles
"""

import functools
import gc
import importlib
import json
import sys
from pathlib import Path

HOUR = 3600.0
NOON, EVENING = 11 * HOUR, 19 * HOUR


def differs(one, other, by):
    """Return whether two rows of numbers differ by more than so much, in units of one and of their size."""
    import numpy as np

    one, other = np.asarray(one), np.asarray(other)
    if one.shape != other.shape or np.any(np.isfinite(one) != np.isfinite(other)):
        return True
    return bool(np.nanmax(np.abs(one - other) / (1.0 + np.abs(other)), initial=0.0) > by)


def sites_in(folder):
    from tlib import installation

    return {path.stem: installation.load(path) for path in sorted(Path(folder).glob("*.toml"))}


def cases(sites):
    """Return every case by its name: between them they reach every file that holds a kernel."""
    from tlib.simulation import Coil, Conditions, Day, Element, Fault, Heating, Loop, Start, run_store, simulate

    sun, fire = Day(2.0, 9.0, 900.0), [(0.0, 6.0, 0.2), (0.5 * HOUR, 5.0, 0.25)]
    showers = [(0.2 * HOUR, 0.06, 40.0, 0.15), (0.7 * HOUR, 0.03, 42.0, 0.1)]
    rooms, hot = [Heating(0.0, HOUR, None, 21.0)], Start(85.0, 85.0)

    def run(name, *faults, **more):
        settings = dict(start=60.0, duration=HOUR, begins=NOON, weather=sun, draws=showers, firing=fire) | more
        if sites[name].burner is None:
            settings |= {"firing": (), "air": ()}
        return lambda: simulate(sites[name], Conditions(faults=faults, **settings), layers=12)

    def bare():
        store = sites["larkrigg"].store
        loops = [Loop(0.95, 0.1, 0.1, 30.0, 0.02, 0.3), Loop(0.1, 0.9, 0.08, 70.0, own_level=True)]
        coils, elements = [Coil(0.1, 0.5, 300.0, 0.05, 80.0)], [Element(0.2, 0.4, 2000.0)]
        return run_store(store, loops, coils, elements, start=50.0, duration=HOUR, layers=12)

    every = {"bare store": bare}
    for name in sites:
        every |= {
            f"{name} at noon": run(name, programme=rooms, boiler=[(0.0, HOUR)]),
            f"{name} cold": run(name, start=20.0, begins=EVENING, boiler=[(0.0, HOUR)], air=[(0.3 * HOUR, 0.7)],
                                programme=[Heating(0.0, HOUR, 6000.0)]),
            f"{name} hot": run(name, "power cut", start=hot, begins=EVENING),
            f"{name} frosty night": run(name, start=15.0, begins=0.0, weather=-12.0, programme=rooms, firing=()),
        }  # fmt: skip
    stuck = ("charge pump dead", "heat leak air-locked", "thermal valve seized shut")
    every["larkrigg boils"] = run("larkrigg", *stuck, start=hot, firing=[(0.0, 12.0, 0.15)])
    every["larkrigg faulty"] = run("larkrigg", Fault("loading valve stuck open", severity=0.5), "coil scaled",
                                   "non-return valve missing", "blending valve fails cool", begins=0.0)  # fmt: skip
    return every


def numbers(case, caches=()):
    """Return what a case comes to as one row of numbers; a mean of each series, and the layers at its end."""
    import numpy as np

    for kept in caches:
        kept.cache_clear()  # what was worked out before an edit
    result = case()
    row = [result.time[-1], *result.layers[-1]]
    for series in (result.flows, result.powers, result.readings, result.states):
        row += [float(np.mean(kept)) if (kept := values[np.isfinite(values)]).size else -1.0
                for values in map(np.asarray, series.values())]  # fmt: skip
    return [float(number) for number in (*row, *result.ledger.values(), len(result.events))]


def search(every):
    """Return, for each file with kernels, the first edit that changes a case, and the case; in this one process.

    And the files of which an engine compiles a kernel: they must be among those.
    """
    from kernel_edits import edits_of, files_with_kernels, kernels_in

    import tlib

    package = Path(tlib.__file__).parent
    was = {name: numbers(case) for name, case in every.items()}
    caches = _caches()
    calls = {name: _called(case, caches) for name, case in every.items()}
    found, functions = {}, {}
    for path in files_with_kernels(package):
        module = importlib.import_module("tlib." + path.removesuffix(".py").replace("/", "."))
        text = (package / path).read_text(encoding="utf-8")
        for kernel in kernels_in(text):
            functions[path, kernel.name] = _plain(getattr(module, kernel.name))
        for edit in edits_of(text):
            function = functions[path, edit.function]
            reach = {name: case for name, case in every.items() if function.__code__ in calls[name]}
            name = _changed(function, _code(edit), reach, was, caches)
            if name:
                found[path] = {"says": edit.says, "text": edit.text, "case": name}
                break
    return {"found": found, "compiled": _compiled(functions)}


def _plain(function):
    return getattr(function, "plain", function)


def _compiled(functions):
    """Return the files of which an engine reaches a kernel, by the names that its functions use."""
    from tlib.compiled import Engine

    todo, done = [thing.plain for thing in gc.get_objects() if isinstance(thing, Engine)], set()
    while todo:
        function = todo.pop()
        done.add(function)
        uses = [_plain(function.__globals__.get(name)) for name in function.__code__.co_names]
        todo += [kernel for kernel in functions.values() if kernel not in done and any(kernel is one for one in uses)]
    return sorted({path for (path, _), function in functions.items() if function in done})


def _caches():
    """Return the caches of the package, which hold what was worked out before."""
    return [thing for thing in gc.get_objects()
            if isinstance(thing, functools._lru_cache_wrapper) and thing.__module__.startswith("tlib")]  # fmt: skip


def _called(case, caches):
    """Return the code of every function that a case calls."""
    called = set()
    sys.setprofile(lambda frame, event, _: called.add(frame.f_code) if event == "call" else None)
    try:
        numbers(case, caches)
    finally:
        sys.setprofile(None)
    return called


def _code(edit):
    """Return the code of an edited function."""
    whole = compile(edit.text, "edited", "exec")
    return next(code for code in whole.co_consts if getattr(code, "co_name", "") == edit.function)


def _changed(function, code, every, was, caches):
    """Return the first case that comes out otherwise with a function's code edited, or no name."""
    kept, function.__code__ = function.__code__, code
    try:
        for name, case in every.items():
            try:
                if differs(numbers(case, caches), was[name], by=1e-3):
                    return name
            except Exception:  # an edit may make a sum that cannot be: then another edit is tried
                continue
        return ""
    finally:
        function.__code__ = kept


def main(folder, out, how, *names):
    if how != "compiled":
        sys.modules["numba"] = None  # as on a machine without it: the engine then runs as written
    every = cases(sites_in(folder))
    told = search(every) if how == "search" else {name: numbers(every[name]) for name in names or every}
    Path(out).write_text(json.dumps(told), encoding="utf-8")


if __name__ == "__main__":
    main(*sys.argv[1:])
