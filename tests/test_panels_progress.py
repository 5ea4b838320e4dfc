"""A long run tells how far it has come, in words and as a bar."""

from tlib import installation, tables
from tlib.panels.progress import ProgressBar
from tlib.simulation import Conditions, simulate


def test_a_run_of_a_month_fills_the_bar_and_says_so():
    site = installation.load(tables.shipped("workbooks") / "sites" / "tansy.toml")
    bar, seen = ProgressBar("A month at Tansy Wharf"), []
    assert "A month at Tansy Wharf: 0 % done" in bar.said.value

    def follow(share):
        bar(share)
        seen.append((bar.bar.value, bar.said.value))

    simulate(site, Conditions(duration=28 * 86_400.0), every=3600.0, progress=follow)
    assert [value for value, _ in seen] == [0.25, 0.5, 0.75, 1.0]
    assert "25 % done" in seen[0][1]
    assert seen[-1][1].count("A month at Tansy Wharf: done") == 1
