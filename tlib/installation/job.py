"""The whole of one job, and the rules that hold between its parts."""

from pathlib import Path
from typing import Literal

from pydantic import model_validator

from tlib import documents
from tlib.documents import Record, quantity
from tlib.installation.fire import Burner, HeatLeak
from tlib.installation.heating import Heating
from tlib.installation.safety import Cistern, Safety, Vessel
from tlib.installation.sources import Boiler, Immersions, Photovoltaics, Solar
from tlib.installation.store import HotWater, Store

__all__ = ["Installation", "load"]


class Installation(Record):
    """One installation: `load` reads it from a file."""

    format: Literal[1]
    name: str
    system: Literal["vented", "sealed"]
    static_head: quantity("m", above=0, at_most=30)
    store: Store
    hot_water: HotWater | None = None
    burner: Burner | None = None
    heat_leak: HeatLeak | None = None
    boiler: Boiler | None = None
    solar: Solar | None = None
    pv: Photovoltaics | None = None
    immersions: Immersions | None = None
    heating: Heating | None = None
    safety: Safety | None = None
    vessel: Vessel | None = None
    cistern: Cistern | None = None

    @model_validator(mode="after")
    def _every_part_is_connected(self):
        wanted = [
            (f"{part}_{leg}", part)
            for part in ("burner", "boiler", "heating")
            if getattr(self, part) is not None
            for leg in ("flow", "return")
        ]
        missing = [f"'{port}' (there is a [{part}])" for port, part in wanted if port not in self.store.connections]
        if missing:
            raise ValueError(f"store.connections lacks {', '.join(missing)}")
        used = {port for port, _ in wanted}
        spare = [f"'{port}'" for port in self.store.connections if port not in used]
        if spare:
            raise ValueError(f"store.connections has {', '.join(spare)}, which nothing in this file joins")
        return self

    @model_validator(mode="after")
    def _controls_can_feel(self):
        limited = self.burner is not None and self.burner.wiring.endswith("store limit")
        wanted = [
            ("top", "the pictures", True),
            ("middle", "the enough-heat thermostat", self.heating is not None),
            ("high_limit", "the high limit", self.safety is not None),
            ("boiler_thermostat", "the boiler", self.boiler is not None),
            ("store_limit", "the store limit", limited),
            ("lower", "the solar control", self.solar is not None),
        ]
        missing = [f"'{name}' (for {why})" for name, why, needed in wanted
                   if needed and name not in self.store.sensors]  # fmt: skip
        if missing:
            raise ValueError(f"store.sensors lacks {', '.join(missing)}")
        return self

    @model_validator(mode="after")
    def _parts_that_belong_together(self):
        for part, other, why in (
            ("immersions", "pv", "surplus PV is what feeds them"),
            ("heat_leak", "burner", "it is the burner that heats it"),
        ):
            if getattr(self, part) is not None and getattr(self, other) is None:
                raise ValueError(f"there is [{part}] but no [{other}]: {why}")
        if self.vessel is not None and self.system == "vented":
            raise ValueError("[vessel] belongs to a sealed system; this one is vented")
        if self.cistern is not None and self.system == "sealed":
            raise ValueError("[cistern] belongs to a vented system; this one is sealed")
        return self


def load(path):
    """Read an installation file.

    Parameters
    ----------
    path : str or Path
        A TOML file, such as those in ``workbooks/sites``.

    Returns
    -------
    Installation
        Frozen and checked.

    Raises
    ------
    UnreadableDocument
        With file, line and key of every fault.
    """
    return documents.read(Path(path), Installation)
