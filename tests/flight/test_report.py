"""The order in which a report tells its findings: what a builder must act on first."""

from foamcut.design.starters import starter
from foamcut.findings import Level
from foamcut.flight.figures import Report
from foamcut.plan.balancing import balance

ORDER = [Level.STOP, Level.WARNING, Level.NOTE]


def reported(*changes: tuple[str, str]) -> Report:
    text = starter("twin", "mm", "twin")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return balance(text.encode(), "twin.toml").report


def test_warnings_come_before_notes_whoever_asks() -> None:
    """The wiring is looked at last of all; what is doubtful there stands before the notes of the others."""
    found = reported(("joined = false", "joined = true")).findings
    levels = [ORDER.index(one.level) for one in found]
    assert levels == sorted(levels)
    codes = [one.code for one in found]
    assert codes.index("supplies-joined") < codes.index("registration-weight")


def test_findings_of_a_level_stay_in_the_order_of_the_questions() -> None:
    """Weight is asked before strength, strength before power."""
    codes = [one.code for one in reported().findings if one.level is Level.NOTE]
    assert codes == [one for one in ("registration-weight", "joiner-stress", "launch") if one in codes]
    assert len(codes) == 3
