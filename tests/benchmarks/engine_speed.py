"""How long the engine takes, as ratios from one run: ``python tests/benchmarks/engine_speed.py``.

Every contender runs in turn, again and again, and the least time of each counts, for other work on the machine only
ever adds. The store kernel stands against its own transcription in C (store.c, built here if a compiler is found),
against numpy with one LAPACK solution a step, and against SciPy's LSODA on a busier store, which stirs what lies upside
down as ours does: once over whole stretches in which nothing is switched, and once started afresh each minute, as a
control that acts each minute would have it. Then come a day and a year at Larkrigg, the peak of memory, and the first
call cold and from the cache, each in a process of its own.

Targets stand beside. Those in milliseconds and seconds were set on a machine on which a plain C program stepped such a
store through a day in 0.49 ms, so on any other they are also judged as multiples of what that takes in the same run.
"""

import ctypes
import os
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import numpy as np
from scipy.integrate import solve_ivp
from scipy.linalg import solve_banded

from tlib import installation, tables
from tlib.heat_loads import draw_off_profile
from tlib.simulation import Conditions, Draw, Firing, Heating, Hours, bare, every_day, installed, simulate
from tlib.solar_radiation import invented_year
from tlib.stratification import merged
from tlib.thermal_store import loss_by_layer, tank_of, work_for

HERE, HOUR, DAY = Path(__file__).parent, 3600.0, 86_400.0
LARKRIGG = installation.load(tables.shipped("workbooks") / "sites" / "larkrigg.toml")
CP, STEPS, STEP = 4186.8, 1440, 60.0
C_DAY = 0.49e-3
"""Time of a store's day in C on the machine on which the targets were set [s]."""
LOOPS = [bare.Loop(0.05, 0.45, 0.05, 70.0), bare.Loop(0.60, 0.10, 0.03, 35.0)]
COIL, ELEMENT = bare.Coil(0.08, 0.97, 900.0, 0.02, 10.0), bare.Element(0.05, 0.15, 500.0)
BUSY = installation.Store(
    volume="500 litre", height="1.7 m", wall={"material": "steel", "thickness": "3 mm"}, loss="2.5 W/K", room="15 degC"
)
BUSY_LOOPS = [bare.Loop(0.05, 0.95, 0.30, 75.0), bare.Loop(0.60, 0.10, 0.12, 35.0)]
BUSY_ELEMENT = bare.Element(0.05, 0.15, 3000.0)
STRETCHES = (
    (300, 0, 0, 0, 0), (60, 0, 0, 0, 1), (40, 1, 1, 0, 0), (20, 0, 1, 0, 0), (10, 0, 1, 1, 0), (50, 0, 1, 0, 0),
    (40, 1, 1, 0, 0), (50, 0, 1, 0, 0), (210, 0, 0, 0, 0), (10, 0, 0, 1, 0), (110, 0, 0, 0, 1), (60, 0, 0, 0, 0),
    (40, 1, 1, 0, 0), (140, 0, 1, 0, 0), (10, 0, 1, 1, 0), (40, 1, 1, 0, 0), (70, 0, 1, 0, 0), (10, 0, 1, 1, 1),
    (50, 0, 1, 0, 1), (120, 0, 0, 0, 0),
)  # fmt: skip
"""A busy store's day: minutes, and whether charging, heating (9.5 h), the coil and the element (3 kW) run in them.

Thermostats switch both sources; when, stands here, so that every contender does the very same work.
"""
STIR = 40e3
"""What joins two layers in LSODA's store while the lower is the warmer [W/K]: it has no other way to mix them.

Of the round values tried the least that keeps neighbours within 0.2 K of order all day at 20 layers; at 50 some pass by
0.4 K for moments, for the stiffer value that would hold them makes LSODA only slower. Without any, water lies upside
down by more than 30 K, and the day ends that far from ours.
"""
EVENING = Conditions(
    start=35.0, firing=(Firing(HOUR, 8.0, 0.20),), programme=(Heating(HOUR, 5 * HOUR, 2000.0),),
    draws=tuple(Draw((13.5 + 0.5 * n) * HOUR, 0.048, 40.0, 8 / 60) for n in range(2)),
)  # fmt: skip


def a_year():
    """Return a household's year: fires on 120 evenings, heating and boiler hours, hot water by the regulation."""
    return Conditions(
        start=45.0, begins=0.0, duration=365 * DAY, weather=invented_year(),
        draws=every_day(draw_off_profile("M", warmest=50.0), 365),
        firing=every_day([Firing(18 * HOUR, 6.0, 0.20)], 120),
        programme=every_day([Heating(6 * HOUR, 9 * HOUR, None, 19.0), Heating(16 * HOUR, 22 * HOUR, None, 20.0)], 365,
                            times=2),
        boiler=every_day([Hours(5 * HOUR, 9 * HOUR)], 365, times=2),
    )  # fmt: skip


def least(*contenders, rounds=60):
    """Return the least seconds of each contender, run in turn."""
    best = [np.inf] * len(contenders)
    for _ in range(rounds):
        for place, run in enumerate(contenders):
            start = time.thread_time()
            run()
            best[place] = min(best[place], time.thread_time() - start)
    return best


class Store:
    """The store of the comparison: two loops, a coil, an element, losses and merging."""

    def __init__(self, layers, tank=LARKRIGG.store, loops=LOOPS, element=ELEMENT):
        self.tank, self.loss = tank_of(tank, layers), loss_by_layer(tank, layers)
        self.loops = bare._loops(loops, layers)
        self.coils, self.conductance = bare._coils([COIL], layers)
        self.shares, self.powers = bare._elements([element], layers)
        self.start, self.work = np.full(layers, 50.0), work_for(layers)
        self.log, self.heats = np.empty((STEPS + 1, layers)), np.zeros((STEPS, 5))

    def ours(self):
        """Step a day by our kernel."""
        bare._ENGINE(self.start.copy(), self.tank, self.loss, self.loops, self.coils, self.conductance, self.shares,
                     self.powers, 15.0, STEP, self.work, self.log, self.heats)  # fmt: skip
        return self.log[-1]

    def ours_in_stretches(self):
        """Step a day by our kernel in which everything comes and goes."""
        loops, coils, layers, minute = self.loops.copy(), self.coils.copy(), self.start.copy(), 0
        for minutes, *runs in STRETCHES:
            loops.flow, coils.flow = self.loops.flow * runs[:2], self.coils.flow * runs[2]
            behind = minute + minutes
            bare._ENGINE(layers, self.tank, self.loss, loops, coils, self.conductance, self.shares,
                         self.powers * runs[3], 15.0, STEP, self.work, self.log[minute : behind + 1],
                         self.heats[minute:behind])  # fmt: skip
            minute = behind
        return layers

    def lapack(self):
        """Step a day by numpy: upwind flow, conduction and loss in one implicit solution a step, then merging."""
        n, t = self.start.size, self.start.copy()
        m, c, link, loss = self.tank.mass, self.tank.capacity, self.tank.link, self.loss
        up, port, source = self._matrix()
        taken = self.coil_takes()
        port, source = port + taken, source + taken * COIL.inlet
        bands = np.zeros((3, n))
        bands[0, 1:] = -(link + CP * np.maximum(-up[1:-1], 0.0)) * STEP / c
        bands[2, :-1] = -(link + CP * np.maximum(up[1:-1], 0.0)) * STEP / c
        out = CP * (np.maximum(up[1:], 0.0) + np.maximum(-up[:-1], 0.0)) + loss + port
        out[1:] += link
        out[:-1] += link
        bands[1] = 1.0 + out * STEP / c
        assert m > 0.0
        for _ in range(STEPS):
            t = solve_banded((1, 1), bands, t + source * STEP / c)
            if np.any(np.diff(t) < 0.0):
                t = merged(t)
        return t

    def coil_takes(self):
        """Return what the coil takes from each layer for each kelvin, its warming on the way counted evenly [W/K]."""
        rate, whole = COIL.flow * CP, self.conductance[0].sum()
        return self.conductance[0] * rate * -np.expm1(-whole / rate) / whole

    def _matrix(self, runs=(1, 1, 1, 1)):
        """Return face flows [kg/s], what ports take for each kelvin, and what comes in [W]."""
        n = self.start.size
        up, port, source = np.zeros(n + 1), np.zeros(n), self.loss * 15.0 + runs[3] * self.powers @ self.shares
        for loop in self.loops[np.array(runs[:2]) > 0]:
            low, high, sign = loop.drawn_from, loop.returned_to, -1.0
            if low > high:
                low, high, sign = high, low, 1.0
            up[low + 1 : high + 1] += sign * loop.flow
            port[loop.drawn_from] += CP * loop.flow
            source[loop.returned_to] += CP * loop.flow * loop.inlet
        return up, port, source

    def lsoda(self, longest=DAY):
        """Step a day by LSODA: one integration from change to change, or more if it may be no longer than so.

        It is told that a layer hangs on two neighbours each side, which makes it some seven times as quick.
        """
        t = self.start
        for minutes, *runs in STRETCHES:
            slope, span = self._slope(runs), min(minutes * STEP, longest)
            for _ in range(round(minutes * STEP / span)):
                t = solve_ivp(slope, (0.0, span), t, method="LSODA", rtol=1e-3, lband=2, uband=2).y[:, -1]
        return t

    def _coil_matrix(self):
        """Return what the coil takes from each layer [W] for each kelvin of each, above its inlet: it warms upward."""
        rate, water = COIL.flow * CP, np.zeros(self.start.size)
        taken = np.zeros((water.size, water.size))
        for layer, share in enumerate(-np.expm1(-self.conductance[0] / rate)):
            gain = -share * water
            gain[layer] += share
            taken[layer], water = rate * gain, water + gain
        return taken

    def _slope(self, runs=(1, 1, 1, 1)):
        """Return a right-hand side in numpy: the same limited faces, and stirring where the lower layer is warmer."""
        c, link, loss, coil = self.tank.capacity, self.tank.link, self.loss, self._coil_matrix()
        up, port, source = self._matrix(runs)
        rise, sink = np.maximum(up[1:-1], 0.0) * CP, np.maximum(-up[1:-1], 0.0) * CP

        def slope(_, t):
            gap, tilt = np.diff(t), np.zeros(t.size)
            below, above = gap[:-1], gap[1:]
            least = np.minimum(2.0 * np.minimum(abs(below), abs(above)), 0.5 * abs(below + above))
            tilt[1:-1] = 0.5 * (np.sign(below) + np.sign(above)) * least
            joint = link + STIR * (gap < 0.0)
            carried = rise * (t + 0.5 * tilt)[:-1] - sink * (t - 0.5 * tilt)[1:] - joint * gap
            gain = source - (port + loss) * t
            if runs[2]:
                gain -= coil @ (t - COIL.inlet)
            gain[:-1] -= carried
            gain[1:] += carried
            return gain / c

        return slope


def c_store(folder, store):
    """Return a day of the store in C, or nothing without a compiler."""
    compiler = shutil.which("cc") or shutil.which("gcc")
    if compiler is None:
        return None
    library = Path(folder) / "store.so"
    build = [compiler, "-O3", "-march=native", "-shared", "-fPIC", str(HERE / "store.c"), "-o", str(library), "-lm"]
    subprocess.run(build, check=True)
    march = ctypes.CDLL(str(library)).march_store
    march.restype = None
    loops = np.zeros(2, [("drawn_from", "i8"), ("returned_to", "i8"), ("flow", "f8"), ("inlet", "f8"), ("heat", "f8"),
                         ("leaving", "f8")])  # fmt: skip
    for name in ("drawn_from", "returned_to", "flow", "inlet"):
        loops[name] = store.loops[name]
    tank = np.array([store.tank.mass, store.tank.capacity, store.tank.link])
    n, work, log = store.start.size, np.zeros(3 * (store.start.size + 1)), np.empty((STEPS + 1, store.start.size))
    coils, heats = np.ascontiguousarray(store.coils), np.zeros((STEPS, 5))

    def day():
        layers = store.start.copy()
        given = (layers, n, tank, store.loss, loops, 2, coils, 1, store.conductance, store.shares, store.powers, 1,
                 15.0, STEP, work, log, heats, STEPS)  # fmt: skip
        march(*(_for_c(value) for value in given))
        return log[-1]

    return day


def _for_c(value):
    if isinstance(value, np.ndarray):
        return value.ctypes.data_as(ctypes.c_void_p)
    return ctypes.c_double(value) if isinstance(value, float) else ctypes.c_int64(value)


def kernel_and_call(conditions, every=None, rounds=60):
    """Return the least seconds of the kernel and of the whole call."""
    fast, spans = installed._ENGINE.fast, []

    def timed(*given):
        start = time.thread_time()
        fast(*given)
        spans[-1] += time.thread_time() - start

    kernels, calls = [], []
    installed._ENGINE.fast = timed
    try:
        for _ in range(rounds):
            spans.append(0.0)
            start = time.thread_time()
            simulate(LARKRIGG, conditions, every=every)
            calls.append(time.thread_time() - start)
            kernels.append(spans[-1])
    finally:
        installed._ENGINE.fast = fast
    return min(kernels), min(calls)


def in_a_process(code, cache=None):
    """Run a line of this file's world in a process of its own; return the numbers that it prints."""
    line = f"import runpy, time, tracemalloc; here = runpy.run_path({__file__!r}, run_name='here'); {code}"
    more = {"TLIB_CACHE": cache} if cache else {}
    said = subprocess.run(
        [sys.executable, "-c", line], env=os.environ | more, capture_output=True, text=True, check=True
    )
    return [float(word) for word in said.stdout.split()]


def say(what, value, target, met):
    """Print a row of the table."""
    print(f"{what:63s} {value:>12s}   target {target:9s} {'met' if met else 'NOT met'}", flush=True)


def say_time(what, seconds, target, c):
    """Print a row for a time, and one for what it is in days of the store in C, if there is a compiler."""
    unit, many = ("ms", 1e3) if target < 0.1 else ("s", 1.0)
    say(what, f"{many * seconds:.2f} {unit}", f"<= {many * target:g} {unit}", seconds <= target)
    if c:
        most = target / C_DAY
        say(
            f"{'':4s}as a multiple of the store's day in C",
            f"{seconds / c:.3g} x",
            f"<= {most:.3g} x",
            seconds <= most * c,
        )


def against_lsoda(layers, wanted):
    """Print the rows of both ways to call LSODA, and how far apart the answers are."""
    store, ends = Store(layers, BUSY, BUSY_LOOPS, BUSY_ELEMENT), []
    (ours,) = least(store.ours_in_stretches, rounds=200)
    for way, longest in (("from change to change", DAY), ("a minute at a time", STEP)):
        (other,) = least(lambda longest=longest: ends.append(store.lsoda(longest)), rounds=3)
        what = f"LSODA 1e-3, {way} / store kernel, {layers} layers"
        say(what, f"{other / ours:.0f} x", f">= {wanted}", other >= wanted * ours)
        apart = ends[-1] - store.ours_in_stretches()
        print(f"{'':4s}{1e3 * ours:.3f} ms against {1e3 * other:.0f} ms; layers apart at midnight by "
              f"{abs(apart).max():.2f} K at most, {abs(apart).mean():.2f} K on average")  # fmt: skip


def main():
    """Print the table."""
    store, c = Store(50), None
    with tempfile.TemporaryDirectory() as folder:
        in_c = c_store(folder, store)
        if in_c:
            apart = np.abs(store.ours() - in_c()).max()
            ours, c = least(store.ours, in_c, rounds=200)
            say(f"store kernel / C -O3 (apart by {apart:.0e} K)", f"{ours / c:.2f} x", "<= 1.2", ours <= 1.2 * c)
            print(f"{'':4s}{1e3 * ours:.3f} ms against {1e3 * c:.3f} ms a day, 50 layers, 60 s")
    (ours, lapack) = least(store.ours, store.lapack, rounds=5)
    say("numpy + LAPACK / store kernel, 50 layers", f"{lapack / ours:.0f} x", ">= 50", lapack >= 50 * ours)
    for layers, wanted in ((20, 300), (50, 1000)):
        against_lsoda(layers, wanted)
    kernel, call = kernel_and_call(EVENING, rounds=200)
    say_time("a Larkrigg day, 50 layers, 60 s: kernel", kernel, 0.8e-3, c)
    print(f"{'':4s}the whole call {1e3 * call:.2f} ms; closure {simulate(LARKRIGG, EVENING).ledger.closure:.1e}")
    kernel, call = kernel_and_call(a_year(), every=HOUR, rounds=4)
    say_time("a Larkrigg year, hourly rows: whole call", call, 0.3, c)
    print(f"{'':4s}of which the kernel {kernel:.2f} s")
    (peak,) = in_a_process(
        "here['simulate'](here['LARKRIGG'], here['EVENING']); year = here['a_year'](); tracemalloc.start(); "
        "here['simulate'](here['LARKRIGG'], year, every=3600.0); print(tracemalloc.get_traced_memory()[1])"
    )
    say("peak of memory that a year takes", f"{peak / 1e6:.0f} MB", "<= 200 MB", peak <= 200e6)
    first = (
        "start, busy = time.perf_counter(), time.process_time(); here['simulate'](here['LARKRIGG'], here['EVENING']); "
    )
    with tempfile.TemporaryDirectory() as cache:
        tell = "print(time.perf_counter() - start, time.process_time() - busy)"
        (cold, busy), (warm, busy_warm) = (in_a_process(first + tell, cache) for _ in range(2))
    say_time("first call, nothing compiled yet", cold, 10.0, c)
    say_time("first call, from the cache", warm, 1.0, c)
    print(f"{'':4s}of which this program worked {busy:.1f} s and {busy_warm:.2f} s, and waited for others the rest")


if __name__ == "__main__":
    main()
