"""What the words of a drawing must tell."""

import functools
import re
import unicodedata

from pack_design import Design
from pack_layout import Layout
from pack_report import Report
from pack_view import View

#: letters that a shortened name keeps
_FEWEST = 10


def squeezed(text: str) -> str:
    """Leave out white space: readers part words as they like."""
    return "".join(text.split())


def says(text: str, name: str) -> bool:
    """Tell whether a name stands in a text read out of a drawing.

    White space does not count. A letter that the font lacks is printed as '?'; readers drop accents that are
    set on one letter more than once.
    """
    found = _flat(text)
    pattern = ""
    for letter in unicodedata.normalize("NFC", squeezed(name)):
        if unicodedata.combining(letter):
            pattern += f"{re.escape(letter)}?"
        elif letter.isascii():
            pattern += re.escape(letter)
        else:
            pattern += rf"(?:{re.escape(letter)}|\?)"
    return re.search(pattern, found) is not None


def names(text: str, name: str) -> bool:
    """Tell whether a name stands in a text, or as much of it as there is room for, before three dots."""
    if says(text, name):
        return True
    start = squeezed(name)
    return any(says(text, f"{start[:most]}...") for most in range(len(start) - 1, _FEWEST - 1, -1))


@functools.lru_cache(maxsize=256)
def _flat(text: str) -> str:
    return unicodedata.normalize("NFC", squeezed(text))


def written(length_mm: float, text: str, unit: str = "") -> bool:
    """Tell whether a length stands in a text, with this unit behind, to the decimals with which it is written."""
    for number in re.findall(rf"(?<![0-9.])([0-9]+(?:\.[0-9]+)?)\s*{unit}", text.replace(",", ".")):
        decimals = len(number.partition(".")[2])
        if abs(float(number) - length_mm) <= 0.5 * 10**-decimals + 1e-9:
            return True
    return False


def check_words(
    report: Report, file: str, where: str, text: str, design: Design, *, ascii_only: bool = False
) -> None:
    """Plan name and revision stand there; no word that promises more than a plan can."""
    found = squeezed(text)
    names = [name for name in (design.name, design.title) if name]
    if not ascii_only or any(name.isascii() for name in names):
        report.expect(any(says(text, name) for name in names), file, f"{where}: the plan's name is not on it")
    if design.revision and (design.revision.isascii() or not ascii_only):
        report.expect(says(text, design.revision), file, f"{where}: the revision is not on it")
    promise = "s" + "afe"
    if promise not in design.text.lower():
        report.expect(promise not in found.lower(), file, f"{where}: a word promises what no plan can")


def check_notes(
    report: Report,
    file: str,
    layout: Layout,
    view: View,
    notes: str,
    design: Design | None,
    *,
    ascii_only: bool,
) -> None:
    """The notes of a sheet: plan, revision, measured thickness, the bar's length, what they say of cuts."""
    stock = layout.stocks[view.sheet["stock"]]
    report.expect(
        written(stock["thickness"], notes, "mm"),
        file,
        f"NOTES: the thickness of {stock['thickness']} mm is not told",
    )
    report.expect("100" in notes, file, "NOTES: no text names the 100 mm of the bar")
    said = squeezed(notes).lower()
    if not view.back:
        _check_gap_note(report, file, view, said, stock["gap"], stock["margin"])
        _check_kerf_note(report, file, view, notes)
        _check_lengths(report, file, layout, view, notes)
    if design is not None:
        check_words(report, file, "NOTES", notes, design, ascii_only=ascii_only)


def _check_gap_note(
    report: Report, file: str, view: View, said: str, gap_mm: float, margin_mm: float
) -> None:
    """Outlines that may lie on each other are told of; those that run into each other by their kerf are, too."""
    kerf_mm = max((shown.kerf_mm for shown in view.shown), default=0.0)
    if kerf_mm > gap_mm:
        told = "neighbours" in said and "closertogether" in said
        report.expect(told, file, "NOTES: the kerf is wider than the gap, and that is not said")
    elif gap_mm == 0 or margin_mm == 0:
        told = "onecut,twoedges" in said
        report.expect(told, file, "NOTES: gap or margin is 0 and 'one cut, two edges' is not said")


def _check_kerf_note(report: Report, file: str, view: View, notes: str) -> None:
    """Each file says whether kerf is in it, how much, and that it must not be set again on the machine."""
    said = squeezed(notes).lower()
    kerfs = sorted({shown.kerf_mm for shown in view.shown})
    report.expect("kerf" in said, file, "NOTES: whether kerf is in the file is not told")
    for kerf_mm in kerfs:
        if kerf_mm > 0:
            report.expect(
                written(kerf_mm, notes, "mm"), file, f"NOTES: the kerf of {kerf_mm:g} mm is not told"
            )
    if any(kerfs):
        report.expect("nokerf" not in said, file, "NOTES: the file is said to hold no kerf, and holds it")
        again = "again" in said and ("donotset" in said or "notbeset" in said or "neverset" in said)
        report.expect(again, file, "NOTES: that the kerf must not be set again on the machine is not told")
    else:
        report.expect("nokerf" in said, file, "NOTES: that no kerf is in the file is not told")


def _check_lengths(report: Report, file: str, layout: Layout, view: View, notes: str) -> None:
    """The total length over the assembled joint stands on every sheet that holds a section."""
    joined = {shown.piece["part"] for shown in view.shown if shown.piece["role"] == "section"}
    for joint in layout.raw.get("joints", []):
        if joint["part"] in joined:
            report.expect(
                written(joint["length"], notes, "mm"),
                file,
                f"NOTES: the {joint['length']:g} mm over the joint of {joint['part']} are not told",
            )
