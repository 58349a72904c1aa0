"""Every part of two versions: keep, trim, extend, cut again, new or gone."""

from collections.abc import Sequence

from foamcut.compare.values import Compared
from foamcut.flat.part import Part


def compared_parts(old: Sequence[Part], new: Sequence[Part]) -> tuple[Compared, ...]:
    """A verdict on each part, those of the new version in their order, then what is gone."""
    raise NotImplementedError
