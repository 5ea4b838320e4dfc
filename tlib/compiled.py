"""The engine's compiler: the only file that imports numba, and only at the first simulation.

`kernel` marks a plain function of numbers and arrays; it stays plain Python, so physics files, tests and
debuggers see the formula itself. `engine` takes the outermost function, and when it is first called compiles it
together with every marked function it reaches. What was compiled is kept in the user's cache folder under a hash
of all of tlib's sources, so an edit anywhere can never run stale code, and a shared install may be read-only.
"""

import gc
import hashlib
import importlib.util
import os
import platform
import shutil
import types
from contextlib import contextmanager
from functools import cache, cached_property, lru_cache, update_wrapper
from pathlib import Path
from typing import get_type_hints

import numpy as np

__all__ = ["Engine", "blank_records", "cache_folder", "elementwise", "engine", "kernel", "records"]

_MARK = "__tlib_kernel__"
_KEPT = 2
NEEDLESS = (
    "with_lifting", "inline_closure_likes", "rewrite_semantic_constants", "dead_branch_prune", "generic_rewrites",
    "Rewrite dynamic raises", "make_function_op_code_to_jit_function", "inline_inlinables", "find_literally",
    "literal_unroll", "LiteralPropagation", "inline_overloads", "nopython_rewrites", "dump_parfor_diagnostics",
)  # fmt: skip
"""Passes of the compiler for what no kernel holds: closures, raised errors, whole-array expressions, literal types."""
WORDS = ("cautions", "glossary", "references")
"""Tables that hold no number for the engine."""


def kernel(function):
    """Mark a plain function as one that an engine may compile; the function itself is returned unchanged.

    A kernel takes and returns numbers, arrays and named tuples of them, and makes no array. It calls other kernels by
    a name that it imported or that stands in its own file, never through a module.

    Parameters
    ----------
    function : callable
        A function without checks, strings or Python objects inside.

    Returns
    -------
    callable
        The same function.

    Examples
    --------
    >>> @kernel
    ... def double(x):
    ...     return 2.0 * x
    >>> double(21.0)
    42.0
    """
    setattr(function, _MARK, True)
    return function


def elementwise(function):
    """Return a function of numbers as one of arrays that broadcast; scalars in give a scalar out.

    For formulas that must branch or iterate, and are not called often enough to need compiling.

    Parameters
    ----------
    function : callable
        Takes and returns plain numbers, such as a kernel.

    Returns
    -------
    callable
        Of as many arrays, in their common shape.

    Examples
    --------
    >>> larger = elementwise(lambda a, b: a if a > b else b)
    >>> [float(x) for x in larger([1.0, 5.0], 3.0)]
    [3.0, 5.0]
    """
    apply = np.frompyfunc(function, function.__code__.co_argcount, 1)

    def over_arrays(*arrays):
        return np.asarray(apply(*arrays), dtype=float)[()]

    return update_wrapper(over_arrays, function)


def records(kind, rows):
    """Return rows as a table that kernels read and change by field name; one array, so it is quick to hand on.

    Parameters
    ----------
    kind : type
        A named tuple whose fields are ``float`` or ``int``.
    rows : iterable
        Of that kind, or of plain tuples in its order.

    Returns
    -------
    recarray, (row,)
        ``table[k].field`` is a number; assigning to it changes the table.

    Examples
    --------
    >>> from typing import NamedTuple
    >>> class Tap(NamedTuple):
    ...     litres: float
    ...     is_open: int
    >>> taps = records(Tap, [(6.0, 1), (8.0, 0)])
    >>> taps[1].litres += 2.0
    >>> float(taps.litres.sum())
    16.0
    """
    return np.array([tuple(row) for row in rows], dtype=_layout(kind)).view(np.recarray)


def blank_records(kind, count):
    """Return a table as of `records`, with so many rows of nothing but zeros.

    Parameters
    ----------
    kind : type
        A named tuple whose fields are ``float`` or ``int``.
    count : int
        How many rows.

    Returns
    -------
    recarray, (count,)
        Written by nobody yet.
    """
    return np.zeros(count, _layout(kind)).view(np.recarray)


@lru_cache
def _layout(kind):
    kinds = get_type_hints(kind)
    return np.dtype([(name, np.int64 if kinds[name] is int else np.float64) for name in kind._fields], align=True)


class Engine:
    """An outermost function, compiled when it is first called.

    Attributes
    ----------
    plain : callable
        The function as written, for running uncompiled.
    """

    def __init__(self, plain):
        self.plain = plain
        update_wrapper(self, plain)

    def __call__(self, *arguments):
        """Run the compiled function, compiling it first if need be."""
        if "fast" in self.__dict__:
            return self.fast(*arguments)
        with _without_collector():  # the compiler makes much, and next to none of it is garbage
            return self.fast(*arguments)

    @cached_property
    def fast(self):
        """The compiled function; without numba on this machine, the plain one."""
        if importlib.util.find_spec("numba") is None:
            return self.plain
        return _njit(_twin(self.plain), cache_folder(), is_outer=True)

    @property
    def is_ready(self):
        """Whether the first call will be quick: compiled already, or kept from an earlier session."""
        if "fast" in self.__dict__:
            return True
        return any(cache_folder().rglob(f"*{self.plain.__name__}*.nbc"))


@contextmanager
def _without_collector():
    """Let nobody look for garbage in the meantime."""
    was = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was:
            gc.enable()


def engine(function):
    """Return a function that compiles itself, and every kernel it reaches, at its first call.

    Parameters
    ----------
    function : callable
        The outermost kernel.

    Returns
    -------
    Engine
        Called as the function is called; ``.plain`` is the function as written.
    """
    return Engine(kernel(function))


def cache_folder():
    """Return the folder for what these very sources compile to, on this Python and numba.

    Returns
    -------
    Path
        Below the user's cache folder, or below ``TLIB_CACHE`` if that is set.
    """
    import platformdirs

    root = os.environ.get("TLIB_CACHE") or platformdirs.user_cache_dir("thermal-store-workbook", appauthor=False)
    return Path(root) / "engine" / _fingerprint()


def _fingerprint():
    """Hash every source file and table of the package with the versions that shape compiled code."""
    from importlib.metadata import version

    house = Path(__file__).parent
    digest = hashlib.sha256(f"{version('numba')} {np.__version__} {platform.python_version()}".encode())
    tables = [path for path in house.glob("tables/*.toml") if path.stem not in WORDS]
    for path in sorted((*house.rglob("*.py"), *tables)):  # kernels freeze numbers of tables too
        digest.update(path.relative_to(house).as_posix().encode())
        digest.update(path.read_bytes())
    return digest.hexdigest()[:20]


@cache
def _inner(function):
    """Return a kernel compiled, once for all engines that reach it."""
    return _njit(_twin(function))


def _twin(function):
    """Return a function that calls its kernels compiled, the deepest first."""
    reached = {name: function.__globals__.get(name) for name in function.__code__.co_names}
    fast = {name: _inner(kernel) for name, kernel in reached.items() if hasattr(kernel, _MARK)}
    twin = types.FunctionType(
        function.__code__, function.__globals__ | fast, function.__name__, function.__defaults__, function.__closure__
    )
    twin.__qualname__, twin.__module__ = function.__qualname__, function.__module__
    return twin


def _njit(function, folder=None, *, is_outer=False):
    """Compile a function; only the outermost is called from Python and kept, for it holds all that it calls.

    No kernel makes an array, so none needs counts of who still uses one.
    """
    import numba

    options = dict(error_model="numpy", nogil=True, _nrt=False, no_cfunc_wrapper=True, pipeline_class=_pipeline())
    if not is_outer:
        return numba.njit(no_cpython_wrapper=True, **options)(function)
    was = numba.config.CACHE_DIR
    try:
        _keep_newest(folder)
        numba.config.CACHE_DIR = str(folder)
        return numba.njit(cache=True, **options)(function)
    except (OSError, RuntimeError):  # no folder that can be written: compile for this session only
        return numba.njit(**options)(function)
    finally:
        numba.config.CACHE_DIR = was


@cache
def _pipeline():
    """Return a compiler that does less: no pass that no kernel needs, and machine code for the outermost alone.

    Together that saves about a third of the first call.
    """
    from numba.core.compiler import CompilerBase, DefaultPassBuilder, PassManager

    class KernelCompiler(CompilerBase):
        def define_pipelines(self):
            state = self.state
            if state.flags.no_cpython_wrapper:
                state.library = _part()(state.targetctx.codegen(), state.func_id.func_qualname)
            manager = PassManager("kernels")
            for step, description in DefaultPassBuilder.define_nopython_pipeline(state).passes:
                if step.name() not in NEEDLESS:
                    manager.add_pass(step, description)
            manager.finalize()
            return [manager]

    return KernelCompiler


@cache
def _part():
    """Return the kind of library for an inner kernel: linked into its callers, but by itself never run.

    So it needs no address, and its callers optimise it with themselves.
    """
    from numba.core.codegen import JITCodeLibrary

    class Part(JITCodeLibrary):
        def finalize(self):
            for library in dict.fromkeys(self._linking_libraries):
                self._final_module.link_in(library._get_module_for_linking(), preserve=True)
            self._finalized = True

        def get_pointer_to_function(self, name):
            self._ensure_finalized()
            return 0

        @property
        def codegen(self):
            return self

        def set_env(self, name, environment):
            self._ensure_finalized()  # and no more: a kernel has no Python objects

    return Part


def _keep_newest(folder):
    """Make the folder, and let go of what older sources compiled to, but for the newest."""
    if folder.is_dir():
        return
    folder.mkdir(parents=True)
    others = sorted((p for p in folder.parent.iterdir() if p != folder), key=lambda p: p.stat().st_mtime, reverse=True)
    for old in others[_KEPT - 1 :]:
        shutil.rmtree(old, ignore_errors=True)
