"""What the command line says when a job is done: the answer first, then the figures, then what to mind."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

from rich.console import Console, Group
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from clochewright.findings import Finding, Level, say, word
from clochewright.job import Job, Made
from clochewright.measures import show_angle, show_length, show_mass, show_money

# A word stands beside every colour, so that nothing hangs on the colour alone.
STYLE = {Level.STOP: "bold red", Level.WARN: "bold yellow", Level.NOTE: "bold"}
WIDEST = 100


def show_summary(console: Console, job: Job, out: Path | None) -> None:
    """Print the summary of a job; `out` is the folder that was written, if any."""
    console = Console(file=console.file, width=min(console.width, WIDEST), highlight=False)
    console.print()
    console.print(Text(job.plan.name, style="bold"))
    console.print(Text(job.answer.text))
    console.print()
    if job.made is not None and not job.refused:
        console.print(_figures(job, job.made))
        console.print()
        console.print(_cuts(job, job.made))
        console.print()
    _findings(console, job)
    console.print(Text(word("cli.summary.estimate"), style="dim"))
    console.print(Text(word("cli.summary.written", folder=str(out)) if out else word("cli.summary.not-written")))


def _figures(job: Job, made: Made) -> Table:
    units, frame, bed = job.plan.units, job.frame, job.plan.bed

    def length(value_m: float) -> str:
        return show_length(value_m, units, style="long")

    sticks = Counter(stick.length_m for stick in made.cutlist.stock.sticks if stick.origin == "buy")
    mass = made.weights.lid_kg
    rows = {
        "bed": word("cli.summary.by", a=length(bed.outside_length_m), b=length(bed.outside_width_m)),
        "cover": word("cli.summary.by", a=length(frame.length_m), b=length(frame.width_m)),
        "height": length(frame.height_m),
        "pitch": word("cli.summary.pitch-of", pitch=show_angle(frame.pitch_deg), apex=frame.recipes["apex"]),
        "bents": word("cli.summary.bents-of", count=len(frame.stations_m), bay=length(frame.longest_bay_m)),
        "diagonals": length(frame.diagonal_m),
        "pipe": frame.pipe_key,
        "sticks": ", ".join(f"{n} × {length(size)}" for size, n in sorted(sticks.items(), reverse=True)) or "0",
        "nesting": word("cli.summary.proven" if made.cutlist.stock.proven else "cli.summary.gap",
                        gap=f"{made.cutlist.stock.gap:.1%}"),
        "weight": word("cli.summary.range", low=show_mass(mass.low, units), high=show_mass(mass.high, units)),
        "cost": show_money(made.supplies.total, job.plan.prices.currency),
    }  # fmt: skip
    table = Table(box=None, show_header=False, padding=(0, 2, 0, 2))
    table.add_column(style="bold", no_wrap=True)
    table.add_column()
    for name, value in rows.items():
        table.add_row(word(f"cli.summary.{name}"), value)
    return table


def _cuts(job: Job, made: Made) -> Table:
    table = Table(box=None, padding=(0, 2, 0, 2), header_style="bold")
    for name, justify in (("mark", "left"), ("count", "right"), ("length", "right"), ("role", "left")):
        table.add_column(word(f"job.cuts.{name}"), justify=justify)  # type: ignore[arg-type]
    for cut in made.cutlist.cuts:
        table.add_row(cut.mark, str(cut.count), show_length(cut.length_m, job.plan.units), cut.role)
    return table


def _findings(console: Console, job: Job) -> None:
    order = list(Level)
    for finding in sorted(job.findings, key=lambda finding: order.index(finding.level)):
        console.print(_finding(job, finding))


def _finding(job: Job, finding: Finding) -> Padding:
    words = say(finding, job.plan.units, job.plan.prices.currency)
    head = Text.assemble((word(f"cli.level.{finding.level}"), STYLE[finding.level]), "  ", words.what)
    body = [Text(line) for line in (words.mend,) if line and finding.level is not Level.NOTE]
    return Padding(Group(head, *(Padding(line, (0, 0, 0, 6)) for line in body)), (0, 0, 1, 2))
