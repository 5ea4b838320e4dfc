"""Formulas of exercise files: arithmetic that is read, checked and worked out, never executed as code.

A formula may hold numbers, names of givens and earlier parts, ``+ - * / **``, brackets, one comparison at a time
and calls to functions of the formulary. Python's own reader makes the tree; a short list says which branches may
stand in it, and each becomes a small closed function of numbers.
"""

import ast
import math
import operator
from collections.abc import Callable
from dataclasses import dataclass, field
from fractions import Fraction

from tlib.assessment.quantities import NUMBER, Kind, WrongKind
from tlib.validation import OutOfRange

__all__ = ["Formula", "FormulaFault", "NoValue", "parse"]

LONGEST = 300
DEEPEST = 20
HIGHEST_POWER = 9

_WORK = {ast.Add: operator.add, ast.Sub: operator.sub, ast.Mult: operator.mul, ast.Div: operator.truediv,
         ast.Pow: operator.pow}  # fmt: skip
_COMPARE = {ast.Lt: operator.lt, ast.LtE: operator.le, ast.Gt: operator.gt, ast.GtE: operator.ge}


class FormulaFault(ValueError):
    """A formula cannot be read, or its dimensions do not fit."""


class NoValue(ArithmeticError):
    """A formula has no value for these numbers, as after a division by nought."""


@dataclass(frozen=True)
class Formula:
    """A formula that has been read.

    Attributes
    ----------
    text : str
        As written.
    names : frozenset of str
        The givens and parts it reads.
    functions : frozenset of str
        The functions of the formulary it calls.
    """

    text: str
    names: frozenset
    functions: frozenset
    _work: Callable = field(repr=False, compare=False)
    _kind: Callable = field(repr=False, compare=False)

    def value(self, numbers, functions):
        """Work the formula out.

        Parameters
        ----------
        numbers : mapping of str to float
            A number for each of `names`.
        functions : mapping of str to callable
            A function of plain numbers for each of `functions`.

        Returns
        -------
        float

        Raises
        ------
        NoValue
            If the numbers lead to no finite real number.
        """
        try:
            value = float(self._work(numbers, functions))
        except (ArithmeticError, OutOfRange, ValueError, TypeError, KeyError) as fault:
            raise NoValue(f"{self.text} has no value here: {fault}") from None
        if not math.isfinite(value):
            raise NoValue(f"{self.text} has no finite value here")
        return value

    def kind(self, names, functions):
        """Return the kind of quantity the formula gives.

        Parameters
        ----------
        names : mapping of str to Kind
            The kind of each given and part.
        functions : mapping of str to callable
            For each function, a callable from the kinds of its arguments to the kind of its result.

        Returns
        -------
        Kind

        Raises
        ------
        FormulaFault
            If the dimensions do not fit together.
        """
        try:
            return self._kind(names, functions)
        except WrongKind as fault:
            raise FormulaFault(f"{fault}, in {self.text}") from None


def parse(text):
    """Read a formula.

    Parameters
    ----------
    text : str
        The formula, at most 300 signs long and 20 brackets or steps deep.

    Returns
    -------
    Formula

    Raises
    ------
    FormulaFault
        If it holds anything but arithmetic; the sentence names what.

    Examples
    --------
    >>> parse("volume * (hot - cold) * 1.163 / 1000").value({"volume": 300, "hot": 80, "cold": 40}, {})
    13.956
    >>> parse("volume.size")
    Traceback (most recent call last):
    tlib.assessment.formulas.FormulaFault: a formula is arithmetic only; it may not hold: volume.size
    """
    if not isinstance(text, str) or not text.strip():
        raise FormulaFault("a formula is missing")
    if len(text) > LONGEST:
        raise FormulaFault(f"a formula has at most {LONGEST} signs; this one has {len(text)}")
    if strange := [sign for sign in text if not (sign.isascii() and (sign.isprintable() or sign in "\n\t"))]:
        raise FormulaFault(f"a formula uses plain letters and signs only; it may not hold {strange[0]!r}")
    flat = " ".join(text.split())
    try:
        tree = ast.parse(flat, mode="eval").body
    except (SyntaxError, ValueError, RecursionError, MemoryError):
        raise FormulaFault(f"this is not a formula that can be read: {flat}") from None
    reader = _Reader(flat)
    work, kind = reader.read(tree, 0)
    return Formula(flat, frozenset(reader.names), frozenset(reader.functions), work, kind)


class _Reader:
    """Walks a tree once and gives, for each branch, its work on numbers and its work on kinds."""

    def __init__(self, text):
        self.text, self.names, self.functions = text, set(), set()

    def read(self, node, depth):
        if depth > DEEPEST:
            raise FormulaFault(f"a formula is at most {DEEPEST} steps deep")
        match node:
            case ast.Constant(value=int() | float() as number) if not isinstance(number, bool):
                return self._number(number)
            case ast.Name(id=name):
                self.names.add(name)
                return (lambda numbers, _: numbers[name]), (lambda names, _: names[name])
            case ast.UnaryOp(op=ast.USub(), operand=operand):
                return self._minus(operand, depth)
            case ast.BinOp(op=ast.Pow()):
                return self._power(node, depth)
            case ast.BinOp(op=op) if type(op) in _WORK:
                return self._sum(node, depth)
            case ast.Compare(left=left, ops=[op], comparators=[right]) if type(op) in _COMPARE:
                return self._comparison(left, op, right, depth)
            case ast.Call(func=ast.Name(id=name), args=arguments, keywords=[]):
                return self._call(name, arguments, depth)
        raise FormulaFault(f"a formula is arithmetic only; it may not hold: {self._said(node)}")

    def _said(self, node):
        return ast.get_source_segment(self.text, node) or self.text

    def _number(self, number):
        if abs(number) > 1e12:  # compared before it becomes a float: a long row of figures is no float
            raise FormulaFault("a number in a formula is at most 1e12")
        number = float(number)
        return (lambda *_: number), (lambda *_: NUMBER)

    def _minus(self, operand, depth):
        work, kind = self.read(operand, depth + 1)

        def kind_of(names, functions):
            of = kind(names, functions)
            return of.times(NUMBER) if of.point else of

        return (lambda numbers, functions: -work(numbers, functions)), kind_of

    def _sum(self, node, depth):
        (left, left_kind), (right, right_kind) = self.read(node.left, depth + 1), self.read(node.right, depth + 1)
        do = _WORK[type(node.op)]
        kinds = {ast.Add: Kind.plus, ast.Sub: Kind.minus, ast.Mult: Kind.times,
                 ast.Div: lambda one, other: one.times(other, -1)}[type(node.op)]  # fmt: skip
        return (
            lambda numbers, functions: do(left(numbers, functions), right(numbers, functions)),
            lambda names, functions: kinds(left_kind(names, functions), right_kind(names, functions)),
        )

    def _power(self, node, depth):
        base, base_kind = self.read(node.left, depth + 1)
        exponent, exponent_kind = self.read(node.right, depth + 1)
        fixed = _literal(node.right)
        if fixed is not None and abs(fixed) > HIGHEST_POWER:
            raise FormulaFault(f"a power in a formula is at most {HIGHEST_POWER}; got {self._said(node.right)}")

        def kind_of(names, functions):
            of = base_kind(names, functions)
            if exponent_kind(names, functions) != NUMBER:
                raise WrongKind("a power must be a plain number")
            if of == NUMBER:
                return NUMBER
            if fixed is None:
                raise WrongKind(f"{of} can be raised only to a power written as a number")
            return of.power(fixed)

        return (lambda numbers, functions: base(numbers, functions) ** exponent(numbers, functions)), kind_of

    def _comparison(self, left, op, right, depth):
        (one, one_kind), (other, other_kind) = self.read(left, depth + 1), self.read(right, depth + 1)
        holds = _COMPARE[type(op)]

        def kind_of(names, functions):
            one_kind(names, functions).like(other_kind(names, functions))
            return NUMBER

        return (lambda numbers, functions: float(holds(one(numbers, functions), other(numbers, functions)))), kind_of

    def _call(self, name, arguments, depth):
        self.functions.add(name)
        read = [self.read(argument, depth + 1) for argument in arguments]
        works, kinds = [work for work, _ in read], [kind for _, kind in read]

        def work(numbers, functions):
            return functions[name](*[argument(numbers, functions) for argument in works])

        def kind_of(names, functions):
            return functions[name](*[argument(names, functions) for argument in kinds])

        return work, kind_of


def _literal(node):
    """Return the exact value of a number written out, with or without a minus; None for anything else."""
    match node:
        case ast.Constant(value=int() | float() as number):
            return Fraction(str(number))
        case ast.UnaryOp(op=ast.USub(), operand=ast.Constant(value=int() | float() as number)):
            return -Fraction(str(number))
    return None
