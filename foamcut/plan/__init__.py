"""The chain from a design's bytes to the files of a pack; the one place that calls the rooms in order.

read -> parts -> ways to cut them -> layouts -> drawings -> files.  Every product is one function from a
`Plan` to files; they stand in `foamcut.plan.products.PRODUCTS`.  Nothing here prints or opens a file.
"""

from foamcut.design.asking import Question, answered, questions
from foamcut.design.json_schema import SCHEMA_FILE, schema_text
from foamcut.design.letters import MAX_BYTES as LARGEST_FILE
from foamcut.design.literals import SumError
from foamcut.design.starters import starter
from foamcut.plan.chain import check, cut
from foamcut.plan.values import Checked, Options, Pack

__all__ = [
    "LARGEST_FILE",
    "SCHEMA_FILE",
    "Checked",
    "Options",
    "Pack",
    "Question",
    "SumError",
    "answered",
    "check",
    "cut",
    "questions",
    "schema_text",
    "starter",
]
