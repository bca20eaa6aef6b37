"""`briefing`: the commands, and what happens when something goes wrong."""

from __future__ import annotations

import contextlib
import os
import sys
from importlib import import_module

import click

from briefing import __version__
from briefing.cli.showing import CODES, show_problems
from briefing.cli.trouble import EXIT_INPUT, EXIT_STOPPED, EXIT_USE, said_of
from briefing.problems import Stop, plain
from briefing.sources.guard import is_text
from briefing.sources.head import nearest

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

    def format_epilog(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write how to begin, in lines that can be copied."""
        del ctx
        formatter.write_paragraph()
        formatter.write("Begin with:  briefing start my-videos\n")
        formatter.write("      then:  briefing build my-videos\n")

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        del ctx
        module = COMMANDS.get(cmd_name)
        if module is None:
            return None
        found = getattr(import_module(module), cmd_name)
        assert isinstance(found, click.Command)  # noqa: S101 - the table above names commands
        return _with_codes(found)

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        if args and args[0] not in COMMANDS and not args[0].startswith("-"):
            near = nearest(args[0], COMMANDS)
            ctx.fail(f'there is no command "{args[0]}"' + (f"; try {near}" if near else ""))
        return super().resolve_command(ctx, args)


def _with_codes(command: click.Command) -> click.Command:
    """Give a command that knows `--codes`, and so do the commands in it."""
    for one in command.commands.values() if isinstance(command, click.Group) else (command,):
        if not any(p.name == "codes" for p in one.params):
            one.params.append(
                click.Option(
                    ["--codes"],
                    is_flag=True,
                    expose_value=False,
                    callback=lambda _context, _option, asked: CODES.set(bool(asked)) and None,
                    help="Show the code of what needs attention, too, for whoever reports a mistake of ours.",
                )
            )
    return command


@click.command(cls=_Commands, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__, prog_name="briefing")
def commands() -> None:
    """Turn a whiteboard workout into a timed briefing: outline, script, cue cards, filming list, handout."""


def run() -> None:
    """Run the commands; exit 0, 1 errors in the input, 2 wrong use, 3 the machine or a bug, 130 Ctrl-C."""
    try:
        if odd := next((a for a in sys.argv[1:] if not is_text(a)), None):
            click.echo(f'"{plain(odd)}" is a name that is no text here; give the file or folder another one', err=True)
            sys.exit(EXIT_INPUT)
        code = commands.main(prog_name="briefing", standalone_mode=False)
        sys.stdout.flush()
        sys.exit(code if isinstance(code, int) else 0)
    except click.exceptions.Exit as stop:
        sys.exit(stop.exit_code)
    except (click.exceptions.Abort, KeyboardInterrupt):
        click.echo("stopped", err=True)
        sys.exit(EXIT_STOPPED)
    except click.ClickException as error:
        click.echo(plain(_wrong_use(error)), err=True)
        sys.exit(EXIT_USE)
    except BrokenPipeError:
        # The reader of our output went away (`| head`): nothing to say, and nobody to say it to.
        _close_output()
        sys.exit(0)
    except Stop as stop:
        show_problems(stop.problems)
        sys.exit(EXIT_INPUT)
    except Exception as error:  # noqa: BLE001 - one sentence for the person, whatever it was
        words, status = said_of(error)
        try:
            click.echo(words, err=True)
        except (OSError, ValueError):
            _close_output()
        sys.exit(status)


def _wrong_use(error: click.ClickException) -> str:
    """Say what was wrong in the use of a command, and where its help stands."""
    words = error.format_message()
    context = getattr(error, "ctx", None)
    return f"{words}\nHow it is used: {context.command_path} --help" if context is not None else words


def _close_output() -> None:
    """Leave nothing for Python to write when it ends."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    for stream in (sys.stdout, sys.stderr):
        with contextlib.suppress(OSError, ValueError):
            os.dup2(nowhere, stream.fileno())
