"""How long reading takes: ``python tests/benchmarks/reading_speed.py``.

Prints milliseconds for a hundred quantities as people type them, and seconds until each hostile exercise file of
`tests/test_assessment_bank.py` is refused; a second is what a tutor may be asked to wait.
"""

import runpy
import tempfile
import time
from pathlib import Path

from tlib.assessment import checker
from tlib.tables import shipped
from tlib.units import read

TESTS = Path(__file__).parents[1]


def quantities():
    """Return milliseconds of processor time for a hundred quantities, the unit library loaded."""
    read("1 l/min", "kg/s")
    start = time.process_time()
    for tenth in range(100):
        read(f"{tenth / 10} l/min", "kg/s")
    return 1000 * (time.process_time() - start)


def refusals():
    """Yield each hostile file's name, seconds until it is refused, and how many faults it was told."""
    hostile = runpy.run_path(str(TESTS / "test_assessment_bank.py"))["HOSTILE"]
    checker.check(shipped("exercises"))
    for name, text in hostile.items():
        with tempfile.TemporaryDirectory() as folder:
            (Path(folder) / "hostile.toml").write_text(text, encoding="utf-8")
            start = time.process_time()
            faults = checker.check(Path(folder)).faults
            yield name, time.process_time() - start, len(faults)


if __name__ == "__main__":
    print(f"a hundred quantities  {min(quantities() for _ in range(5)):6.2f} ms")
    for name, seconds, faults in refusals():
        print(f"{name:20s}  {seconds:6.3f} s, {faults} faults")
