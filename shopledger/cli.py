"""The command line: what can be asked of a ledger without a window, and the ways to open one.

Each command imports what it needs when it runs, so that help and a reckoning come at once. Whatever is refused is one
sentence on standard error.
"""

from __future__ import annotations

import io
import os
import sys
from collections.abc import Sequence
from pathlib import Path

import click

from shopledger import __version__
from shopledger.quantities.errors import LedgerError, Refused, Trouble
from shopledger.quantities.words import N_, _

OK = 0
NOT_DONE = 1
UNUSABLE = 2
FAULT = 3
INTERRUPTED = 130

TRACE = "SHOPLEDGER_TRACE"
"""The variable that, set to anything, has a fault of the program shown with its whole trace."""

DEMO_LEDGER = "demo.ledger"
_DEMO_PARTS = (DEMO_LEDGER, f"{DEMO_LEDGER}-journal", f"{DEMO_LEDGER}.files", "papers")


class LedgerName(click.ParamType[str]):
    """Where a ledger is: a file that exists, or the address of a PostgreSQL database."""

    name = "ledger"

    def convert(self, value: str, param: click.Parameter | None, ctx: click.Context | None) -> str:
        """Give the name back once it is sure that there is such a file, or that it is an address."""
        if "://" not in value and not Path(value).is_file():
            self.fail(_("there is no ledger “{name}”; name an existing file.").format(name=value), param, ctx)
        return value


def run(arguments: Sequence[str]) -> int:
    """Do what the arguments ask for and give the exit status; what is refused is told in a sentence.

    Shape:  0 done; 1 not done, or `prove` found something wrong; 2 what was typed, or the file, is unusable; 3 a
            fault of the program; 130 stopped by hand.
    """
    _make_streams_safe()
    try:
        status = shopledger.main(args=list(arguments), prog_name="shopledger", standalone_mode=False)
        sys.stdout.flush()
    except click.ClickException as error:
        return _say(_plain_sentence(error), UNUSABLE)
    except (click.Abort, KeyboardInterrupt):
        return _say(_("Stopped. Nothing that was begun is half done."), INTERRUPTED)
    except LedgerError as error:
        return _say(error.sentence(), NOT_DONE)
    except BrokenPipeError:
        # Whoever read the output has gone; Python must not trip over it again when it closes the stream.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return NOT_DONE
    except OSError as error:
        what = error.strerror or str(error)
        named = _(" ({name})").format(name=error.filename) if error.filename else ""
        return _say(_("It can't be done: {what}{named}.").format(what=what, named=named), NOT_DONE)
    except Exception as error:
        if os.environ.get(TRACE):
            raise
        return _say(_fault_sentence(error), FAULT)
    return status if isinstance(status, int) else OK


def _make_streams_safe() -> None:
    """Let a letter that the terminal lacks be written as its number, instead of ending the program."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")


def _fault_sentence(error: Exception) -> str:
    """Tell where the program failed, without any value, since values may be personal."""
    trace = error.__traceback__
    while trace is not None and trace.tb_next is not None:
        trace = trace.tb_next
    place = f"{Path(trace.tb_frame.f_code.co_filename).name}:{trace.tb_lineno}" if trace else "?"
    return _(
        "This is a fault of the program, not yours ({kind} at {place}). Nothing half done was kept."
        " With {variable}=1 it shows the whole trace, for whoever mends it."
    ).format(kind=type(error).__name__, place=place, variable=TRACE)


def _say(sentence: str, status: int) -> int:
    """Print a sentence on standard error and give the status back."""
    click.echo(sentence, err=True)
    return status


def _plain_sentence(error: click.ClickException) -> str:
    """Give click's refusal as one sentence that names the command and where its help is."""
    context = error.ctx if isinstance(error, click.UsageError) else None
    command = context.command_path if context else "shopledger"
    said = " ".join(error.format_message().split())
    said = said.replace("?.", "?") if said.endswith((".", ")", "?")) else f"{said}."
    return _("{command}: {said} See: {command} --help").format(command=command, said=said)


@click.group(
    invoke_without_command=True,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
    help=_(
        "The shop ledger keeps whose each instrument is, where it is, what was promised, and what is owed."
        "\n\nWithout a command it opens the last ledger in the window."
    ),
    epilog=_("A ledger is a file, or a PostgreSQL database named as postgresql://user@host/name."),
)
@click.version_option(__version__, message="shopledger %(version)s", help=_("Print the version and stop."))
@click.pass_context
def shopledger(context: click.Context) -> int:
    """Open the last ledger where no command is named."""
    return OK if context.invoked_subcommand else _open_window(None)


@shopledger.command(
    name="open", short_help=_("Open a ledger in the window."), help=_("Open LEDGER in the window.")
)
@click.argument("ledger", type=LedgerName())
def open_ledger(ledger: str) -> int:
    """Open the named ledger in the window."""
    return _open_window(ledger)


def _open_window(ledger: str | None) -> int:
    """Open the window, or refuse where nobody would see it."""
    from shopledger.screen import has_screen, open_window

    if not has_screen(os.environ):
        raise Refused(
            N_(
                "There is no screen here, so the window can't open. Without one there are {commands}; see {help}."
            ),
            commands="demo, reckon, strings, materials, custody, paper, prove, export",
            help="shopledger --help",
        )
    return open_window(ledger)


@shopledger.command(
    short_help=_("Build the example shop and look round it."),
    help=_(
        "Build the example shop: an invented maker's two years, with its papers as PDF."
        "\n\nIt prints the figures of one sale and opens the window where there is a screen. An example shop that was"
        " built there before is made anew; anything else is left alone."
    ),
)
@click.option(
    "--at",
    "directory",
    type=click.Path(file_okay=False, path_type=Path),
    default=Path("demo-shop"),
    show_default=True,
    metavar="DIR",
    help=_("The folder to build it in."),
)
@click.option("--no-window", is_flag=True, help=_("Leave the window closed."))
def demo(directory: Path, no_window: bool) -> int:
    """Build the example shop, print what it holds, and open it where there is a screen."""
    _make_room(directory)
    from shopledger.example.building import build
    from shopledger.screen import has_screen, open_window

    built = build(directory)
    for line in built.summary_lines():
        click.echo(line)
    if no_window:
        return OK
    ledger = str(directory / DEMO_LEDGER)
    if not has_screen(os.environ):
        click.echo(
            _("There is no screen here, so the window stays closed. On one: {command}").format(
                command=f"shopledger open {ledger}"
            )
        )
        return OK
    sys.stdout.flush()
    try:
        return open_window(ledger)
    except Trouble as trouble:
        # The shop is built and its figures are printed; only the look at it is missing.
        return _say(trouble.sentence(), OK)


def _make_room(directory: Path) -> None:
    """Take away an example shop that was built there before; refuse where anything else is in the way."""
    if not directory.exists() or not any(directory.iterdir()):
        return
    if not (directory / DEMO_LEDGER).is_file():
        raise Refused(
            N_("“{folder}” holds files that are no example shop. Name an empty or a new folder with --at."),
            folder=str(directory),
        )
    import shutil

    for name in _DEMO_PARTS:
        part = directory / name
        if part.is_dir() and not part.is_symlink():
            shutil.rmtree(part)
        else:
            part.unlink(missing_ok=True)


case_file = click.argument("file", type=click.Path(exists=True, dir_okay=False, allow_dash=True))
"""The argument of every command that answers written cases."""


@shopledger.command(
    short_help=_("Work out how one sale is split."),
    help=_(
        "Work out how one sale is split, from the facts in FILE (JSON; - for standard input)."
        "\n\nFILE holds one case or a list of cases; README.md shows the shape."
    ),
)
@case_file
@click.option("--json", "as_json", is_flag=True, help=_("Answer in JSON, amounts as decimal strings."))
def reckon(file: str, as_json: bool) -> int:
    """Print the statement of a sale, or refuse in one line."""
    from shopledger.rules.case_file import answer_file
    from shopledger.rules.reckon_file import RECKONING

    return answer_file(RECKONING, file, as_json, sys.stdout, sys.stderr)


@shopledger.command(
    short_help=_("Work out what strings pull and press on the bridge."),
    help=_(
        "Work out the tension of strings and their load on the bridge, and what reaches a wanted load or tension, from"
        " the facts in FILE (JSON; - for standard input)."
        "\n\nFILE holds one case or a list of cases; README.md shows the shape."
    ),
)
@case_file
@click.option(
    "--json", "as_json", is_flag=True, help=_("Answer in JSON, figures in the units of their names.")
)
def strings(file: str, as_json: bool) -> int:
    """Print what a set of strings does, or refuse in one line."""
    from shopledger.rules.case_file import answer_file
    from shopledger.rules.strings_file import STRINGS

    return answer_file(STRINGS, file, as_json, sys.stdout, sys.stderr)


@shopledger.command(
    short_help=_("Tell what papers protected materials may need."),
    help=_(
        "Tell what papers the materials of an instrument or bow may need for a sale, a loan, a repair or a trip on a"
        " day, from the facts in FILE (JSON; - for standard input). General information, not advice."
        "\n\nFILE holds one case or a list of cases; README.md shows the shape."
    ),
)
@case_file
@click.option("--json", "as_json", is_flag=True, help=_("Answer in JSON."))
def materials(file: str, as_json: bool) -> int:
    """Print what papers each part may need, or refuse in one line."""
    from shopledger.rules.case_file import answer_file
    from shopledger.rules.materials_file import MATERIALS

    return answer_file(MATERIALS, file, as_json, sys.stdout, sys.stderr)


@shopledger.command(
    short_help=_("Tell what is wrong in a ledger, changing nothing."),
    help=_(
        "Go through the whole of LEDGER and tell what is wrong in it, changing nothing."
        "\n\nExit status: 0 nothing is wrong; 1 something is, and is named; 2 it can't be read."
    ),
)
@click.argument("ledger", type=LedgerName())
@click.option("--json", "as_json", is_flag=True, help=_("Answer in JSON."))
def prove(ledger: str, as_json: bool) -> int:
    """Prove the ledger and print what is wrong in it."""
    from shopledger.store.prove import prove as prove_ledger

    try:
        wrong = prove_ledger(ledger)
    except LedgerError as error:
        return _say(error.sentence(), UNUSABLE)
    if as_json:
        import json

        found = [{"what": one.what, "where": one.where, "says": one.says} for one in wrong]
        click.echo(json.dumps({"ok": not wrong, "wrong": found}, ensure_ascii=False, indent=2))
    elif wrong:
        for one in wrong:
            click.echo(f"{one.where}: {one.says}")
    else:
        click.echo(_("Nothing is wrong in {ledger}.").format(ledger=ledger))
    return NOT_DONE if wrong else OK


@shopledger.command(
    short_help=_("Tell what is in custody, and who insures it."),
    help=_(
        "Print the schedule of goods in custody of LEDGER for the evening of a day, today if none is named: own,"
        " consigned, in repair, on trial, elsewhere; values, and totals by who insures. Nothing is changed."
    ),
)
@click.argument("ledger", type=LedgerName())
@click.option("--on", "on", metavar="DAY", help=_("The day, as 2026-03-04."))
@click.option(
    "--csv",
    "file",
    type=click.Path(dir_okay=False, allow_dash=True),
    metavar="FILE",
    help=_("Write it for a spreadsheet instead; - for standard output."),
)
def custody(ledger: str, on: str | None, file: str | None) -> int:
    """Print what is in custody on a day, or write it for a spreadsheet."""
    from shopledger.quantities.errors import Typed
    from shopledger.queries.custody_schedule import schedule_of, statement

    try:
        facts = schedule_of(ledger, on)
    except Typed as error:
        return _say(error.sentence(), UNUSABLE)
    if file is None:
        for line in statement(facts):
            click.echo(line)
        return OK
    from shopledger.papers.custody_list import as_csv

    with click.open_file(file, "wb") as out:
        out.write(as_csv(facts))
    if file != "-":
        click.echo(_("Written to {file}.").format(file=file))
    return OK


@shopledger.command(
    short_help=_("Compare a sheet of paper with a ledger."),
    help=_(
        "Tell which paper of LEDGER a sheet is, and whether the facts it was issued with are those that the ledger"
        " keeps. MARK is the text that a scanner reads from the square code at the sheet's foot. Nothing is changed."
        "\n\nExit status: 0 it matches; 1 it doesn't, or there is no such paper; 2 the text or the ledger can't be"
        " read."
    ),
)
@click.argument("ledger", type=LedgerName())
@click.argument("mark", nargs=-1, required=True)
@click.option("--json", "as_json", is_flag=True, help=_("Answer in JSON."))
def paper(ledger: str, mark: tuple[str, ...], as_json: bool) -> int:
    """Compare a sheet of paper with the ledger and print what was found."""
    from shopledger.queries.compared import compare

    try:
        # The text has blanks in it, and is taken without quotes too.
        found = compare(ledger, " ".join(mark))
    except LedgerError as error:
        return _say(error.sentence(), UNUSABLE)
    if as_json:
        import json
        from dataclasses import asdict

        click.echo(json.dumps(asdict(found), ensure_ascii=False, indent=2, default=str))
    else:
        click.echo(found.says)
    return OK if found.matches else NOT_DONE


@shopledger.command(
    short_help=_("Write a whole ledger in open formats."),
    help=_(
        "Write the whole of LEDGER in open formats: a CSV a table, the journal, the papers, and a list of all"
        " files with their SHA-256."
    ),
)
@click.argument("ledger", type=LedgerName())
@click.option(
    "--out",
    "directory",
    type=click.Path(file_okay=False, path_type=Path),
    required=True,
    metavar="DIR",
    help=_("The folder to write to: a new or an empty one."),
)
def export(ledger: str, directory: Path) -> int:
    """Write the ledger in open formats and say where."""
    from shopledger.store.export import export as export_ledger

    written = export_ledger(ledger, directory)
    click.echo(_("Written to {folder}.").format(folder=written))
    return OK
