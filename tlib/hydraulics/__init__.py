"""Water in pipes: tubes, friction, fittings, pumps, gravity, branches, air and blending.

The kernels whose names begin with ``bare_`` are the formulas without checks, for the engine.
"""

from tlib.hydraulics.air import self_venting_speed, surface_tension
from tlib.hydraulics.blending import (
    bare_hot_share as bare_hot_share,
)
from tlib.hydraulics.blending import (
    bare_valve_opening as bare_valve_opening,
)
from tlib.hydraulics.blending import (
    bare_valve_share as bare_valve_share,
)
from tlib.hydraulics.blending import hot_share, mixed_temperature, valve_opening, valve_share
from tlib.hydraulics.branches import bare_branch_flows as bare_branch_flows
from tlib.hydraulics.branches import branch_flows
from tlib.hydraulics.fittings import bare_valve_drop as bare_valve_drop
from tlib.hydraulics.fittings import (
    fittings_resistance,
    valve_coefficient,
    valve_drop,
    valve_flow,
    valve_resistance,
)
from tlib.hydraulics.friction import bare_flow_at_drop as bare_flow_at_drop
from tlib.hydraulics.friction import bare_friction_factor as bare_friction_factor
from tlib.hydraulics.friction import bare_pressure_drop as bare_pressure_drop
from tlib.hydraulics.friction import (
    flow_at_drop,
    friction_factor,
    haaland_friction_factor,
    pressure_drop,
    reynolds_number,
    swamee_jain_friction_factor,
    water_speed,
)
from tlib.hydraulics.gravity import bare_gravity_flow as bare_gravity_flow
from tlib.hydraulics.gravity import (
    gravity_flow,
    gravity_flow_at_constant_resistance,
    gravity_flow_from,
    gravity_head,
)
from tlib.hydraulics.pumps import bare_operating_flow as bare_operating_flow
from tlib.hydraulics.pumps import bare_pump_flow as bare_pump_flow
from tlib.hydraulics.pumps import (
    flow_for_power,
    operating_flow,
    pump_flow,
    pump_power,
    pump_pressure,
)
from tlib.hydraulics.tubes import Tube, bore_area, copper_tube, tube_content

__all__ = [
    "Tube",
    "bore_area",
    "branch_flows",
    "copper_tube",
    "fittings_resistance",
    "flow_at_drop",
    "flow_for_power",
    "friction_factor",
    "gravity_flow",
    "gravity_flow_at_constant_resistance",
    "gravity_flow_from",
    "gravity_head",
    "haaland_friction_factor",
    "hot_share",
    "mixed_temperature",
    "operating_flow",
    "pressure_drop",
    "pump_flow",
    "pump_power",
    "pump_pressure",
    "reynolds_number",
    "self_venting_speed",
    "surface_tension",
    "swamee_jain_friction_factor",
    "tube_content",
    "valve_coefficient",
    "valve_drop",
    "valve_flow",
    "valve_opening",
    "valve_resistance",
    "valve_share",
    "water_speed",
]
