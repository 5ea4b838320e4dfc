"""Edits of one number or one sign in a kernel, found by the syntax tree, whatever a kernel is called."""

import ast
from typing import NamedTuple

MARKS = ("kernel", "engine")
OTHER_SIGN = {ast.Add: ("+", "-"), ast.Sub: ("-", "+"), ast.Mult: ("*", "+"), ast.Div: ("/", "*"),
              ast.Gt: (">", "<"), ast.Lt: ("<", ">"), ast.GtE: (">=", "<"), ast.LtE: ("<=", ">")}  # fmt: skip


class Edit(NamedTuple):
    """One edit of a file."""

    function: str
    says: str
    text: str
    """Of the whole file, as edited."""


def kernels_in(text):
    """Return the marked functions at the top of a file's text."""
    return [node for node in ast.parse(text).body if isinstance(node, ast.FunctionDef) and _is_marked(node)]


def files_with_kernels(package):
    """Return every file of a package that holds a kernel, as paths from the package's folder."""
    found = sorted(package.rglob("*.py"))
    return [path.relative_to(package).as_posix() for path in found if kernels_in(path.read_text(encoding="utf-8"))]


def tables_read_in(package, files):
    """Return the names of the tables that files read."""
    names = []
    for path in files:
        for node in ast.walk(ast.parse((package / path).read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and ast.unparse(node.func).split(".")[-1] == "table":
                names += [argument.value for argument in node.args if isinstance(argument, ast.Constant)]
    return sorted(set(names))


def edits_of(text):
    """Return edits of a file's kernels, the likeliest to matter first: numbers, then signs of sums and comparisons."""
    numbers, signs = [], []
    for kernel in kernels_in(text):
        for node in _body(kernel):
            if isinstance(node, ast.Constant) and isinstance(node.value, float):
                numbers.append((kernel, node, node, f"{node.value!r}", f"({node.value!r} * 1.25 + 0.01)"))
            elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
                said = ast.unparse(node.operand)
                signs.append((kernel, node, node, f"-{said}", f"(+{said})"))
            elif isinstance(node, ast.BinOp) and type(node.op) in OTHER_SIGN:
                signs.append((kernel, node.left, node.right, *OTHER_SIGN[type(node.op)]))
            elif isinstance(node, ast.Compare) and type(node.ops[0]) in OTHER_SIGN:
                signs.append((kernel, node.left, node.comparators[0], *OTHER_SIGN[type(node.ops[0])]))
            elif isinstance(node, ast.AugAssign) and type(node.op) in OTHER_SIGN:
                old, new = OTHER_SIGN[type(node.op)]
                signs.append((kernel, node.target, node.value, f"{old}=", f"{new}="))
    for kernel, left, right, old, new in (*numbers, *signs):
        edited = _replaced(text, left, right, old, new)
        if edited is not None:
            yield Edit(kernel.name, f"{kernel.name}, line {left.lineno}: {old} is now {new}", edited)


def _is_marked(function):
    return any(ast.unparse(mark).split("(")[0].split(".")[-1] in MARKS for mark in function.decorator_list)


def _body(kernel):
    """Walk a kernel's body, but for texts, places in arrays, and loops that an edit could make endless."""
    todo = list(reversed(kernel.body))
    while todo:
        node = todo.pop()
        yield node
        for child in reversed(list(ast.iter_child_nodes(node))):
            is_place = isinstance(node, ast.Subscript) and child is node.slice
            is_range = isinstance(child, ast.Call) and ast.unparse(child.func) == "range"
            if not (is_place or is_range or isinstance(child, ast.While | ast.expr_context)):
                todo.append(child)


def _replaced(text, left, right, old, new):
    """Return text with a number, or the sign between two operands, replaced; None if it cannot be told apart."""
    lines = text.encode().splitlines(keepends=True)
    starts = [sum(map(len, lines[:k])) for k in range(len(lines))]
    if left is right:
        begin, end = (starts[left.lineno - 1] + left.col_offset, starts[left.end_lineno - 1] + left.end_col_offset)
        between = new
    else:
        begin, end = (starts[left.end_lineno - 1] + left.end_col_offset, starts[right.lineno - 1] + right.col_offset)
        between = text.encode()[begin:end].decode()
        if between.count(old) != 1:
            return None
        between = between.replace(old, new)
    edited = (text.encode()[:begin] + between.encode() + text.encode()[end:]).decode()
    try:
        ast.parse(edited)
    except SyntaxError:
        return None
    return edited
