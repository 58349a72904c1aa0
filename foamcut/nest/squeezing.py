"""."""

from typing import Any


class Helper:
    """."""

    def __init__(self, *_: Any) -> None: ...
    def poll(self, boards: Any, *, may_save: bool) -> Any: ...
    def stop(self) -> None: ...
