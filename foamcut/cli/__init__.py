"""The command line: words, progress, exit codes.  Everything else is in `plan` and `files`.

Only click is imported at the top, so that help comes at once.
"""

import contextlib
import gc
import os
import sys
from typing import NoReturn

import click

from foamcut import __version__
from foamcut.cli.comparing import compare
from foamcut.cli.cutting import cut
from foamcut.cli.looking import balance, check
from foamcut.cli.making import new, schema
from foamcut.cli.saying import DONE, INTERRUPTED, REFUSED
from foamcut.cli.verifying import verify


def main() -> NoReturn:
    """Run a command and leave at once: to take apart what it has made would take a moment for nothing."""
    # nearly all of it is kept to the end: to look for the rest as often as is usual is a tenth of the time
    gc.set_threshold(200_000, 20, 100)
    code = run()
    for stream in filter(None, (sys.stdout, sys.stderr)):
        with contextlib.suppress(OSError, ValueError):  # nobody is left to be told
            stream.flush()
    os._exit(code)


def run() -> int:
    """Run a command; the exit code, as the README's section on them says."""
    try:
        code = commands.main(standalone_mode=False)
    except click.exceptions.Abort:
        click.echo("interrupted; the pack in the folder is whole: the one before, or the new one", err=True)
        code = INTERRUPTED
    except click.ClickException as err:
        err.show()
        code = err.exit_code
    except BrokenPipeError:
        # whoever reads our output has had enough: let Python's own flush at exit find an open end
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        code = DONE
    except OSError as err:
        click.echo(f"the output cannot be written: {(err.strerror or str(err)).lower()}", err=True)
        code = REFUSED
    return code if isinstance(code, int) else DONE


@click.group(
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
    epilog="Begin with: foamcut new my-plane.toml",
)
@click.version_option(__version__, prog_name="foamcut")
def commands() -> None:
    """From the few numbers of a scaled sketch to flat foam-board parts that can be cut."""


for _command in (new, check, balance, cut, compare, verify, schema):
    commands.add_command(_command)
