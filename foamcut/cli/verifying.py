"""The command that looks a pack over: verify."""

from pathlib import Path

import click

from foamcut.cli.options import JSON
from foamcut.cli.report import Report
from foamcut.cli.saying import DONE, REFUSED, say


@click.command()
@click.argument("pack", type=click.Path(path_type=Path))
@JSON
def verify(pack: Path, as_json: bool) -> int:
    """Say what a pack is (a folder or ZIP file), and whether it is whole and true."""
    from foamcut import files, plan

    report = Report("verify", pack, as_json)
    with report.refusals():
        read = plan.verified(files.read_pack(pack, limit=plan.MAX_BYTES, most=plan.MAX_FILES), str(pack))
        faults = [{"file": fault.file, "text": fault.text} for fault in read.faults]
        report.document["design"] = {"name": read.name, "revision": read.revision, "sha256": read.sha256}
        report.document["result"] = {"whole": read.whole, "faults": faults}
        if not as_json:
            click.echo(read.sentence)
            for fault in read.faults:
                say(f"{fault.file}: {fault.text}")
        return report.finish(DONE if read.whole else REFUSED)
    return REFUSED
