"""Heat on its way: films, walls, coils and exchangers, standing loss, radiators and floors."""

from tlib.heat_transfer.coils import Coil, coil_conductance, fouled_conductance, tube_conductance
from tlib.heat_transfer.cooling import (
    WATER_HEAT,
    cool_down,
    cooling_loss_coefficient,
    label_loss_coefficient,
    standing_loss,
    stored_heat,
    time_constant,
)
from tlib.heat_transfer.exchangers import (
    coil_effectiveness,
    coil_outlet,
    coil_profile,
    counterflow_effectiveness,
    effectiveness_isothermal,
    log_mean_difference,
    outlet_isothermal,
)
from tlib.heat_transfer.floors import (
    floor_output,
    floor_output_from_water,
    floor_surface_excess,
    floor_surface_limits,
)
from tlib.heat_transfer.insulation import (
    cylinder_loss_coefficient,
    end_loss_coefficient,
    exposed_pipe_loss_coefficient,
    store_loss_coefficient,
)
from tlib.heat_transfer.outside_films import (
    nusselt_outside_cylinder,
    nusselt_vertical_wall,
    radiative_coefficient,
    still_air_film,
    still_air_pipe_film,
)
from tlib.heat_transfer.published_limits import (
    energy_class,
    energy_class_bounds,
    sap_foam_loss,
    sap_jacket_loss,
    sap_temperature_factor,
)
from tlib.heat_transfer.radiators import (
    arithmetic_excess,
    log_mean_excess,
    radiator_cool_down,
    radiator_output,
    radiator_return,
    radiator_size,
)
from tlib.heat_transfer.tube_films import (
    critical_reynolds_in_helix,
    nusselt_dittus_boelter,
    nusselt_gnielinski,
    nusselt_in_helix,
    nusselt_in_tube,
)

__all__ = [
    "WATER_HEAT",
    "Coil",
    "arithmetic_excess",
    "coil_conductance",
    "coil_effectiveness",
    "coil_outlet",
    "coil_profile",
    "cool_down",
    "cooling_loss_coefficient",
    "counterflow_effectiveness",
    "critical_reynolds_in_helix",
    "cylinder_loss_coefficient",
    "effectiveness_isothermal",
    "end_loss_coefficient",
    "energy_class",
    "energy_class_bounds",
    "exposed_pipe_loss_coefficient",
    "floor_output",
    "floor_output_from_water",
    "floor_surface_excess",
    "floor_surface_limits",
    "fouled_conductance",
    "label_loss_coefficient",
    "log_mean_difference",
    "log_mean_excess",
    "nusselt_dittus_boelter",
    "nusselt_gnielinski",
    "nusselt_in_helix",
    "nusselt_in_tube",
    "nusselt_outside_cylinder",
    "nusselt_vertical_wall",
    "outlet_isothermal",
    "radiative_coefficient",
    "radiator_cool_down",
    "radiator_output",
    "radiator_return",
    "radiator_size",
    "sap_foam_loss",
    "sap_jacket_loss",
    "sap_temperature_factor",
    "standing_loss",
    "still_air_film",
    "still_air_pipe_film",
    "store_loss_coefficient",
    "stored_heat",
    "time_constant",
    "tube_conductance",
]
