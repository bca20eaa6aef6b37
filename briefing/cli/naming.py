"""Commands that name their arguments: `--help` says what each is, and shows one example that works."""

from __future__ import annotations

from typing import Any

import click


class Named(click.Argument):
    """An argument with a sentence that says what it is."""

    def __init__(self, *args: Any, what: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.what = what


class Command(click.Command):
    """A command whose help has its arguments first, then its options, then one example."""

    def __init__(self, *args: Any, example: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.example = example

    def format_options(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write the arguments, then the options."""
        named = [(p.make_metavar(ctx), p.what) for p in self.params if isinstance(p, Named)]
        if named:
            with formatter.section("Arguments"):
                formatter.write_dl(named)
        super().format_options(ctx, formatter)

    def format_epilog(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write the example, in one line that can be copied."""
        del ctx
        formatter.write_paragraph()
        formatter.write(f"Example:  {self.example}\n")
