"""A small workbook of the tests' own: one slider, one picture, one choice, in the form the real workbooks have."""

import json

FIRST = """# Filling a store

Move the slider and watch the picture. A *store* is a tall tank that keeps heat for later, as a flask keeps tea.

If nothing but text is here, choose **Run**, then **Run All Cells**.
"""

PANEL = """\
import os

import ipywidgets
from IPython.display import display

kept = globals().get("kept") or ipywidgets.HTML("<p>Kept from one run to the next.</p>")
top = ipywidgets.IntSlider(value=60, min=10, max=90, step=5, description="Top temperature (°C)")
source = ipywidgets.RadioButtons(options=["log burner", "sun"], description="Heated by")
picture, sentence = ipywidgets.HTML(), ipywidgets.HTML()


def draw(_=None):
    height = 3 * top.value
    picture.value = (
        f'<svg role="img" aria-label="A store at {top.value} °C" width="300" height="300" viewBox="0 0 300 300">'
        f'<rect x="100" y="10" width="100" height="280" fill="#f0e3c4" stroke="#22272b"/>'
        f'<rect x="100" y="{290 - height}" width="100" height="{height}" fill="#b9512f"/></svg>'
    )
    sentence.value = f'<p role="status">The top is at {top.value} °C. Kernel {os.getpid()}.</p>'


top.observe(draw, "value")
draw()
display(ipywidgets.VBox([kept, top, source, picture, sentence]))
"""

BROKEN = "display(ipywidgets.IntSlider(description='Never seen'), 1 / 0)"

LAST = """## What you saw

The hotter the store, the more of it is *dark*: hot water is lighter than cold water and stays at the top.

| Top | What it is good for |
|---|---|
| 40 °C | a warm floor |
| 60 °C | a shower |
"""

LOCKED = {"editable": False, "deletable": False}
HIDDEN = {**LOCKED, "jupyter": {"source_hidden": True}}


def notebook(*codes, workbook="98"):
    """Return a notebook's text: the two text cells round the code; no key of ours when `workbook` is None."""
    cells = [
        _markdown("first", FIRST),
        *(_code(f"code-{n}", code) for n, code in enumerate(codes)),
        _markdown("last", LAST),
    ]
    metadata = {
        "kernelspec": {"name": "python3", "display_name": "Python 3", "language": "python"},
        **({"tlib": {"workbook": workbook}} if workbook else {}),
    }
    return json.dumps({"cells": cells, "metadata": metadata, "nbformat": 4, "nbformat_minor": 5})


def _markdown(name, text):
    return {"cell_type": "markdown", "id": name, "metadata": LOCKED, "source": text}


def _code(name, text):
    cell = {"cell_type": "code", "id": name, "metadata": HIDDEN, "source": text}
    return cell | {"outputs": [], "execution_count": None}
