"""Where what ships beside the package lies: engines, checklists, models. Knows one folder.

Of a checkout that is its top; where only the package is installed, a folder in it, into which the
wheel puts what stands at the top.
"""

from __future__ import annotations

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent
_INSTALLED = _PACKAGE / "shipped"
SHIPPED = _INSTALLED if _INSTALLED.is_dir() else _PACKAGE.parent
