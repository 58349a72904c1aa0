"""A step of the build, and what it must wait for."""

from dataclasses import dataclass
from enum import Enum

from foamcut.book.values import Block


class Tie(Enum):
    """Why a step waits for another."""

    GLUED = "glued to"  # what this step glues on is glued to what that one made
    SHUT_IN = "shut in by"  # this step shuts in what that one did: it cannot be reached afterwards
    CHECKED = "checked before"  # that one checks what cannot be mended after this one


@dataclass(frozen=True, kw_only=True, eq=False)
class Step:
    """One step: what is done, in order; what can hurt; what is looked at before going on.

    `id` is unique: lower-case letters, digits, ``-``.  `after` are the steps that it waits for, with the
    reason.  `adds` are the names of the parts that it works on or adds to the model, `shows` those that its
    drawing shows besides.  `blocks` stand below the words: tables, drawings of its own.
    """

    id: str
    heading: str
    does: tuple[str, ...]
    cautions: tuple[str, ...] = ()
    checks: tuple[str, ...] = ()
    after: tuple[tuple[Tie, str], ...] = ()
    adds: tuple[str, ...] = ()
    shows: tuple[str, ...] = ()
    tools: tuple[str, ...] = ()
    blocks: tuple[Block, ...] = ()
