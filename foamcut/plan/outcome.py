"""What every command gives: a design, its parts, and advice as records or in words."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from foamcut.design.design import Design
from foamcut.findings import CLOSING_WORDS, Finding
from foamcut.flat.part import Part

#: told, in words, what is being done
Listener = Callable[[str], None]


@dataclass(frozen=True, kw_only=True)
class Outcome:
    """A design that can be built, its parts, and advice."""

    design: Design
    sha256: str
    parts: tuple[Part, ...]
    findings: tuple[Finding, ...]

    def design_facts(self) -> dict[str, str]:
        """Name, revision and SHA-256, as every document of a pack has them."""
        return {"name": self.design.plan.name, "revision": self.design.plan.revision, "sha256": self.sha256}

    def findings_table(self) -> list[dict[str, object]]:
        """The findings as records."""
        return findings_records(self.design, self.findings)

    def findings_lines(self, path: str) -> list[str]:
        """The findings in words, one a line, and the closing words; nothing when there are none.

        `path` is what the design file is called on the screen; the pages of a pack leave it out.
        """
        lines = []
        for finding in self.findings:
            line = self.design.line_of(finding.where)
            place = ":".join(filter(None, (path, str(line or "") if path else "")))
            mend = f"; {finding.mend}" if finding.mend else ""
            said = f"{finding.level.value}: {finding.where}: {finding.text}{mend}"
            lines.append(f"{place}: {said}" if place else said)
        return [*lines, CLOSING_WORDS] if lines else []


def findings_records(design: Design, findings: Iterable[Finding]) -> list[dict[str, object]]:
    """Findings as records, each with its line in the design."""
    return [
        {
            "code": f.code,
            "level": f.level.value,
            "where": f.where,
            "line": design.line_of(f.where),
            "text": f.text,
            "value": f.value,
            "range": f.range,
            "source": f.source,
            "mend": f.mend,
        }
        for f in findings
    ]
