"""What is out of the ordinary about the model that a body carries: dihedral, controls that nothing drives."""

from foamcut.airframe.values import Inputs, Role, Station
from foamcut.findings import Finding, Level
from foamcut.units import decimal_text

#: the dihedral that wings of models have, degrees (from memory)
_DIHEDRAL_DEG = (0.0, 10.0)


def model_advice(inputs: Inputs) -> list[Finding]:
    """Said once a model, whichever of its bodies is made."""
    return [*_dihedral(inputs), *_undriven(inputs)]


def _dihedral(inputs: Inputs) -> list[Finding]:
    """Wings that rise more than is usual, or droop: of each the first panel that does."""
    low, high = _DIHEDRAL_DEG
    found = []
    for surface in inputs.surfaces:
        if surface.role is not Role.WING:
            continue
        odd: list[Station] = [one for one in surface.stations[:-1] if not low <= one.dihedral_deg <= high]
        if not odd:
            continue
        rise = decimal_text(abs(odd[0].dihedral_deg), 1)
        droops = odd[0].dihedral_deg < 0
        found.append(
            Finding(
                code="wing-dihedral",
                level=Level.NOTE,
                where=odd[0].key,
                text=f'"{surface.name}" {"droops" if droops else "rises"} by {rise} deg',
                value=f"{decimal_text(odd[0].dihedral_deg, 1)} deg",
                range="5 to 8 deg for a model turned by its rudder alone, 0 to 5 deg with ailerons",
                source="memory",
                mend="look at its dihedral again; a tip height without a unit is read off the sketch",
            )
        )
    return found


def _undriven(inputs: Inputs) -> list[Finding]:
    """Controls that no servo's words name; "ailerons" and "left aileron" name an aileron."""
    driven = [servo.drives.casefold() for servo in inputs.servos]
    controls = [
        control
        for surface in inputs.surfaces
        for control in surface.controls
        if not any(control.word.casefold() in words for words in driven)
    ]
    if not controls:
        return []
    words = list(dict.fromkeys(control.word for control in controls))
    return [
        Finding(
            code="servo-place",
            level=Level.NOTE,
            where=controls[0].key,
            text=f"no [[servo]] drives {' or '.join(words)}: no opening is cut for one",
            value=", ".join(words),
            source="the servos given",
            mend=f'give a [[servo]] with drives = "{words[0]}" and where it sits, or find its place yourself',
        )
    ]
