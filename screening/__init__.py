"""Polymer piston screening: can a printed polymer piston run, of which filament, and for how long.

Every public name is importable from here; all take and give SI units unless a name carries a unit. The names and their homes
stand in `__init__.pyi`, where a type checker and an editor read them too; a name's module is loaded when the name is first
asked for, so that the gun's reading need not wait for the combustion library.
"""

import lazy_loader

from screening.version import VERSION as __version__  # noqa: F401

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
