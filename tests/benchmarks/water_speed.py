"""How much faster the water tables are than the reference library: ``python tests/benchmarks/water_speed.py``."""

import time

import CoolProp.CoolProp as reference
import numpy as np

from tlib import water_properties
from tlib.water_properties import bare_density

PROPERTIES = {
    "density": "D", "specific_heat": "C", "conductivity": "L", "viscosity": "V", "expansion_coefficient":
    "isobaric_expansion_coefficient", "enthalpy": "H",
}  # fmt: skip
COUNT = 10_000


def best(run, times=7):
    """Return the least time [s] of several runs: what the work costs when nothing else disturbs it."""
    taken = []
    for _ in range(times):
        start = time.perf_counter()
        run()
        taken.append(time.perf_counter() - start)
    return min(taken)


def main():
    celsius = np.random.default_rng(1).uniform(5.0, 95.0, COUNT)
    print(f"{COUNT:,} values from 5 to 95 °C at 101,325 Pa; least of several runs")
    print(f"{'property':24}{'tables':>12}{'PropsSI HEOS':>16}{'times faster':>14}")
    for name, key in PROPERTIES.items():
        of = getattr(water_properties, name)
        ours = best(lambda of=of: of(celsius))
        theirs = best(
            lambda key=key: reference.PropsSI(key, "T", celsius + 273.15, "P", np.full(COUNT, 101325.0), "Water"), 2
        )
        print(f"{name:24}{1e3 * ours:9.2f} ms{1e3 * theirs:13.1f} ms{theirs / ours:14.0f}")
    one = best(lambda: [water_properties.density(60.0) for _ in range(1000)])
    bare = best(lambda: [bare_density(60.0) for _ in range(1000)])
    theirs = best(lambda: [reference.PropsSI("D", "T", 333.15, "P", 101325.0, "Water") for _ in range(1000)])
    print(f"one density: {1e3 * one:.0f} us checked, {1e3 * bare:.0f} us bare, {1e3 * theirs:.0f} us by PropsSI HEOS")


if __name__ == "__main__":
    main()
