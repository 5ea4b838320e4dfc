"""How long the engine takes: ``python tests/benchmarks/engine_speed.py``.

Prints the first call cold and from the cache, each in a process of its own, then a day at Larkrigg with fire, heating
and showers: the whole call, and how well its books close.
"""

import os
import statistics
import subprocess
import sys
import tempfile
import time

from tlib import installation, tables
from tlib.simulation import Conditions, Draw, Firing, Heating, simulate

HOUR = 3600.0
LARKRIGG = installation.load(tables.shipped("workbooks") / "sites" / "larkrigg.toml")
DAY = Conditions(
    start=35.0,
    firing=(Firing(HOUR, 8.0, 0.20),),
    programme=(Heating(HOUR, 5 * HOUR, 2000.0),),
    draws=tuple(Draw((13.5 + 0.25 * n) * HOUR, 0.048, 40.0, 8 / 60) for n in range(4)),
)


def first_call(cache):
    """Return seconds of the first day in a new process that keeps its compiled code in a folder."""
    code = (
        f"import runpy, time; day = runpy.run_path({__file__!r}, run_name='day'); start = time.perf_counter(); "
        "day['simulate'](day['LARKRIGG'], day['DAY']); print(time.perf_counter() - start)"
    )
    run = [sys.executable, "-c", code]
    said = subprocess.run(run, env=os.environ | {"TLIB_CACHE": cache}, capture_output=True, text=True, check=True)
    return float(said.stdout)


def days(layers, step, runs=60):
    """Return milliseconds of one day, best and median, and its closure."""
    result = simulate(LARKRIGG, DAY, step, layers)
    spans = []
    for _ in range(runs):
        start = time.perf_counter()
        simulate(LARKRIGG, DAY, step, layers)
        spans.append(1000 * (time.perf_counter() - start))
    return min(spans), statistics.median(spans), result.ledger.closure


def main():
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as cache:
        print(f"first call, cold         {first_call(cache):6.2f} s")
        print(f"first call, from cache   {first_call(cache):6.2f} s")
    print("layers  step   best ms  median ms  closure")
    for layers, step in ((20, 60.0), (50, 60.0), (100, 60.0), (50, 10.0)):
        best, median, closure = days(layers, step)
        print(f"{layers:6d} {step:5.0f} s {best:8.2f} {median:10.2f}  {closure:.1e}")


if __name__ == "__main__":
    main()
