"""The physics, simulation, pictures and marking behind the thermal-store workbooks."""
