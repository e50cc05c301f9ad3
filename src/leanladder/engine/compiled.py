"""Ahead of the compiler: one decorator, and a cache that cannot go stale.

The compiler's own cache keys each function by its own file, so a change in a function that
it calls brings old numbers back. Here the cache folder itself is named by a hash of every
engine source, the compiler's version and the processor.
"""

from __future__ import annotations

import hashlib
import os
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar, cast

import llvmlite
import numba
import platformdirs
from llvmlite import binding

Function = TypeVar("Function", bound=Callable[..., object])


def source_key(folder: Path) -> str:
    """Return 16 hex digits that change with any engine source, the compiler or the processor."""
    digest = hashlib.sha256()
    for path in sorted(folder.glob("*.py")):
        digest.update(path.name.encode())
        digest.update(path.read_bytes())
    for part in (numba.__version__, llvmlite.__version__, binding.get_host_cpu_name()):
        digest.update(str(part).encode())
    return digest.hexdigest()[:16]


def cache_folder() -> Path:
    """Return where compiled code is kept: LEANLADDER_HOME/cache, or the user's cache folder."""
    home = os.environ.get("LEANLADDER_HOME")
    base = Path(home) / "cache" if home else platformdirs.user_cache_path("leanladder")
    return base / "compiled" / source_key(Path(__file__).parent)


numba.config.CACHE_DIR = str(cache_folder())  # type: ignore[attr-defined]


def compiled(function: Function) -> Function:
    """Compile for float64 without the interpreter's lock; strict IEEE order of operations."""
    return cast("Function", numba.njit(cache=True, nogil=True, error_model="numpy")(function))


def contracted(function: Function) -> Function:
    """Compile for other compiled code alone, and let a product and a sum become one operation, rounded once.

    For loops over members: it doubles what a processor does at once, and no sum crosses members.
    """
    # the compiler's own types lack these two
    apart: dict[str, Any] = {"no_cpython_wrapper": True, "no_cfunc_wrapper": True}
    kept: dict[str, Any] = {"cache": True, "nogil": True, "error_model": "numpy"}
    compile_it = numba.njit(fastmath={"contract"}, **kept, **apart)
    return cast("Function", compile_it(function))


def inlined(function: Function) -> Function:
    """Compile a small function that others call inside their loops."""
    return cast("Function", numba.njit(cache=True, nogil=True, error_model="numpy", inline="never")(function))


def folded(function: Function) -> Function:
    """Fold a function into its callers: handing wide tuples over costs more than the work itself."""
    compile_it = numba.njit(cache=True, nogil=True, error_model="numpy", inline="always")
    return cast("Function", compile_it(function))
