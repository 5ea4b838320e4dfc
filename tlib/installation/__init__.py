"""One job described: a written file read into frozen, checked data, and nothing more.

What a table holds is shown, line by line, by the files in `workbooks/sites/`. Heights in a store run
from 0 (bottom) to 1 (top). Read values are SI, temperatures °C, pressures absolute.
"""

from tlib.installation.contacts import OffRise, OnRise, Run
from tlib.installation.fire import Burner, HeatLeak
from tlib.installation.heating import Heating, House, Radiators, Underfloor
from tlib.installation.job import Installation, load
from tlib.installation.safety import Cistern, Safety, Vessel
from tlib.installation.sources import Boiler, Immersion, Immersions, Photovoltaics, Solar
from tlib.installation.store import Coil, HotWater, Insulation, JetMixing, Store

__all__ = [
    "Boiler", "Burner", "Cistern", "Coil", "HeatLeak", "Heating", "HotWater", "House", "Immersion", "Immersions",
    "Installation", "Insulation", "JetMixing", "OffRise", "OnRise", "Photovoltaics", "Radiators", "Run", "Safety",
    "Solar", "Store", "Underfloor", "Vessel", "load",
]  # fmt: skip
