"""The balance of two versions side by side, and one line about a change."""

from dataclasses import replace

from foamcut.compare.numbers import numbers_beside
from foamcut.compare.values import Compared, Verdict
from foamcut.compare.words import revision_line
from foamcut.flight.figures import Group, Number, Report


def number(name: str, value: float, unit: str = "mm") -> Number:
    return Number(
        name=name, title=name.upper(), value=value, unit=unit, group=Group.BALANCE, source="by hand"
    )


def report(*numbers: Number) -> Report:
    return Report(numbers=numbers, items=(), loaded=None, places=(), throws=(), findings=())


def compared(name: str, verdict: Verdict, added: tuple = ()) -> Compared:
    return Compared(name=name, verdict=verdict, reason="So.", old=None, new=None, added=added)


def test_numbers_that_differ_come_first_each_in_the_order_of_the_new_version():
    before = report(number("a", 1.0), number("b", 2.0), number("c", 3.0), number("old", 4.0))
    after = report(number("new", 5.0), number("a", 1.0), number("b", 2.5), number("c", 3.0001))
    rows = numbers_beside(before, after)
    assert [(row.name, row.before, row.after) for row in rows] == [
        ("new", None, 5.0),
        ("b", 2.0, 2.5),
        ("old", 4.0, None),
        ("a", 1.0, 1.0),
        ("c", 3.0, 3.0001),
    ]
    assert [row.differs for row in rows] == [True, True, True, False, False]
    assert rows[1].title == "B" and rows[1].unit == "mm"


def test_numbers_about_nought_and_versions_without_a_balance():
    (row,) = numbers_beside(report(number("a", 0.0)), report(number("a", 0.0)))
    assert not row.differs
    assert numbers_beside(None, None) == ()
    assert [row.differs for row in numbers_beside(None, report(number("a", 1.0)))] == [True]
    assert numbers_beside(report(number("a", -1.0)), report(number("a", 1.0)))[0].differs


def test_a_line_names_values_then_parts_by_what_is_done_with_hands_together():
    parts = (
        compared("wing-skin-right", Verdict.EXTEND),
        compared("wing-skin-left", Verdict.EXTEND),
        compared("deck", Verdict.TRIM),
        compared("side-left", Verdict.CUT_AGAIN),
        compared("hatch", Verdict.KEEP),
    )
    line = revision_line(parts, [("sizes.half_span", "92", "96")])
    assert line == (
        "half_span 92 -> 96; extended: wing-skin left and right; trimmed: deck; cut again: side-left"
    )


def test_a_line_where_nothing_is_cut_and_where_much_is():
    assert revision_line((compared("a", Verdict.KEEP),), [("plan.title", "a", "b")]) == (
        "plan.title a -> b; no part changes"
    )
    assert revision_line([compared(f"p{i}", Verdict.CUT_AGAIN) for i in range(9)]) == (
        "cut again: p0, p1, p2, p3, p4, p5 and 3 more"
    )
    assert revision_line((), [("sizes.a", "", "3"), ("sizes.b", "4", "")]) == (
        "a 3 is new, b is gone; no part changes"
    )


def test_a_line_stays_one_line_whatever_names_are():
    long = compared("Flügel\n" * 40, Verdict.NEW)
    line = revision_line((long, replace(long, verdict=Verdict.GONE)), [("k" * 300, "a\nb", "c" * 500)])
    assert "\n" not in line
    assert len(line) < 320


def test_copies_that_are_cut_besides_are_told():
    one = compared("rib", Verdict.KEEP)
    assert revision_line((replace(one, added=(object(),)),)) == "more of: rib"
