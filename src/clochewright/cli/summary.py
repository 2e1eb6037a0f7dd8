"""What the command line says when a job is done: the answer first, then the figures, then what to mind."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from rich.console import Console
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from clochewright.findings import Finding, Level, say, word
from clochewright.job import Job, Made
from clochewright.measures import Units, show_angle, show_length, show_mass, show_money, show_speed

# A word stands beside every colour, so that nothing hangs on the colour alone.
STYLE = {Level.STOP: "bold red", Level.WARN: "bold yellow", Level.NOTE: "bold"}
# Notes of these steps change what is sawn. All others stand beside their step in the booklet.
TOLD_HERE = ("frame", "cuts", "job")
WIDEST = 100
INDENT = (0, 0, 0, 2)
# rich breaks lines at every kind of space, the one for no break as well; this stands in until the lines are made.
_GLUE = "\N{SYMBOL FOR SPACE}"
_WITHIN_A_FIGURE = re.compile(
    r"(?<=[0-9]) (?=[0-9]+/[0-9]|×|(?:in|ft|mm|m|lb|kg|g|mph|m/s|km/h)\b)|(?<=ft|.×) (?=[0-9])"
)


def show_summary(console: Console, job: Job, out: Path | None, *, all_notes: bool = False) -> None:
    """Print the summary of a job; `out` is the folder that was written, if any."""
    out_to, console = console, Console(file=console.file, width=min(console.width, WIDEST), highlight=False)
    with console.capture() as summary:
        _show(console, job, out, all_notes)
    text = summary.get().replace(_GLUE, " ")
    out_to.file.write("".join(f"{line.rstrip(' ')}\n" for line in text.splitlines()))


def _show(console: Console, job: Job, out: Path | None, all_notes: bool) -> None:
    console.print()
    _say(console, Text(job.plan.name, style="bold"))
    _say(console, Text(_unbroken(job.answer.text)))
    console.print()
    if job.made is not None and not job.refused:
        _say(console, _figures(job, job.made))
        console.print()
        _say(console, _cuts(job, job.made))
        console.print()
    _findings(console, job, all_notes)
    _say(console, Text(word("cli.summary.estimate"), style="dim"))
    nothing = word("cli.summary.not-written" if job.refused else "cli.summary.nowhere")
    written = word("cli.summary.written", folder=str(out)) if out else nothing
    _say(console, Text(written, overflow="fold"))
    console.print()


def _say(console: Console, what: Text | Table) -> None:
    console.print(Padding(what, INDENT))


def _figures(job: Job, made: Made) -> Table:
    """What, how much, and from where to where."""
    units, frame, bed = job.plan.units, job.frame, job.plan.bed

    def length(value_m: float) -> str:
        return _unbroken(show_length(value_m, units, style="long"))

    def area(length_m: float, width_m: float) -> str:
        return word("cli.summary.by", a=length(length_m), b=length(width_m))

    apex, stock = frame.recipes.get("apex"), made.cutlist.stock
    rows = [
        ("bed", area(bed.outside_length_m, bed.outside_width_m), word("cli.summary.bed-from")),
        ("cover", area(frame.length_m, frame.width_m), word("cli.summary.cover-from")),
        ("height", length(frame.height_m), word("cli.summary.height-from")),
        ("pitch", show_angle(frame.pitch_deg), word("cli.summary.pitch-from", apex=apex) if apex else ""),
        ("bents", str(len(frame.stations_m)), word("cli.summary.bents-from", bay=length(frame.longest_bay_m))),
        ("diagonals", length(frame.diagonal_m), word("cli.summary.diagonals-from")),
        *_weight(made, units),
        *_stands(job, made),
        ("pipe", frame.pipe_key, _sticks(job, made)),
        ("offcuts", length(sum(stick.offcut_m for stick in stock.sticks)), _how_good(made)),
        ("cost", show_money(made.supplies.total, job.plan.prices.currency), _prices(made)),
    ]
    table = Table(box=None, show_header=False, padding=(0, 2, 0, 0), pad_edge=False)
    table.add_column(style="bold", no_wrap=True)
    table.add_column(no_wrap=True)
    table.add_column(style="dim")
    for name, value, from_where in rows:
        if name != "pitch" or frame.shape != "tunnel":
            table.add_row(word(f"cli.summary.{name}"), value, from_where)
    return table


def _weight(made: Made, units: Units) -> Iterator[tuple[str, str, str]]:
    """What the lid weighs; where panels open, the heaviest of them and all together."""
    whole, panel = made.weights.lid_kg, made.weights.panel_kg
    shown = _range(show_mass(whole.low, units), show_mass(whole.high, units))
    if panel is None:
        yield "weight", shown, word("cli.summary.weight-from")
        return
    one = _range(show_mass(panel.low, units), show_mass(panel.high, units))
    yield "panel", one, word("cli.summary.panel-from", whole=shown)


def _stands(job: Job, made: Made) -> Iterator[tuple[str, str, str]]:
    """What wind and snow it stands, with what gives first."""
    units, strength = job.plan.units, made.strength
    shut, wet = strength.limit("shut"), strength.limit("wet")
    if shut is not None and wet is not None:
        gust = _range(show_speed(shut.low, units), show_speed(shut.high, units))
        yield "gust", gust, word("cli.summary.gust-from", governs=shut.governs)
        snow = _range(_unbroken(show_length(wet.low, units)), _unbroken(show_length(wet.high, units)))
        yield "snow", snow, word("cli.summary.snow-from", governs=wet.governs)


def _sticks(job: Job, made: Made) -> str:
    """What to buy and what the shed gives."""
    sticks = made.cutlist.stock.sticks
    buy = Counter(stick.length_m for stick in sticks if stick.origin == "buy")
    sizes = sorted(buy.items(), reverse=True)
    sold = [_unbroken(f"{n} × {show_length(size_m, job.plan.units, style='long')}") for size_m, n in sizes]
    shed = len(sticks) - buy.total()
    said = word("cli.summary.buy", sticks=", ".join(sold)) if sold else word("cli.summary.buy-none")
    return said + (word("cli.summary.shed", count=shed) if shed else "")


def _how_good(made: Made) -> str:
    stock = made.cutlist.stock
    return word("cli.summary.proven" if stock.proven else "cli.summary.gap", gap=f"{stock.gap:.1%}")


def _prices(made: Made) -> str:
    missing = sum(row.price is None for row in made.supplies.rows)
    if missing:
        return word("cli.summary.prices-missing", count=missing)
    invented = any(finding.key == "supplies.invented-prices" for finding in made.supplies.findings)
    return word("cli.summary.prices-invented" if invented else "cli.summary.prices-yours")


def _cuts(job: Job, made: Made) -> Table:
    table = Table(box=None, padding=(0, 2, 0, 0), pad_edge=False, header_style="bold")
    for name, justify in (("mark", "left"), ("count", "right"), ("length", "right"), ("role", "left")):
        table.add_column(word(f"job.cuts.{name}"), justify=justify)  # type: ignore[arg-type]
    for cut in made.cutlist.cuts:
        table.add_row(cut.mark, str(cut.count), _unbroken(show_length(cut.length_m, job.plan.units)), cut.role)
    return table


def _findings(console: Console, job: Job, all_notes: bool) -> None:
    """Stops and warnings in full; notes that change what is sawn, one of a kind; all others counted."""
    notes = [finding for finding in job.findings if finding.level is Level.NOTE]
    first_of_kind = {finding.key: finding for finding in reversed(notes) if finding.step in TOLD_HERE}
    told = notes if all_notes else [finding for finding in notes if first_of_kind.get(finding.key) is finding]
    for level in (Level.STOP, Level.WARN):
        for finding in job.findings:
            if finding.level is level:
                _finding(console, job, finding, in_full=True)
                console.print()
    for finding in told:
        _finding(console, job, finding, in_full=False)
    if told:
        console.print()
    folded = len(notes) - len(told)
    if folded:
        _say(console, Text(word("cli.summary.folded", notes=folded), style="dim"))


def _finding(console: Console, job: Job, finding: Finding, *, in_full: bool) -> None:
    words = say(finding, job.plan.units, job.plan.prices.currency)
    table = Table(box=None, show_header=False, padding=(0, 2, 0, 0), pad_edge=False)
    table.add_column(style=STYLE[finding.level], no_wrap=True)
    table.add_column()
    table.add_row(word(f"cli.level.{finding.level}"), Text(_unbroken(words.what)))
    rest = " ".join(part for part in (words.why, words.mend) if part)
    if in_full and rest:
        table.add_row("", Text(_unbroken(rest)))
    _say(console, table)


def _range(low: str, high: str) -> str:
    return low if low == high else word("cli.summary.range", low=low, high=high)


def _unbroken(text: str) -> str:
    """Text whose figures no line may break from their fraction or unit."""
    return _WITHIN_A_FIGURE.sub(_GLUE, text)
