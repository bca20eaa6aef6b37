"""`briefing`: the commands, and what happens when something goes wrong."""

from __future__ import annotations

import sys
import tempfile
import traceback
from importlib import import_module
from pathlib import Path

import click

from briefing import __version__
from briefing.sources.head import nearest

EXIT_INPUT, EXIT_USE, EXIT_MACHINE, EXIT_STOPPED = 1, 2, 3, 130


# Each command's module is imported when the command is asked for: a coach who checks a board does not wait for the DOCX writer.
COMMANDS: dict[str, str] = {
    "start": "briefing.cli.start",
    "check": "briefing.cli.check",
    "board": "briefing.cli.board",
    "clock": "briefing.cli.clock",
    "outline": "briefing.cli.outline",
    "build": "briefing.cli.build",
    "watch": "briefing.cli.watch",
    "series": "briefing.cli.series",
    "movements": "briefing.cli.movements",
    "movement": "briefing.cli.movement",
    "say": "briefing.cli.say",
    "pace": "briefing.cli.pace",
    "review": "briefing.cli.review",
}


class _Commands(click.Group):
    """The commands by name, each loaded when it is needed."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        del ctx
        return [*COMMANDS]

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        del ctx
        module = COMMANDS.get(cmd_name)
        if module is None:
            return None
        found = getattr(import_module(module), cmd_name)
        assert isinstance(found, click.Command)  # noqa: S101 - the table above names commands
        return found

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        if args and args[0] not in COMMANDS and not args[0].startswith("-"):
            near = nearest(args[0], COMMANDS)
            ctx.fail(f'there is no command "{args[0]}"' + (f"; try {near}" if near else ""))
        return super().resolve_command(ctx, args)


@click.command(cls=_Commands, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__, prog_name="briefing")
def commands() -> None:
    r"""Turn a whiteboard workout into a timed briefing: outline, script, cue cards, filming list, handout.

    \b
    Begin with:  briefing start my-videos
                 briefing build my-videos
    """


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
