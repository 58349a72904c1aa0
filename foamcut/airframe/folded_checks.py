"""What keeps a folded surface from being made, and advice on its flat pattern.  mm."""

from collections.abc import Iterator, Sequence

from foamcut.airframe.folded_controls import control_findings, control_refusals
from foamcut.airframe.folded_flat import FlatSkin
from foamcut.airframe.section_findings import skin_findings
from foamcut.airframe.section_refusals import section_refusals
from foamcut.airframe.skin_body_marks import saddles
from foamcut.airframe.skin_holes import well_refusals
from foamcut.airframe.skin_spans import MOST_ERROR_MM
from foamcut.airframe.values import Inputs, Surface
from foamcut.errors import Refusal
from foamcut.findings import Finding, Level
from foamcut.units import decimal_text

#: a flat pattern that differs more from the model is told
NOTE_MM = 0.05


def surface_refusals(surface: Surface, inputs: Inputs) -> tuple[Refusal, ...]:
    """All that keeps a surface from being made, before its skins are laid flat."""
    found = [*_numbers(surface), *section_refusals(surface)]
    if found:
        return tuple(found)
    return (*control_refusals(surface), *well_refusals(surface, inputs))


def _numbers(surface: Surface) -> Iterator[Refusal]:
    if surface.trim_mm < 0:
        text = f"a trimming allowance of {decimal_text(surface.trim_mm)} mm; give 0 or more"
        yield Refusal(key=f"{surface.key}.trim", text=text)
    band = surface.nose_band_mm
    if band is not None and band <= 0:
        text = f"a nose band of {decimal_text(band)} mm; leave it out for the usual one, or give more than 0"
        yield Refusal(key=f"{surface.key}.nose_band", text=text)


def surface_findings(surface: Surface, inputs: Inputs) -> tuple[Finding, ...]:
    """Advice on the sections and the controls of a surface."""
    return (*skin_findings(surface), *control_findings(surface), *_under_body(surface, inputs))


def _under_body(surface: Surface, inputs: Inputs) -> Iterator[Finding]:
    """Controls that reach into the saddle of a body."""
    beside = max((half for half, _ in saddles(surface, inputs)), default=0.0)
    for control in surface.controls:
        if control.from_mm >= beside:
            continue
        yield Finding(
            code="control-place",
            level=Level.WARNING,
            where=f"{control.key}.from",
            text=f"the {control.word} begins {decimal_text(control.from_mm)} mm out, within the body, whose"
            f" side is {decimal_text(beside)} mm out",
            value=f"{decimal_text(control.from_mm)} mm",
            range=f"{decimal_text(beside)} mm or more",
            source="the sizes given",
            mend="let it begin beside the body",
        )


def development_refusals(surface: Surface, skins: Sequence[FlatSkin]) -> tuple[Refusal, ...]:
    """Flat patterns that differ too much from the model, the worst one."""
    worst = max(skins, key=lambda one: round(one.error_mm, 6))
    if worst.error_mm <= MOST_ERROR_MM:
        return ()
    text = (
        f'laid flat, the skin of "{surface.name}" is {decimal_text(worst.error_mm, 2)} mm off its'
        f" shape on the model, more than {decimal_text(MOST_ERROR_MM)} mm: its section changes too"
        ' much along the span to be folded from flat board; let the spar run = "follow" and taper with the'
        " chord, or taper and sweep less"
    )
    return (Refusal(key=surface.key, text=text),)


def twisted(surface: Surface) -> Refusal:
    """A skin of which no flat pattern can be made at all."""
    text = (
        f'the skin of "{surface.name}" twists too much between two stations to be laid flat: sweep and taper'
        " it less, or set the stations farther apart"
    )
    return Refusal(key=surface.key, text=text)


def development_findings(surface: Surface, skins: Sequence[FlatSkin]) -> tuple[Finding, ...]:
    """The error of a flat pattern that is not exact, of the worst skin."""
    worst = max(skins, key=lambda one: round(max(one.error_mm, one.strays_mm), 6))
    error, strays = worst.error_mm, worst.strays_mm
    if error <= NOTE_MM and strays <= NOTE_MM:
        return ()
    value = f"{decimal_text(error, 2)} mm"
    return (
        Finding(
            code="skin-development",
            level=Level.NOTE,
            where=surface.key,
            text=f'laid flat, the skin of "{surface.name}" is {value} off its shape on the model, and its'
            f" lines over the spar and at the rear stray {decimal_text(strays, 2)} mm from straight ones",
            value=value,
            range=f"up to {decimal_text(MOST_ERROR_MM)} mm",
            source="worked out from the numbers given",
            mend="glue it on a flat table, or let the spar taper with the chord",
        ),
    )
