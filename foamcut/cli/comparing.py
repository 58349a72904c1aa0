"""The command that holds two versions against each other: compare."""

import datetime
from pathlib import Path

import click

from foamcut.cli.options import JSON
from foamcut.cli.report import Report
from foamcut.cli.saying import DONE, REFUSED, progress


@click.command()
@click.argument("old", type=click.Path(path_type=Path))
@click.argument("new", type=click.Path(path_type=Path))
@click.option(
    "--out",
    type=click.Path(path_type=Path, file_okay=False),
    help="Folder for the sheets and templates of what is cut, and drawings of both versions.",
)
@click.option(
    "--adopt",
    type=click.Path(path_type=Path, dir_okay=False),
    help="Write NEW as its next revision to this file, with what was built drawn in.  Never overwrites.",
)
@JSON
def compare(old: Path, new: Path, out: Path | None, adopt: Path | None, as_json: bool) -> int:
    """Hold two versions against each other: what to keep, trim, extend and cut again.

    OLD and NEW are designs or packs (a folder or ZIP file); of a pack the design in it counts.
    """
    from foamcut import files, plan

    report = Report("compare", new, as_json)
    with report.refusals():
        with progress(quiet=as_json) as listener:
            versions = []
            for report.path, words in ((old, "building the old version"), (new, "building the new version")):
                listener(words)
                versions.append(plan.version(*_read(report.path)))
            found = plan.compared(*versions)
            pack = plan.remade(found, plan.Options(), listener=listener) if out else None
            revision = plan.next_revision(found, datetime.date.today().isoformat()) if adopt else None
        written = []
        if out and pack:
            files.save_pack(out, pack.files)
            written.append(f"sheets of what is cut written to {out}")
        elif out:
            written.append(f"nothing is cut: nothing is written to {out}")
        if adopt and revision is not None:
            files.save_new(adopt, revision)
            written.append(f"the next revision written to {adopt}")
        report.result(found, found.result())
        if not as_json:
            click.echo(found.screen(), nl=False)
            click.echo("\n".join((*(pack.summary if pack else ()), *written)), err=True)
            report.show_findings(found)
        return report.finish(DONE)
    return REFUSED


def _read(path: Path) -> tuple[bytes, str]:
    """A design, or the one in a pack, and what its file is called."""
    from foamcut import files, plan

    if path.suffix == ".toml" or not path.exists():
        return files.read_design(path, limit=plan.LARGEST_FILE), path.name
    pack = files.read_pack(path, limit=plan.MAX_BYTES, most=plan.MAX_FILES)
    return plan.design_of(pack, str(path)), "design.toml"
