"""What measured fittings do to the job: every cut before and after."""

from __future__ import annotations

from collections import Counter

from rich.console import Console
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from clochewright.findings import Level, say, word
from clochewright.job import Trial, paired_pipes
from clochewright.measures import round_length, show_angle, show_length


def show_effect(before: Trial, after: Trial) -> None:
    """Print each cut length before and after, and the height and the pitch where they change."""
    console = Console(highlight=False)
    if after.made is None or after.refused:
        console.print(Text(word("cli.measure.cannot-build"), style="bold"))
        for finding in after.findings:
            if finding.level is Level.STOP:
                console.print(Padding(Text(say(finding, after.plan.units).what), (0, 0, 0, 2)))
        return
    console.print()
    console.print(Text(word("cli.measure.effect"), style="bold"))
    pairs = paired_pipes(before.frame, after.frame) if before.frame.stands else None
    if pairs is None:
        console.print(Text(word("cli.measure.other-frame")))
    console.print(_cuts(before, after))
    units = after.plan.units
    shown = {
        "height": (show_length(before.frame.height_m, units), show_length(after.frame.height_m, units)),
        "pitch": (show_angle(before.frame.pitch_deg), show_angle(after.frame.pitch_deg)),
    }
    for name, (was, now) in shown.items():
        if was != now and before.frame.stands:
            console.print(Text(word(f"cli.measure.{name}", was=was, now=now)))
    console.print()


def _cuts(before: Trial, after: Trial) -> Table:
    """One row for each mark and each length it had; a dash where there is no such pipe before."""
    units = after.plan.units
    assert after.made is not None
    pairs = paired_pipes(before.frame, after.frame) or [(None, pipe) for pipe in after.frame.pipes]
    rows: Counter[tuple[str, str, float | None, float]] = Counter()
    for was, now in pairs:
        was_m = None if was is None else round_length(was.cut_length_m, units)
        mark = after.made.cutlist.mark_of[now.id]
        rows[mark, now.role, was_m, round_length(now.cut_length_m, units)] += 1
    table = Table(box=None, padding=(0, 2, 0, 2), header_style="bold")
    for name, justify in (("mark", "left"), ("count", "right"), ("before", "right"), ("after", "right"),
                          ("change", "right"), ("role", "left")):  # fmt: skip
        label = word(f"job.cuts.{name}" if name in ("mark", "count", "role") else f"cli.measure.{name}")
        table.add_column(label, justify=justify)  # type: ignore[arg-type]
    for (mark, role, was_m, now_m), count in sorted(rows.items(), key=lambda row: -row[0][3]):
        was_text = "-" if was_m is None else show_length(was_m, units)
        change = "" if was_m is None or was_m == now_m else _signed(now_m - was_m, after)
        table.add_row(mark, str(count), was_text, show_length(now_m, units), change, role)
    return table


def _signed(change_m: float, job: Trial) -> str:
    shown = show_length(abs(change_m), job.plan.units)
    return word("cli.measure.longer" if change_m > 0 else "cli.measure.shorter", by=shown)
