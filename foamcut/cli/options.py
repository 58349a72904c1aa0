"""What several commands take."""

from pathlib import Path

import click

DESIGN = click.argument("design", type=click.Path(path_type=Path, dir_okay=False))
JSON = click.option("--json", "as_json", is_flag=True, help="Print one JSON document on standard output.")
