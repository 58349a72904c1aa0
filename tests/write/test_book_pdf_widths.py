"""Widths of the columns of a printed table."""

import pytest

from foamcut.write.book_pdf_lines import lines
from foamcut.write.book_pdf_table import SIZE_MM, _shared, _widths


@pytest.mark.parametrize(
    ("wanted", "weights", "room"),
    [
        ((10.0, 200.0, 90.0, 20.0), (2.0, 9.0, 4.0, 2.0), 180.0),
        ((300.0, 300.0, 300.0), (1.0, 0.0, 5.0), 170.0),
        ((8.0,) * 30, (1.0,) * 30, 120.0),
        ((400.0, 5.0), (0.0, 0.0), 60.0),
    ],
)
def test_columns_fill_the_room_and_none_is_wider_than_it_wants(wanted, weights, room):
    least = [min(one, 16.0, room / len(wanted)) for one in wanted]
    widths = _shared(wanted, least, weights, room)
    assert sum(widths) <= room + 1e-9
    assert all(0 < one <= most + 1e-9 for one, most in zip(widths, wanted, strict=True))
    assert sum(widths) == pytest.approx(min(room, sum(wanted))) or not any(weights)


def test_a_column_with_more_in_it_is_wider():
    few, many = _shared((100.0, 100.0), (16.0, 16.0), (2.0, 6.0), 120.0)
    assert many > few
    assert few >= 16.0


def test_a_name_is_parted_nowhere_where_other_columns_can_give_way():
    name = "fuselage-former-with-a-long-name"
    words = "words that go on and on, as long as a page is wide, and then some more of them " * 3
    widths = _widths([("Part", "What"), (name, words), (name, words)], 2, 120.0)
    assert lines(name, SIZE_MM, widths[0] - 2 * 1.2) == (name,)
