"""`briefing`: the commands, and what happens when something goes wrong."""

from __future__ import annotations

import sys
import tempfile
import traceback
from pathlib import Path

import click

from briefing import __version__
from briefing.cli.board import board
from briefing.cli.build import build
from briefing.cli.check import check
from briefing.cli.clock import clock
from briefing.cli.movements import movements
from briefing.cli.outline import outline
from briefing.cli.say import say
from briefing.cli.series import series
from briefing.cli.start import start
from briefing.cli.watch import watch

EXIT_INPUT, EXIT_USE, EXIT_MACHINE, EXIT_STOPPED = 1, 2, 3, 130


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__, prog_name="briefing")
def commands() -> None:
    r"""Turn a whiteboard workout into a timed briefing: outline, script, cue cards, filming list, handout.

    \b
    Begin with:  briefing start my-videos
                 briefing build my-videos
    """


for command in (start, check, board, clock, outline, build, watch, series, movements, say):
    commands.add_command(command)


def run() -> None:
    """Run the commands; exit 0, 1 errors in the input, 2 wrong use, 3 the machine or a bug, 130 Ctrl-C."""
    try:
        code = commands.main(standalone_mode=False)
        sys.exit(code if isinstance(code, int) else 0)
    except click.exceptions.Exit as stop:
        sys.exit(stop.exit_code)
    except click.exceptions.Abort:
        click.echo("stopped", err=True)
        sys.exit(EXIT_STOPPED)
    except KeyboardInterrupt:
        click.echo("stopped", err=True)
        sys.exit(EXIT_STOPPED)
    except click.ClickException as error:
        error.show()
        sys.exit(EXIT_USE)
    except BrokenPipeError:
        # The reader of our output went away (`| head`): nothing to say, and nobody to say it to.
        sys.stderr.close()
        sys.exit(0)
    except OSError as error:
        where = f' "{error.filename}"' if error.filename else ""
        click.echo(f"the machine says no:{where} {(error.strerror or str(error)).lower()}", err=True)
        sys.exit(EXIT_MACHINE)
    except Exception:  # noqa: BLE001 - a bug of ours: one sentence for the person, the rest in a file
        click.echo(f"something is wrong in briefing itself; what happened is written in {_log()}", err=True)
        sys.exit(EXIT_MACHINE)


def _log() -> str:
    with tempfile.NamedTemporaryFile("w", prefix="briefing-", suffix=".log", delete=False, encoding="utf-8") as log:
        log.write(f"briefing {__version__}, Python {sys.version}\n{' '.join(sys.argv)}\n\n{traceback.format_exc()}")
    return str(Path(log.name))
