"""The program: its commands by name, each one's module imported only when it is called."""

from __future__ import annotations

import importlib

import click

from finishsched.cli.beside import QUIET, VERBOSE, take_beside
from finishsched.cli.commands import COMMANDS as COMMANDS  # noqa: PLC0414  # also asked for here
from finishsched.cli.commands import GROUPS, more_about
from finishsched.cli.commands import TOPICS as TOPICS  # noqa: PLC0414  # also asked for here
from finishsched.cli.working import tell_of


class LazyCommands(click.Group):
    """A group that knows its commands' names and summaries without importing them."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002  # click's signature
        """Return the names in the order of the day's work."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Import one command."""
        if cmd_name not in COMMANDS:
            return None
        module = importlib.import_module(f"finishsched.cli.{COMMANDS[cmd_name].module}")
        command = module.command
        assert isinstance(command, click.Command)  # noqa: S101
        command.epilog = more_about(cmd_name)
        tell_of(cmd_name, command)
        take_beside(cmd_name, command)
        if ctx.resilient_parsing:
            from finishsched.cli.completing import completed

            completed(cmd_name, command)
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Find the command, or say which one was near."""
        if args[0] in COMMANDS or args[0].startswith("-"):
            return super().resolve_command(ctx, args)
        from finishsched.near import nearest
        from finishsched.workshop.base.entries import What

        near = nearest(args[0], COMMANDS)
        remedy = f"did you mean {near!r}?" if near else "see finishsched --help"
        if args[0] in list(What):
            remedy = f"what happened to a piece is logged: finishsched log PIECE {args[0]}"
        raise click.UsageError(f"no command {args[0]!r}; {remedy}", ctx)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:  # noqa: ARG002
        """List the commands by what a person wants, from the table, so that help stays quick."""
        wide = max(map(len, COMMANDS))
        for group in GROUPS:
            within = [(name, entry) for name, entry in COMMANDS.items() if entry.group == group]
            with formatter.section(group.capitalize()):
                formatter.write_dl([(f"{name:{wide}}", entry.summary) for name, entry in within])

    def shell_complete(
        self, ctx: click.Context, incomplete: str
    ) -> list[click.shell_completion.CompletionItem]:
        """Complete a command's name with its summary, without importing any."""
        from click.shell_completion import CompletionItem

        found = [
            CompletionItem(name, help=entry.summary)
            for name, entry in COMMANDS.items()
            if name.startswith(incomplete)
        ]
        return [*found, *click.Command.shell_complete(self, ctx, incomplete)]


@click.command(
    cls=LazyCommands,
    invoke_without_command=True,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
    epilog="Without a command it opens the bench on the shop found from here. "
    "finishsched help lists the pages of the handbook. "
    "-q and --verbose may stand after a command too.",
)
@click.option("--version", is_flag=True, is_eager=True, help="Say the version and what it runs on.")
@click.option("--shop", metavar="DIR", help="The shop folder to work in.")
@click.option("-q", "--quiet", is_flag=True, help="No notices and no progress beside the answer.")
@click.option("--verbose", is_flag=True, help="Say which files are worked with.")
@click.pass_context
def program(
    ctx: click.Context, version: bool, shop: str | None, quiet: bool, verbose: bool
) -> None:
    """Finish wooden objects by hand: schedules, mixing, cure clocks, and a record of every coat."""
    ctx.meta["finishsched.shop"] = shop
    ctx.meta[QUIET] = quiet
    ctx.meta[VERBOSE] = verbose
    if version:
        from finishsched.cli.outgoing import say
        from finishsched.cli.version import version_lines

        for line in version_lines():
            say(line)
        return
    if ctx.invoked_subcommand is None:
        from finishsched.cli.open_bench import command

        take_beside("bench", command)
        ctx.invoke(command, shop=shop, as_json=False)
