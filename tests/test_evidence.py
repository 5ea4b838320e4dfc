"""Each public function of floors 0 to 4 and of sizing is held by four kinds of evidence, or says why one cannot apply.

A test says what it proves with ``@pytest.mark.evidence("published", "water_properties.density", ...)``; a test
file may set it for all its tests as ``pytestmark``. A kind that cannot apply is excused, with its reason, in a
module-level list ``EXCUSED = [("conservation", "units.read", "reading a text moves no heat")]``.
"""

import ast
import importlib
from pathlib import Path

import pytest

TESTS = Path(__file__).parent
KINDS = ("published", "limit", "conservation", "error")
ROOMS = (
    "validation", "units", "water_properties", "hydraulics", "heat_transfer", "thermal_expansion",
    "stratification", "combustion", "solar_radiation", "sizing",
)  # fmt: skip


def marks():
    """Read (kind, function) pairs and excuses from the test files, without running them."""
    evidence, excused = set(), {}
    for path in TESTS.rglob("test_*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and ast.unparse(node.func) == "pytest.mark.evidence":
                kind, *functions = (ast.literal_eval(argument) for argument in node.args)
                evidence |= {(kind, function) for function in functions}
            if isinstance(node, ast.Assign) and getattr(node.targets[0], "id", "") == "EXCUSED":
                excused |= {(kind, function): reason for kind, function, reason in ast.literal_eval(node.value)}
    return evidence, excused


def public_functions():
    for room in ROOMS:
        try:
            module = importlib.import_module(f"tlib.{room}")
        except ModuleNotFoundError:
            continue
        for name in module.__all__:
            if callable(getattr(module, name)) and not isinstance(getattr(module, name), type):
                yield f"{room}.{name}"


EVIDENCE, EXCUSED_KINDS = marks()


@pytest.mark.parametrize("function", list(public_functions()))
def test_every_function_has_all_four_kinds(function):
    missing = [kind for kind in KINDS if (kind, function) not in EVIDENCE and (kind, function) not in EXCUSED_KINDS]
    assert not missing, f"{function} has no {' and no '.join(missing)} evidence"


def test_every_mark_names_a_function_that_exists():
    known = set(public_functions())
    named = {function for _, function in EVIDENCE | set(EXCUSED_KINDS)}
    assert named <= known, f"unknown: {sorted(named - known)}"


def test_every_kind_is_known_and_every_excuse_has_a_reason():
    assert {kind for kind, _ in EVIDENCE | set(EXCUSED_KINDS)} <= set(KINDS)
    assert all(len(reason.split()) >= 4 for reason in EXCUSED_KINDS.values())


def table():
    """Return the table of functions and evidence, a line each: python tests/test_evidence.py prints it."""
    signs = {True: "yes", False: "excused"}
    rows = [
        (function, *(signs[(kind, function) in EVIDENCE] for kind in KINDS)) for function in sorted(public_functions())
    ]
    heads = ("function", *KINDS)
    widths = [max(len(row[place]) for row in (heads, *rows)) for place in range(len(heads))]
    return ["  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)) for row in (heads, *rows)]


if __name__ == "__main__":
    print("\n".join(table()))
