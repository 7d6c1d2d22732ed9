"""Reads the solver in without pandas, which takes longer to load than a small brief to answer.

The solver's Python face imports pandas for tables of variables and of their values. No table
of variables is made here, and of pandas nothing but two names of types is looked at while the
face is read in. So a module with just these stands in for it, and is gone again afterwards.
"""

import sys
import threading
from importlib import import_module
from types import ModuleType

_PANDAS = "pandas"


def load_solver() -> None:
    """Imports the solver; without pandas where nothing in this process has, or could be about to, import that."""
    if _PANDAS not in sys.modules and threading.active_count() == 1:
        sys.modules[_PANDAS] = _stand_in()
        try:
            import_module("ortools.sat.python.cp_model")
        finally:
            del sys.modules[_PANDAS]


def _stand_in() -> ModuleType:
    """A module with the two types that the solver's signatures name."""
    module = ModuleType(_PANDAS)
    for name in ("Index", "Series"):
        setattr(module, name, type(name, (), {}))
    return module
