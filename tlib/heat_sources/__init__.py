"""What puts heat into the store: the log burner with its loading valve, the boiler, the sun, and surplus PV."""

from tlib.heat_sources.boiler import Boiler, boiler_of, decide_firing, settle_boiler, step_boiler
from tlib.heat_sources.burner import Burner, burner_of, rest_element, settle_burner, step_burner, warm_lining
from tlib.heat_sources.fire import Batch, batches_of, burn, fire_clock
from tlib.heat_sources.heat_leak import HeatLeak, heat_leak_of, leak_conductance
from tlib.heat_sources.immersions import Element, Sharing, elements_of, share_surplus, sharing_of
from tlib.heat_sources.solar import Solar, solar_of, step_solar

__all__ = [
    "Batch", "Boiler", "Burner", "Element", "HeatLeak", "Sharing", "Solar", "batches_of", "boiler_of", "burn",
    "burner_of",
    "decide_firing", "elements_of", "fire_clock", "heat_leak_of",
    "leak_conductance", "rest_element", "settle_boiler", "settle_burner", "share_surplus",
    "sharing_of", "solar_of", "step_boiler", "step_burner", "step_solar", "warm_lining",
]  # fmt: skip
