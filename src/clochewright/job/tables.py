"""Cut list and shopping list as tables that any spreadsheet opens."""

from __future__ import annotations

import csv
import io

from clochewright.findings import word
from clochewright.job.types import Job
from clochewright.measures import show_length
from clochewright.supplies import supplies_csv as csv_of


def cuts_csv(job: Job) -> str:
    """One row a mark: as printed, and in millimetres for sums."""
    assert job.made is not None
    out = io.StringIO()
    table = csv.writer(out, lineterminator="\n")
    table.writerow([word(f"job.cuts.{name}") for name in ("mark", "count", "length", "length-mm", "role")])
    for cut in job.made.cutlist.cuts:
        shown = show_length(cut.length_m, job.plan.units)
        table.writerow([cut.mark, cut.count, shown, f"{cut.length_m * 1000:.1f}", cut.role])
    return out.getvalue()


def supplies_csv(job: Job) -> str:
    """One row a pack, the total last."""
    assert job.made is not None
    return csv_of(job.made.supplies)
