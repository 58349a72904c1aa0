"""One line about a change, ready for the list of revisions."""

from collections.abc import Iterable, Iterator, Sequence

from foamcut.compare.values import Compared, Verdict

#: values and parts named in one line, and letters of each
_MOST_VALUES, _MOST_PARTS, _LETTERS = 4, 6, 48
_WORDS = (
    (Verdict.EXTEND, "extended"),
    (Verdict.TRIM, "trimmed"),
    (Verdict.CUT_AGAIN, "cut again"),
    (Verdict.NEW, "new"),
    (Verdict.GONE, "gone"),
)


def revision_line(compared: Sequence[Compared], changed: Iterable[tuple[str, str, str]] = ()) -> str:
    """What changed in one line of words.

    `changed` are values as (key, before, after), as typed; one that was not there before or is there no
    longer is empty.

    >>> revision_line((), [("sizes.half_span", "92", "96")])
    'half_span 92 -> 96; no part changes'
    """
    values = [_value(*one) for one in changed]
    phrases = [_some(values, _MOST_VALUES)] if values else []
    for verdict, word in _WORDS:
        names = [one.name for one in compared if one.verdict is verdict]
        if names:
            phrases.append(f"{word}: {_some(_together(names), _MOST_PARTS)}")
    more = [one.name for one in compared if one.verdict is Verdict.KEEP and one.added]
    if more:
        phrases.append(f"more of: {_some(_together(more), _MOST_PARTS)}")
    if all(one.verdict is Verdict.KEEP and not one.added for one in compared):
        phrases.append("no part changes")
    return "; ".join(phrases)


def _value(key: str, before: str, after: str) -> str:
    name = _short(key.removeprefix("sizes."))
    if not before.strip():
        return f"{name} {_short(after)} is new"
    return f"{name} {_short(before)} -> {_short(after)}" if after.strip() else f"{name} is gone"


def _together(names: Sequence[str]) -> Iterator[str]:
    """Names with both hands of a pair as one."""
    there = set(names)
    for name in names:
        stem, _, hand = name.rpartition("-")
        both = {f"{stem}-left", f"{stem}-right"} <= there and hand in ("left", "right")
        if not both:
            yield _short(name)
        elif (
            hand == next(one for one in names if one in (f"{stem}-left", f"{stem}-right")).rpartition("-")[2]
        ):
            yield f"{_short(stem)} left and right"


def _some(several: Iterable[str], most: int) -> str:
    kept = list(several)
    more = len(kept) - most
    return ", ".join(kept[:most]) + (f" and {more} more" if more > 0 else "")


def _short(text: str) -> str:
    text = " ".join(text.split())
    return text if len(text) <= _LETTERS else text[:_LETTERS].rstrip() + "..."
