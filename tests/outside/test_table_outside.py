"""RFC 4180 (Y. Shafranovich, 2005), section 2, rules 1, 5, 6 and 7: from memory.

Lines end in CRLF; fields with line breaks, quotes or commas are enclosed in quotes; a quote inside is doubled.
"""

from foamcut.write.table import render


def test_the_rules_of_rfc_4180():
    assert render([["aaa", "b\r\nbb", "ccc"]]) == b'aaa,"b\r\nbb",ccc\r\n'
    assert render([["aaa", 'b"bb', "c,cc"]]) == b'aaa,"b""bb","c,cc"\r\n'
