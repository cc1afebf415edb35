"""Whether a person came here by the browser's Back or Forward.

The one place that asks Streamlit's run context, which is no public part of it: nothing public tells Back to a bare address
from a page chosen in the menu, which takes the query off. Without it (an older or newer version) Back over such an address
shows the present case instead of the former one; nothing else is lost. tests/app/test_browser_case.py guards it.
"""

from __future__ import annotations

from streamlit.runtime.scriptrunner import get_script_run_ctx


def came_by_history() -> bool:
    """Return whether this run was begun by the browser's Back or Forward."""
    return bool(getattr(get_script_run_ctx(), "is_history_navigation", False))
