"""Many random aeroplanes counted, as a Markdown table: `python -m tests.fuzz.airframe_table 2000`.

Of each it is told whether it is built without a finding above a note, built with findings that name what does
not fit, or refused; then the ten reasons that are given most often for a refusal and for a finding.
"""

import argparse
import multiprocessing
import os
import re
import sys
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from tests.fuzz.attempt_airframe import attempt_airframe
from tests.fuzz.random_airframes import random_airframe

#: processes at most: more would only take memory
_MOST = 4
_CHUNK = 10
_REASONS = 10
_LONGEST = 110
_WORDS = ("clean", "named", "refused", "faulty")
_HEAD = (
    "| wings | aeroplanes | built, no finding above a note | built, a finding names it | refused | with faults |\n"
    "|---|---|---|---|---|---|"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Tried:
    """One aeroplane: what kind of wing it has, and what became of it."""

    seed: int
    nose: str
    over_spar: str
    panels: int
    became: str
    refused: tuple[str, ...] = ()
    named: tuple[str, ...] = ()
    faults: tuple[str, ...] = ()


def tried(seed: int) -> Tried:
    """Try the aeroplane of a seed."""
    inputs, drawn = random_airframe(seed)
    wing, answer = inputs.surfaces[0], attempt_airframe(seed)
    became = "refused" if answer.refusals else "named" if answer.named else "clean"
    return Tried(
        seed=seed,
        nose=wing.nose.value,
        over_spar=wing.over_spar.value,
        panels=drawn.panels,
        became="faulty" if answer.faults else became,
        refused=tuple(sorted({reason(one.text) for one in answer.refusals})),
        named=tuple(sorted({f"{one.code}: {reason(one.text)}" for one in answer.named})),
        faults=answer.faults,
    )


def all_tried(seeds: Sequence[int]) -> Iterator[Tried]:
    """Each seed in order, several at once."""
    spawn = multiprocessing.get_context("spawn")
    with spawn.Pool(max(1, min(_MOST, os.cpu_count() or 1))) as crew:
        yield from crew.imap(tried, seeds, chunksize=_CHUNK)


def reason(text: str) -> str:
    """Words without their numbers and names, so that the same reason reads the same."""
    bare = re.sub(r'"[^"]*"', "…", re.sub(r"\d[\d.,]*\d|\d", "#", text))
    return bare if len(bare) <= _LONGEST else bare[:_LONGEST].rsplit(" ", 1)[0] + " …"


def table(several: Iterable[Tried]) -> str:
    """The counts and the reasons in Markdown."""
    several = list(several)
    rows: dict[str, Counter[str]] = {}
    for one in several:
        for row in ("all", f"nose: {one.nose}", f"over the spar: {one.over_spar}", f"panels: {one.panels}"):
            rows.setdefault(row, Counter())[one.became] += 1
    lines = [_HEAD]
    for row in sorted(rows):
        cells = " | ".join(_share(rows[row], word) for word in _WORDS)
        lines.append(f"| {row} | {rows[row].total()} | {cells} |")
    for what, words in (
        ("refusal", [one.refused for one in several]),
        ("finding", [one.named for one in several]),
    ):
        lines += ["", f"| aeroplanes | reason of a {what} |", "|---|---|"]
        counts = Counter(word for several_words in words for word in several_words)
        most = sorted(counts.items(), key=lambda pair: (-pair[1], pair[0]))[:_REASONS]
        lines += [f"| {count} | {word} |" for word, count in most]
    return "\n".join(lines)


def _share(counts: Counter[str], word: str) -> str:
    return f"{counts[word]} ({100 * counts[word] / counts.total():.0f} %)"


def main(arguments: list[str] | None = None) -> int:
    """Run from the command line and return the exit code: 1 when anything went wrong."""
    parser = argparse.ArgumentParser(description="count what becomes of random aeroplanes")
    parser.add_argument("count", type=int, nargs="?", default=2000, help="how many")
    parser.add_argument("--seed", type=int, default=0, help="first seed")
    options = parser.parse_args(arguments)
    several = []
    for one in all_tried(range(options.seed, options.seed + options.count)):
        several.append(one)
        if one.faults:
            print(f"seed {one.seed}: {'; '.join(one.faults[:5])}", file=sys.stderr, flush=True)
    print(table(several))
    return 1 if any(one.faults for one in several) else 0


if __name__ == "__main__":
    sys.exit(main())
