"""One attempt on the program: a design goes in, a pack or refusals come out, and all promises are looked at."""

import json
import re
import shutil
import sys
import traceback
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from tests.hostile.program import Hung, Run, run, tree

sys.path.insert(0, str(Path(__file__).parent.parent / "contract"))
from check_pack import check_pack

_LEAKS = re.compile(r"Traceback|object at 0x|\b(pydantic|TypeError|ValueError|KeyError|IndexError|NoneType)\b")


@dataclass(frozen=True, slots=True, kw_only=True)
class Attempt:
    """What became of one design: its faults, in words; none when all promises held."""

    refused: bool
    faults: tuple[str, ...]


def attempt(data: bytes, place: Path, *, command: str = "cut", contract: bool = False) -> Attempt:
    """Give a design to the program within a folder and look at everything that it leaves there.

    With `contract` a pack is read back by the contract checker too.
    """
    shutil.rmtree(place, ignore_errors=True)
    place.mkdir(parents=True)
    (place / "sentinel").write_bytes(b"nobody touches this")
    (place / "design.toml").write_bytes(data)
    before = tree(place)
    out = ["--out", str(place / "pack")] if command == "cut" else []
    try:
        answer = run(command, place / "design.toml", *out, "--json")
    except (Exception, Hung) as err:
        last = traceback.extract_tb(err.__traceback__)[-1]
        where = f"{Path(last.filename).name}:{last.lineno}"
        return Attempt(refused=False, faults=(f"{type(err).__name__} at {where}: {str(err)[:300]}",))
    faults = list(_answer_faults(answer, data, command))
    after = tree(place)
    faults += [f"{name} was touched" for name, was in before.items() if after.get(name) != was]
    stray = [name for name in after if name not in before and name.split("/")[0] != "pack"]
    faults += [f"{name} was written" for name in stray]
    if answer.code != 0 and (place / "pack").exists():
        faults.append("an output folder was left behind by a refusal")
    if answer.code == 0 and command == "cut" and contract:
        faults += [str(fault) for fault in check_pack(place / "pack").faults]
    return Attempt(refused=answer.code != 0, faults=tuple(faults))


def _answer_faults(answer: Run, data: bytes, command: str) -> Iterator[str]:
    if answer.code not in (0, 1):
        yield f"exit code {answer.code}: {answer.err[:300]}"
        return
    try:
        document = answer.document
    except ValueError as err:
        yield f"no JSON document: {err}"
        return
    refusals = document["refusals"]
    if document["ok"] is not (answer.code == 0):
        yield "exit code and document disagree"
    if answer.code == 1 and not refusals and not (command == "check" and document["findings"]):
        yield "refused without a word"
    lines = len(data.splitlines()) + 1
    for refusal in refusals:
        line, text = refusal["line"], refusal["text"]
        if line is not None and not 1 <= line <= lines:
            yield f"line {line} of {lines}"
        if _LEAKS.search(text) or not text.strip() or len(text) > 1000:
            yield f"words that are not for a builder: {text[:300]}"
    if len({json.dumps(r, sort_keys=True) for r in refusals}) != len(refusals):
        yield "the same refusal twice"
