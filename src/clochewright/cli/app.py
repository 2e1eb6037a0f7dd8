"""Commands and their options. Everything heavy is imported inside a command, so that --help answers at once."""

from __future__ import annotations

import io
import sys
from pathlib import Path
from typing import Annotated, Literal

import typer

from clochewright.errors import ClochewrightError

# Exit codes: 0 done, 1 the plan was read but can't be built, 2 something given to us is wrong.
NOT_BUILT, BAD_INPUT = 1, 2

app = typer.Typer(
    help="Works out, draws and prints knock-down covers for raised beds: from a bed's size to a build that closes.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
)

PlanFile = Annotated[Path, typer.Argument(help="The plan file.", show_default=False)]


@app.command("plan")
def plan_command(
    plan_file: PlanFile,
    out: Annotated[Path | None, typer.Option("--out", "-o", help="Folder to write the job into.")] = None,
    paper: Annotated[
        Literal["auto", "a4", "letter"],
        typer.Option(help="Paper of the booklet; auto takes letter for inches, A4 for millimetres."),
    ] = "auto",
    notes: Annotated[bool, typer.Option("--notes", help="Show every note here as well.")] = False,
) -> None:
    """Work out the whole job from a plan file: cuts, shopping list, drawings and booklet."""
    from clochewright.cli.plan_command import plan_job

    raise typer.Exit(0 if plan_job(plan_file, out, paper, all_notes=notes) else NOT_BUILT)


@app.command("new")
def new_command(
    file: Annotated[Path, typer.Argument(help="Plan file to write.", show_default=False)],
    length: Annotated[str | None, typer.Option(help='Length of the bed, such as "8 ft".')] = None,
    width: Annotated[str | None, typer.Option(help='Width of the bed, such as "4 ft".')] = None,
    shape: Annotated[
        Literal["tent", "barn", "tunnel", "lean-to"] | None, typer.Option(help="Shape of the cover.")
    ] = None,
    name: Annotated[str | None, typer.Option(help="Name of the cover.")] = None,
    pipe: Annotated[str | None, typer.Option(help='Pipe size as sold, such as "1 in" or "32 mm PN 16".')] = None,
    question: Annotated[
        Literal["fits-the-car", "cost", "stays-out"] | None, typer.Option(help="What you want to know first.")
    ] = None,
    again: Annotated[bool, typer.Option("--again", help="Write over a plan file that is already there.")] = False,
) -> None:
    """Write a commented plan to start from; asks for the bed's size and the rest if you leave the size out."""
    from clochewright.cli.new_command import new_plan

    new_plan(file, length=length, width=width, shape=shape, name=name, pipe=pipe, question=question, again=again)


@app.command("measure")
def measure_command(
    plan_file: PlanFile,
    kind: Annotated[str | None, typer.Option(help='Which fitting, such as "tee" or "elbow-90".')] = None,
    overall: Annotated[
        str | None, typer.Option(help='Height standing on one mouth; several with commas: "3 5/8 in, 3 9/16 in".')
    ] = None,
    depth: Annotated[str | None, typer.Option(help="Depth of a socket, from its mouth to the stop.")] = None,
    hub: Annotated[str | None, typer.Option(help="Outside diameter of the hub.")] = None,
    bend_legs: Annotated[
        str | None,
        typer.Option(help='For an elbow\'s real angle: two legs and straight across, "12 in, 12 in, 19 1/2 in".'),
    ] = None,
    port: Annotated[str | None, typer.Option(help='Only this socket, on which it stood, such as "branch".')] = None,
    sure: Annotated[bool, typer.Option("--sure", help="Take figures that are far from the catalogue's.")] = False,
) -> None:
    """Measure your own fittings with a tape and write them into the plan; asks for what you leave out."""
    from clochewright.cli.measure_asking import Given
    from clochewright.cli.measure_command import measure_fittings

    given = Given(kind, port, overall, depth, hub, bend_legs)
    raise typer.Exit(0 if measure_fittings(plan_file, given, sure) else NOT_BUILT)


@app.command("schema")
def schema_command() -> None:
    """Print the JSON Schema of the plan file, for editors that check as you type."""
    import json

    from clochewright.plan import plan_schema

    typer.echo(json.dumps(plan_schema(), indent=2, ensure_ascii=False))


@app.command("catalogue")
def catalogue_command(
    words: Annotated[
        list[str] | None, typer.Argument(help='Show only rows with these words, such as "tee 1 in".')
    ] = None,
    plan: Annotated[Path | None, typer.Option(help="A plan file, whose own parts are shown as well.")] = None,
    units: Annotated[Literal["inch", "mm"], typer.Option(help="Show lengths in inches or millimetres.")] = "inch",
) -> None:
    """List pipe, fittings and goods: each figure with its spread, how sure it is and where it comes from."""
    from clochewright.cli.catalogue_command import show_catalogue

    show_catalogue(words or [], plan, units)


@app.command("serve")
def serve_command(
    folder: Annotated[Path, typer.Option("--folder", "-f", help="Folder to keep plans in.")] = Path("plans"),
    port: Annotated[int, typer.Option(min=0, max=65535, help="Port to listen on; 0 takes any that is free.")] = 8087,
    lan: Annotated[
        bool, typer.Option("--lan", help="Let phones on the same network in, each by a link that works once.")
    ] = False,
    open_page: Annotated[bool, typer.Option("--open", help="Open the page in the browser.")] = False,
) -> None:
    """Open the page: the whole job live in a browser, plans kept in a folder."""
    from clochewright.web import Settings, serve

    serve(Settings(folder, port=port, lan=lan), open_browser=open_page)


def main() -> None:
    """Run the command line; what is wrong with the input is told in plain sentences, exit code 2."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):  # a terminal that lacks a sign such as ° gets a ? for it
            stream.reconfigure(errors="replace")
    try:
        app()
    except ClochewrightError as wrong:
        for sentence in str(wrong).splitlines():
            typer.echo(f"  {sentence}" if "\n" in str(wrong) else sentence, err=True)
        sys.exit(BAD_INPUT)
    except BrokenPipeError:
        sys.exit(0)
