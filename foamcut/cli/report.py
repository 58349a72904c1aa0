"""What a command gives: words on standard error, or one JSON document on standard output."""

import contextlib
import json
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from foamcut import __version__
from foamcut.cli.saying import DONE, REFUSED, progress, refusals_shown, say, say_places

if TYPE_CHECKING:
    from foamcut.errors import FoamcutError
    from foamcut.plan.outcome import Outcome


class Report:
    """What a command says: words on standard error, or one JSON document on standard output."""

    def __init__(self, command: str, design: Path, as_json: bool) -> None:
        self.command, self.path, self.as_json = command, design, as_json
        self.document: dict[str, Any] = {
            "command": command,
            "foamcut": __version__,
            "ok": False,
            "design": None,
            "refusals": [],
            "findings": [],
            "result": None,
        }

    def run(self, work: Callable[[Any, bytes, Any], Any]) -> Any:
        """Read the design and do the work, with progress on a terminal."""
        from foamcut import files, plan

        data = files.read_design(self.path, limit=plan.LARGEST_FILE)
        with progress(quiet=self.as_json) as listener:
            return work(plan, data, listener)

    @contextlib.contextmanager
    def refusals(self) -> Iterator[None]:
        """Refusals inside the block are shown; the block ends there."""
        with refusals_shown(self._refused):
            yield

    def _refused(self, err: "FoamcutError") -> None:
        from foamcut.errors import Refusal, Refused

        refusals = err.refusals if isinstance(err, Refused) else (Refusal(key="", text=str(err)),)
        self.document["refusals"] = [
            {"file": str(self.path), "line": r.line, "key": r.key, "text": r.text} for r in refusals
        ]
        if self.as_json:
            self.finish(REFUSED)
            return
        if not isinstance(err, Refused):
            say(str(err))
            return
        for refusal in refusals:
            place = ":".join(filter(None, (str(self.path), str(refusal.line or ""))))
            say(": ".join(filter(None, (place, refusal.key, refusal.text))))
        if err.later_steps:
            say("later steps not yet looked at")
        say_places(err.places, (refusal.text for refusal in refusals))

    def result(self, outcome: "Outcome", result: dict[str, Any]) -> None:
        """Note what came out."""
        self.document.update(design=outcome.design_facts(), findings=outcome.findings_table(), result=result)

    def show_findings(self, outcome: "Outcome") -> None:
        """Findings in words, the closing words last."""
        lines = outcome.findings_lines(str(self.path))
        for line in lines:
            say(line)
        say_places(outcome.design.plan.places, lines)

    def finish(self, code: int) -> int:
        """Print the document if it was asked for, and pass the exit code on."""
        self.document["ok"] = code == DONE
        if self.as_json:
            click.echo(json.dumps(self.document, indent=1))
        return code
