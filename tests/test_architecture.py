"""Arrows point downward: a file may import from any floor below its own, never from its own, never from above."""

import ast
from pathlib import Path

import pytest

HOUSE = Path(__file__).parent.parent / "tlib"

FLOORS = [
    {"validation", "compiled"},
    {"units", "tables"},
    {"documents", "water_properties"},
    {"hydraulics", "installation"},
    {"heat_transfer", "thermal_expansion", "stratification", "combustion", "solar_radiation"},
    {"thermal_store", "heat_sources", "heat_loads"},
    {"controls", "safety"},
    {"simulation"},
    {"sizing"},
    {"figures", "assessment"},
    {"papers"},
    {"panels", "lab"},
    {"cli"},
    {"__main__"},
]
FLOOR_OF = {room: level for level, floor in enumerate(FLOORS) for room in floor}
FILES = sorted(HOUSE.rglob("*.py"))


def room_of(path):
    return path.relative_to(HOUSE).parts[0].removesuffix(".py")


def imports_of(path):
    """Return every tlib module that a file imports, at its top or inside a function, as dotted names."""
    package = ("tlib", *path.relative_to(HOUSE).parent.parts)
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            base = node.module or ""
            if node.level:
                stem = package[: len(package) - node.level + 1]
                base = ".".join([*stem, base]).rstrip(".")
            found |= {f"{base}.{alias.name}" for alias in node.names}
    return {name for name in found if name.split(".")[0] == "tlib" and name != "tlib"}


def test_every_room_has_a_floor():
    rooms = {room_of(path) for path in FILES} - {"__init__"}
    assert rooms <= set(FLOOR_OF), f"no floor for {rooms - set(FLOOR_OF)}"


@pytest.mark.parametrize("path", FILES, ids=lambda path: str(path.relative_to(HOUSE)))
def test_arrows_point_downward(path):
    if room_of(path) == "__init__":
        assert not imports_of(path)
        return
    for target in imports_of(path):
        room = target.split(".")[1]
        if room != room_of(path):
            assert FLOOR_OF[room] < FLOOR_OF[room_of(path)], f"{path.name} imports {target}"


def _file_of(target, files):
    """Return the file that an import reads: the module itself, or the one that holds the imported name."""
    return next((name for name in (target, target.rpartition(".")[0]) if name in files), None)


def test_no_circle_inside_a_room():
    graph = {}
    for path in FILES:
        name = ".".join(("tlib", *path.relative_to(HOUSE).with_suffix("").parts)).removesuffix(".__init__")
        graph[name] = imports_of(path)
    graph = {name: {_file_of(target, graph) for target in targets} - {name, None} for name, targets in graph.items()}
    done, trail = set(), []

    def walk(name):
        assert name not in trail, f"circle: {' -> '.join([*trail, name])}"
        if name not in done:
            trail.append(name)
            for target in graph[name]:
                walk(target)
            trail.pop()
            done.add(name)

    for name in graph:
        walk(name)
    assert done == set(graph)


def test_importing_the_package_loads_nothing_heavy():
    code = (
        "import sys, tlib; print([m for m in sys.modules if m.split('.')[0] in {'numpy', 'numba', 'CoolProp', 'pint'}])"
    )
    import subprocess
    import sys

    printed = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout
    assert printed.strip() == "[]"
