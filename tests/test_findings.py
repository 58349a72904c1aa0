"""Every finding has a code of the table, every code is used, and words come with it."""

import re
from pathlib import Path

import pytest

from foamcut.findings import CLOSING_WORDS, CODES, Finding, Level

PACKAGE = Path(__file__).parent.parent / "foamcut"


def test_every_code_of_the_table_is_raised_somewhere():
    source = "".join(p.read_text(encoding="utf-8") for p in PACKAGE.rglob("*.py") if p.name != "findings.py")
    raised = set(re.findall(r'code="([a-z-]+)"', source))
    assert raised == set(CODES)


def test_an_unknown_code_is_a_bug():
    with pytest.raises(ValueError, match="unknown finding code"):
        Finding(code="no-such", level=Level.NOTE, where="", text="")


def test_the_closing_words_are_no_clearance():
    assert "not a clearance" in CLOSING_WORDS
    assert "experienced" in CLOSING_WORDS
