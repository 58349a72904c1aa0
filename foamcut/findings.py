"""Advice about a design that can be built: a finding has a code, a level and a place."""

from dataclasses import dataclass
from enum import Enum


class Level(Enum):
    """How much a finding matters: `check` exits with 1 on a stop."""

    NOTE = "note"
    WARNING = "warning"
    STOP = "stop"


#: every code a finding may carry, with what it is about
CODES: dict[str, str] = {
    "no-place": "a part without a place on the model",
    "narrow-web": "little material left between two cuts, or between a cut and the edge",
    "thin-slot": "a slot whose width is close to the narrowest that can be cut",
    "tab-without-slot": "a tab that no slot takes, or a slot with no tab of its length",
    "offcut-outline": "an offcut whose outline crosses itself or bounds nothing",
    "offcut-no-room": "an offcut that has no room inside its margin",
    "stock-unused": "a stock in the design that no part uses",
    "letters-missing": "letters that the font of the pack does not have",
    "laser-foam": "foam board under a laser",
    "roll-tight": "a roll tighter than the board will take without creasing",
    "hinge-square": "a hinge whose edge is not bevelled",
    "panels-clash": "panels of a folded part that pass through each other",
    "panels-apart": "edges of a folded part that should meet and do not",
    "joined": "a part that is cut in sections, and where it is cut and doubled",
    "whole-at-an-angle": "a joined part that would lie whole if it might be turned freely",
    "joint-unneeded": "a joint in a part that would lie whole",
    "joint-saves": "a part that would lie whole and is cut in two to save a board",
    "joints-not-staggered": "joints of left and right closer to each other than a doubler",
    "joint-short": "doublers that reach less far over a joint than they should",
    "doubler-outside": "a doubler on the outer face of a part",
    "skin-bend": "an unscored upper skin that lifts off its spar, or bends more tightly than board will",
    "skin-section": "a folded surface whose thickness at the spar is not that of its strips and skins",
    "skin-two": "a folded surface made of two skins, because one sheet would be wider than the board",
    "skin-joined": "a skin longer than its board, and where it is joined",
    "skin-development": "a flat pattern whose edges differ from those on the model",
    "joiner-off": "a joiner that does not lie against its spar",
    "halves-apart": "halves of a surface that nothing joins but tape",
    "fin-root": "the root of a fin: nothing it can stand on, or another line than that of its root",
    "wing-dihedral": "a wing that rises more than is usual, or droops",
    "balance-off": "a balance that lies off the chord where it would be marked",
    "control-place": "a control surface that is out of the ordinary: its size, its place, its bevel",
    "propeller-close": "a propeller disc close to something that it must not touch",
    "motor-mount": "a motor mount that leaves something to the builder",
    "thrust-line": "a turned thrust line: what is moved and what is put under the motor",
    "fit-tab": "a tab that misses its slot on the model, or a slot with nothing in it",
    "fit-former": "a former that does not lie against the panels it stands between",
    "fit-saddle": "a saddle that does not lie against the wing",
    "fit-through": "parts that pass through each other on the model",
    "fit-halves": "halves of a model that are not alike",
    "body-panel": "a panel of a body that is out of the ordinary",
    "servo-place": "a servo that has no room, or lies over something",
    "tail-volume": "a stabiliser that is small or large for its wing",
    "fin-volume": "fins that are small or large for their wing, or none",
    "incidence": "a wing set at an unusual angle above or below its stabiliser",
    "spiral": "a wing whose dihedral does not bring it back to level",
    "roll-authority": "a model without ailerons that its rudder banks weakly",
    "elevator-power": "an elevator that cannot hold the wing at its highest lift",
    "control-missing": "nothing moves the nose, or nothing turns the model",
    "throw-size": "a control surface that moves far more or far less than is usual",
    "control-size": "a control surface that is large or small for what carries it",
    "wing-loading": "a model that is heavy or light for its wing",
    "reynolds-low": "a wing so narrow and slow that measurements of sections are few",
    "registration-weight": "a weight near which rules often change",
    "wing-bending": "a wing that bends or breaks more easily than the load factor asks for",
    "joiner-stress": "what carries a wing over the gap between its halves: joiner, or tape alone",
    "joiner-short": "a joiner that reaches less far into the halves than is usual",
    "planform": "a wing or stabiliser of an unusual shape, or one that some numbers leave out",
    "static-margin": "a balance behind the neutral point, hardly ahead of it, or far ahead of it",
    "no-tail": "a model without a stabiliser: what holds its nose up, and where it is balanced",
    "foreplane": "a stabiliser before the wing: its angle, and where the model is balanced",
    "balance-target": "a balance that lies off its target, and what brings it there",
    "balance-wish": "a target of the balance that would not be stable, or would be heavy in the nose",
    "bare-model": "a design that does not say what it carries",
    "paint-weight": "paint that weighs much or moves the balance",
    "balance-mark": "a balance marked on the wing elsewhere than its target",
    "balance-side": "a balance beside the centre plane",
    "mass-no-place": "weight whose place is not known",
    "balance-places": "more ways to place things than are tried",
    "outside-body": "a thing aboard that lies outside the body",
    "aboard-room": "a thing aboard that is too high or too wide for where it sits",
    "aboard-through": "a thing aboard that goes through a former, a dowel or another thing",
    "slides-through": "a way along which a thing aboard meets something",
    "slides-place": "a way along that does not hold the place at which a thing is drawn",
    "aboard-opening": "a battery for which no opening is long enough",
    "aboard-size": "a battery whose size is not given",
    "mass-assumed": "a stock or battery that was not weighed, and what is taken for it",
    "mass-missing": "a thing or a stock whose mass is not known: it is left out of the sums",
    "motor-twice": "a motor that is carried although its mount has one",
    "weighed-differs": "a model on the scales beside the sum of all that is counted",
    "hardware-unweighed": "what is bought besides, which has no mass in a design",
    "power-unknown": "thrust, currents or flight time that the numbers given do not tell",
    "thrust-weight": "static thrust that is little for the weight",
    "pitch-speed": "a propeller whose pitch is little for the stall speed",
    "propeller-match": "a propeller that takes another power than its motor is given",
    "current-limit": "a current over or near what a motor, speed control or battery bears",
    "flight-short": "a battery that is empty soon",
    "motor-out": "one failed motor of several: how the rudder holds it",
    "launch": "how the model is brought into the air",
    "motors-unlike": "motors or propellers of one model that are not alike",
    "motors-turn": "propellers of a pair that turn the same way",
    "speed-controls-unlike": "speed controls of motors that belong together, and are not alike",
    "supplies-joined": "receiver supplies of several speed controls that meet, or may meet, at the receiver",
    "receiver-pack": "which pack keeps the receiver alive, and what stops when it is empty",
    "packs-unlike": "packs that work together and are not alike",
    "leads-unlike": "leads of both sides that are not as long as each other",
    "packs-alone": "packs that are said to be apart, and there is one alone",
    "feeds-nothing": "a speed control that no motor is left for",
    "receiver-missing": "servos without a receiver",
    "lead-short": "a lead that does not reach from where things are",
    "lead-long": "a battery lead that is long for a speed control's capacitors",
    "connector-hidden": "what cannot be plugged in with the wing on",
    "no-wing": "a design without a wing, which has weight and balance alone",
    "as-built": "a value that was built otherwise than drawn",
    "kerf-gap": "a kerf wider than the gap or margin leaves room for",
    "kerf-fills": "places of a part that are narrower than the kerf",
    "beyond-bed": "pieces larger than the bed of the machine, to be cut by hand",
    "back-beyond-bed": "cuts on the face behind of pieces that lie on a bed",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One piece of advice.

    `where` is the key in the design; `value`, `range` and `source` are words, empty where there are none;
    `mend` says what to do.
    """

    code: str
    level: Level
    where: str
    text: str
    value: str = ""
    range: str = ""
    source: str = ""
    mend: str = ""

    def __post_init__(self) -> None:
        if self.code not in CODES:
            raise ValueError(f"unknown finding code {self.code!r}")


#: stands at the end of every list of findings
CLOSING_WORDS = (
    "Nothing listed is not a clearance: these are estimates from the numbers given. "
    "Have someone experienced look the model over, and follow the rules of your place."
)
