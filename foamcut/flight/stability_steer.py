"""What steers the model: whether anything moves its nose up and down, and turns it."""

from foamcut.findings import Finding, Level
from foamcut.flight.assumed import PRACTICE
from foamcut.flight.controls_shape import words_on
from foamcut.flight.planform import Planform
from foamcut.flight.stability_tail import Tail
from foamcut.units import mm_text

_NOSE, _TURN = ("elevator", "elevon"), ("rudder", "aileron", "elevon")
#: shares of the chord to begin with (common practice, no source)
_ELEVATOR, _RUDDER, _ELEVON = 0.3, 0.35, 0.2
#: share of the half span that ailerons take, at the tips
_OUTER = 0.4


def steering_findings(plan: Planform, tail: Tail) -> tuple[Finding, ...]:
    """Told where the nose cannot be moved up and down, or where nothing turns the model.

    Whatever moves on a V tail does both, mixed in the transmitter.
    """
    surfaces = [one.surface for one in (plan.wing, plan.tail, *plan.fins, *plan.others) if one is not None]
    words = words_on(surfaces)
    mixed = tail.vee and plan.tail is not None and bool(plan.tail.surface.controls)
    nose = mixed or any(one in words for one in _NOSE)
    turn = mixed or any(one in words for one in _TURN)
    if nose and turn:
        return ()
    if not nose and not turn:
        text = "no control surface moves: nothing steers it, and it flies as it is let go"
        mend = _nose_mend(plan) if plan.tail is None else f"{_nose_mend(plan)} and {_turn_mend(plan)}"
        return (_missing(plan, Level.WARNING, text, "none", mend),)
    if not nose:
        text = (
            f"nothing moves its nose up and down: {_only(words)}, and climb and glide are set by power and"
            " balance"
        )
        return (_missing(plan, Level.NOTE, text, ", ".join(words), _nose_mend(plan)),)
    text = f"nothing turns it: {_only(words)}"
    return (_missing(plan, Level.WARNING, text, ", ".join(words), _turn_mend(plan)),)


def _only(words: tuple[str, ...]) -> str:
    return f"only its {' and '.join(words)} {'steer' if len(words) > 1 else 'steers'} it"


def _missing(plan: Planform, level: Level, text: str, value: str, mend: str) -> Finding:
    where = plan.tail if plan.tail is not None else plan.wing
    return Finding(
        code="control-missing",
        level=level,
        where=where.surface.key,
        text=text,
        value=value,
        range="an elevator and a rudder or ailerons, or elevons",
        source=PRACTICE,
        mend=mend,
    )


def _nose_mend(plan: Planform) -> str:
    """Elevons do both: what moves on a wing without a tail is mixed."""
    if plan.tail is None:
        moved = words_on([plan.wing.surface])
        if moved:
            return f"its {moved[0]}s as elevons, [{plan.wing.surface.key}.elevon], mixed in the transmitter"
        return f"elevons {_deep_mm(plan)} deep over the outer {_outer_mm(plan)} of each half"
    return f"an elevator {mm_text(1000 * _ELEVATOR * plan.tail.mean_chord_m, 0)} deep"


def _turn_mend(plan: Planform) -> str:
    if plan.tail is None and words_on([plan.wing.surface]):
        return _nose_mend(plan)
    if plan.fins:
        return f"a rudder {mm_text(1000 * _RUDDER * plan.fins[0].mean_chord_m, 0)} deep"
    return aileron_words(plan)


def aileron_words(plan: Planform) -> str:
    """Ailerons to begin with, their depth and length."""
    return f"ailerons {_deep_mm(plan)} deep over the outer {_outer_mm(plan)} of each half"


def _deep_mm(plan: Planform) -> str:
    return mm_text(1000 * _ELEVON * plan.wing.mean_chord_m, 0)


def _outer_mm(plan: Planform) -> str:
    return mm_text(_OUTER * plan.wing.surface.half_span_mm, 0)
