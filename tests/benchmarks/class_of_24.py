"""How long a class of 24 takes: to set the work, to sit it (all one after the other), and to mark it with its papers.

Run by hand: python tests/benchmarks/class_of_24.py [FOLDER to keep what was written]
"""

import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

import automated_class as school

from tlib.assessment import kept_work, setting
from tlib.assessment.set_marking import mark_set_work
from tlib.papers.mark_sheet import write_papers


def timed(words, work):
    began = time.perf_counter()
    done = work()
    print(f"{words}: {time.perf_counter() - began:.2f} s")
    return done


def main(folder):
    file = school.write_work(folder / "tutor")
    work = timed("set for 24 learners", lambda: setting.set_work(file))
    collected = timed("sit and hand in, 24 learners", lambda: school.hand_in_all(work, folder / "laptops"))
    kept = timed("read the private half", lambda: kept_work.load(work.folder))
    run = timed("mark the folder", lambda: mark_set_work(collected, kept))
    papers = timed("write sheets and feedback pages", lambda: write_papers(run, folder / "marked"))
    print(f"{len(run.scripts)} marked, {len(run.aside)} set aside, {len(papers)} papers")


if __name__ == "__main__":
    if len(sys.argv) > 1:
        main(Path(sys.argv[1]))
    else:
        with tempfile.TemporaryDirectory() as place:
            main(Path(place))
