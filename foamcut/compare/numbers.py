"""The balance of two versions side by side."""

from dataclasses import dataclass

from foamcut.flight.figures import Number, Report

#: numbers that differ by a smaller share than this are the same: half of the last of four figures
_SAME_SHARE = 0.0005


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A number before and after, in the unit of `foamcut.flight.figures.Number`; None: there is none."""

    name: str
    title: str
    unit: str
    before: float | None
    after: float | None

    @property
    def differs(self) -> bool:
        """Whether four figures tell them apart."""
        if self.before is None or self.after is None:
            return self.before is not self.after
        most = max(abs(self.before), abs(self.after))
        return abs(self.before - self.after) > _SAME_SHARE * most


def numbers_beside(before: Report | None, after: Report | None) -> tuple[Row, ...]:
    """Every number of both, those that differ first, else in the order of the new version.

    A version without a balance (None) has no numbers.
    """
    old = {one.name: one for one in (before.numbers if before else ())}
    new = {one.name: one for one in (after.numbers if after else ())}
    rows = [_row(old.get(name), one) for name, one in new.items()]
    rows += [_row(one, None) for name, one in old.items() if name not in new]
    kept = [row for row in rows if row is not None]
    return tuple(sorted(kept, key=lambda row: not row.differs))


def _row(before: Number | None, after: Number | None) -> Row | None:
    told = after or before
    if told is None:
        return None
    return Row(
        name=told.name,
        title=told.title,
        unit=told.unit,
        before=before.value if before else None,
        after=after.value if after else None,
    )
