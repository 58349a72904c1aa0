"""The chain from a design's bytes to the files of a pack; the one place that calls the rooms in order.

read -> parts -> ways to cut them -> layouts -> drawings -> files.  Every product is one function from a
`Plan` to files; they stand in `foamcut.plan.products.PRODUCTS`.  Nothing here prints or opens a file.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from foamcut.compare.archive import MAX_BYTES, MAX_FILES
    from foamcut.design.asking import Question, answered, questions
    from foamcut.design.json_schema import SCHEMA_FILE, schema_text
    from foamcut.design.letters import MAX_BYTES as LARGEST_FILE
    from foamcut.design.literals import SumError
    from foamcut.design.starters import starter
    from foamcut.plan.balancing import Balanced, balance
    from foamcut.plan.chain import cut
    from foamcut.plan.checking import Checked, check
    from foamcut.plan.comparing import Comparison, compared, next_revision, remade, version
    from foamcut.plan.values import Options, Pack
    from foamcut.plan.verifying import design_of, is_of_some_parts, is_pack, verified

__all__ = [
    "LARGEST_FILE",
    "MAX_BYTES",
    "MAX_FILES",
    "SCHEMA_FILE",
    "Balanced",
    "Checked",
    "Comparison",
    "Options",
    "Pack",
    "Question",
    "SumError",
    "answered",
    "balance",
    "check",
    "compared",
    "cut",
    "design_of",
    "is_of_some_parts",
    "is_pack",
    "next_revision",
    "questions",
    "remade",
    "schema_text",
    "starter",
    "verified",
    "version",
]

#: where each public name is: fetched when it is first asked for, since a command needs few of the rooms
_HOMES = {
    "LARGEST_FILE": ("foamcut.design.letters", "MAX_BYTES"),
    "MAX_BYTES": ("foamcut.compare.archive", "MAX_BYTES"),
    "MAX_FILES": ("foamcut.compare.archive", "MAX_FILES"),
    "SCHEMA_FILE": ("foamcut.design.json_schema", "SCHEMA_FILE"),
    "Balanced": ("foamcut.plan.balancing", "Balanced"),
    "Checked": ("foamcut.plan.checking", "Checked"),
    "Comparison": ("foamcut.plan.comparing", "Comparison"),
    "Options": ("foamcut.plan.values", "Options"),
    "Pack": ("foamcut.plan.values", "Pack"),
    "Question": ("foamcut.design.asking", "Question"),
    "SumError": ("foamcut.design.literals", "SumError"),
    "answered": ("foamcut.design.asking", "answered"),
    "balance": ("foamcut.plan.balancing", "balance"),
    "check": ("foamcut.plan.checking", "check"),
    "compared": ("foamcut.plan.comparing", "compared"),
    "cut": ("foamcut.plan.chain", "cut"),
    "design_of": ("foamcut.plan.verifying", "design_of"),
    "is_of_some_parts": ("foamcut.plan.verifying", "is_of_some_parts"),
    "is_pack": ("foamcut.plan.verifying", "is_pack"),
    "next_revision": ("foamcut.plan.comparing", "next_revision"),
    "questions": ("foamcut.design.asking", "questions"),
    "remade": ("foamcut.plan.comparing", "remade"),
    "schema_text": ("foamcut.design.json_schema", "schema_text"),
    "starter": ("foamcut.design.starters", "starter"),
    "verified": ("foamcut.plan.verifying", "verified"),
    "version": ("foamcut.plan.comparing", "version"),
}


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(name)
    module, word = _HOMES[name]
    return getattr(import_module(module), word)
