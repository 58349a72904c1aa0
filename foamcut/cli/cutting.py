"""The command that makes the pack: cut."""

import math
import os
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import click

from foamcut.cli.interrupts import Interrupts
from foamcut.cli.options import DESIGN, JSON
from foamcut.cli.report import Report
from foamcut.cli.saying import DONE, REFUSED, say

#: longest squeeze, seconds: a day
LONGEST_SQUEEZE_S = 86400.0


@click.command()
@DESIGN
@click.option(
    "--only",
    metavar="PART,..",
    callback=lambda _context, _option, value: _names(value),
    help="Lay and draw these parts alone, to cut a spoiled one again; offcuts are used first.",
)
@click.option("--out", type=click.Path(path_type=Path, file_okay=False), help="Folder of the pack.")
@click.option(
    "--paper", type=click.Choice(["a4", "a3", "letter", "tabloid", "all"]), help="What you print on."
)
@click.option(
    "--templates",
    type=click.Choice(["part", "sheet"]),
    default="part",
    show_default=True,
    help="Tile part by part, or whole sheets.",
)
@click.option("--every-part", is_flag=True, help="Print the parts too that ruler and pencil would do.")
@click.option(
    "--dxf", type=click.Choice(["r2000", "r12"]), default="r2000", show_default=True, help="DXF version."
)
@click.option(
    "--seed", type=click.IntRange(0, 2**31 - 1), default=1, show_default=True, help="Start of the search."
)
@click.option(
    "--squeeze",
    type=float,
    metavar="SECONDS",
    callback=lambda _context, _option, value: _seconds(value),
    help="After the search go on by the clock: fewer boards, or a larger piece left.",
)
@click.option("--zip", "zipped", is_flag=True, help="Write the pack as one ZIP file too, beside its folder.")
@JSON
def cut(
    design: Path,
    only: tuple[str, ...],
    out: Path | None,
    paper: str | None,
    templates: str,
    every_part: bool,
    dxf: str,
    seed: int,
    squeeze: float | None,
    zipped: bool,
    as_json: bool,
) -> int:
    """Make the plan pack: sheets, templates, shopping list.

    Ctrl-C while boards are laid keeps the best layout so far and makes the pack of it; again, it stops.
    """
    from foamcut import files

    report = Report("cut", design, as_json)
    with report.refusals():
        options = {
            "paper": paper, "by": templates, "every_part": every_part, "dxf": dxf, "seed": seed, "only": only,
            "beside": (os.cpu_count() or 1) > 1,
        }  # fmt: skip
        with Interrupts() as interrupts:

            def work(plan: Any, data: bytes, listener: Callable[[str], None]) -> Any:
                from foamcut.plan.progress import pace_of

                pace = pace_of(squeeze, time.monotonic, lambda: interrupts.is_stopped)
                told = interrupts.listening(listener)
                return plan.cut(data, design.name, plan.Options(**options, pace=pace), listener=told)

            pack = report.run(work)
        folder = out or Path("output") / f"{files.stem_of(design.stem)}{'-only' if only else ''}"
        if only:
            _refuse_whole_pack(folder)
        archive = _archive_path(folder) if zipped else None
        files.save_pack(folder, pack.files)
        if archive:
            files.save_new(archive, pack.archive(archive.stem), replace=True)
        written = {"dir": str(folder), **({"zip": str(archive)} if archive else {})}
        report.result(pack, {**written, **pack.result()})
        if not as_json:
            click.echo("\n".join((*pack.summary, f"written to {' and '.join(written.values())}")), err=True)
            if interrupts.is_stopped:
                say("the search was cut short by Ctrl-C; left to its end it may find a better layout")
            report.show_findings(pack)
        return report.finish(DONE)
    return REFUSED


def _names(text: str | None) -> tuple[str, ...]:
    """Names of parts between commas."""
    names = tuple(dict.fromkeys(name.strip() for name in (text or "").split(",") if name.strip()))
    if text is not None and not names:
        raise click.BadParameter(f'"{text}": write names of parts, with commas between them')
    return names


def _refuse_whole_pack(folder: Path) -> None:
    """Refuse to put a pack of some parts in the place of the pack of all of them.

    Raises
    ------
    PackError
        There is one in the folder.
    """
    from foamcut import files, plan
    from foamcut.errors import PackError

    layout = folder / "layout.json"
    if layout.is_file() and not plan.is_of_some_parts(files.read_design(layout, limit=plan.MAX_BYTES)):
        raise PackError(f"{folder}: holds the pack of all parts; give another folder with --out")


def _archive_path(folder: Path) -> Path:
    """What the pack in one ZIP file is called: as its folder, and beside it.

    Raises
    ------
    PackError
        Another file of that name is there: only a pack of ours is ever replaced.
    """
    from foamcut import files, plan
    from foamcut.errors import PackError

    named = folder if folder.name.strip(".") else folder.resolve()
    path = named.with_name(f"{named.name or 'pack'}.zip")
    if path.exists() and not plan.is_pack(files.read_design(path, limit=plan.MAX_BYTES)):
        raise PackError(f"{path}: is in the way and no pack of ours; move it away")
    return path


def _seconds(value: float | None) -> float | None:
    """The seconds of a squeeze, when there can be so many."""
    if value is None or (math.isfinite(value) and 0 < value <= LONGEST_SQUEEZE_S):
        return value
    raise click.BadParameter(f"{value:g}: give a number of seconds above 0, at most {LONGEST_SQUEEZE_S:.0f}")
