"""Wood, gas and oil: what the fuel holds, how a charge of logs burns, and when the flue gas wets the metal.

Moisture is on the wet basis (water over the whole weight as fired) unless a name says otherwise. The kernels whose
names begin with ``bare_`` are the formulas without checks, for the engine.
"""

from tlib.combustion.burning import (
    bare_burnt_share as bare_burnt_share,
)
from tlib.combustion.burning import (
    bare_time_scale as bare_time_scale,
)
from tlib.combustion.burning import (
    buffer_by_rating,
    buffer_volume,
    burnt_share,
    heat_to_water,
    logs_for_heat,
    time_scale,
)
from tlib.combustion.embers import (
    bare_burnt_share_with_embers as bare_burnt_share_with_embers,
)
from tlib.combustion.embers import (
    bare_time_scale_with_embers as bare_time_scale_with_embers,
)
from tlib.combustion.embers import (
    burnt_share_with_embers,
    time_scale_with_embers,
)
from tlib.combustion.flue_gas import (
    air_demand,
    boiler_efficiency,
    condensed_share,
    condensing_gain,
    flue_carbon_dioxide,
    flue_dew_point,
    flue_loss,
)
from tlib.combustion.flue_gas import bare_boiler_efficiency as bare_boiler_efficiency
from tlib.combustion.fuels import Fuel, carbon_emitted, fuel_mass, fuel_record, fuel_volume
from tlib.combustion.wood import (
    bare_net_calorific_value as bare_net_calorific_value,
)
from tlib.combustion.wood import (
    moisture_dry_basis,
    moisture_wet_basis,
    net_calorific_value,
    net_from_gross,
)

__all__ = [
    "Fuel",
    "air_demand",
    "boiler_efficiency",
    "buffer_by_rating",
    "buffer_volume",
    "burnt_share",
    "burnt_share_with_embers",
    "carbon_emitted",
    "condensed_share",
    "condensing_gain",
    "flue_carbon_dioxide",
    "flue_dew_point",
    "flue_loss",
    "fuel_mass",
    "fuel_record",
    "fuel_volume",
    "heat_to_water",
    "logs_for_heat",
    "moisture_dry_basis",
    "moisture_wet_basis",
    "net_calorific_value",
    "net_from_gross",
    "time_scale",
    "time_scale_with_embers",
]
