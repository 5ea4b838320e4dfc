"""A result as a table for a spreadsheet."""

import csv
from pathlib import Path

import numpy as np

__all__ = ["write_csv"]


def write_csv(result, path):
    """Write a result as comma-separated values, one row for each that it keeps.

    Parameters
    ----------
    result : Result
        Of a run.
    path : str or Path
        The file to write. It begins with a mark by which spreadsheets know its letters.

    Returns
    -------
    Path
        The file.

    Notes
    -----
    Each row tells its beginning [h after the start], the temperatures then [°C], and the means over the row of heat
    flows [W], water flows [kg/s] and of what was on [share of the time]. Numbers are written in full, so that the same
    run gives the same file. A tap that is shut is an empty field.

    Examples
    --------
    >>> import tempfile
    >>> from tlib import installation, tables
    >>> from tlib.simulation import Conditions, simulate
    >>> larkrigg = installation.load(tables.shipped("workbooks") / "sites" / "larkrigg.toml")
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     path = write_csv(simulate(larkrigg, Conditions(duration=3600.0)), folder + "/hour.csv")
    ...     lines = path.read_text(encoding="utf-8-sig").splitlines()
    >>> len(lines), lines[0].split(",")[:2]
    (61, ['time [h]', 'layer 1 [°C]'])
    """
    columns = {"time [h]": result.time[:-1] / 3600.0}
    columns |= {f"layer {i + 1} [°C]": result.layers[:-1, i] for i in range(result.layers.shape[1])}
    for series, unit in ((result.readings, "°C"), (result.powers, "W"), (result.flows, "kg/s"), (result.states, "on")):
        for name, values in series.items():
            columns[f"{name} [{'Pa' if name.endswith('pressure') else unit}]"] = values[: result.time.size - 1]
    path = Path(path)
    with path.open("w", encoding="utf-8-sig", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(columns)
        writer.writerows(map(_written, row) for row in zip(*columns.values(), strict=True))
    return path


def _written(value):
    """Return a number as written: in full, or nothing where there is none."""
    return "" if np.isnan(value) else repr(value.item())
