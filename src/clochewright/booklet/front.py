"""The first pages: the answer, the chief figures, the findings, and how to read the rest."""

from __future__ import annotations

from collections.abc import Iterable
from types import MappingProxyType

from clochewright.findings import Finding, Level, say, word
from clochewright.job import Job, Made
from clochewright.measures import show_angle, show_length, show_mass, show_money

# Notes of these steps stand on the step's own page, and nowhere else.
PAGE_OF_STEP = MappingProxyType({"joints": "joints", "film": "film", "lid": "film", "supplies": "shop"})
_ORDER = (Level.STOP, Level.WARN, Level.NOTE)


def answer(job: Job) -> dict[str, str]:
    """The question in words, the verdict, and the one sentence."""
    question = word(f"booklet.question.{job.answer.question}")
    return {"question": question, "verdict": job.answer.verdict, "text": job.answer.text}


def chief_figures(job: Job, made: Made) -> list[dict[str, str]]:
    """The small table on the front page: what, how much, from where to where."""
    plan, frame, units = job.plan, job.frame, job.plan.units
    prices, supplies, weight = job.plan.prices, made.supplies, made.weights.lid_kg
    missing = sum(row.price is None for row in supplies.rows)
    invented = any(finding.key == "supplies.invented-prices" for finding in supplies.findings)
    cost = "cost-note-invented" if invented else "cost-note-missing" if missing else "cost-note"
    to_buy = sum(stick.origin == "buy" for stick in made.cutlist.stock.sticks)
    pieces = sum(cut.count for cut in made.cutlist.cuts)
    rows = [
        _figure(
            "bed",
            _area(job, plan.bed.outside_length_m, plan.bed.outside_width_m),
            board=show_length(plan.bed.board_m, units),
        ),
        _figure("cover", _area(job, frame.length_m, frame.width_m), line=word(f"booklet.line.{plan.cover.line}")),
        _figure("height", show_length(frame.height_m, units, style="long")),
        _figure("pitch", show_angle(frame.pitch_deg)),
        _figure("bents", str(len(frame.stations_m)), bay=show_length(frame.longest_bay_m, units)),
        _figure("diagonal", show_length(frame.diagonal_m, units)),
        _figure("weight", between(show_mass(weight.low, units), show_mass(weight.high, units))),
        _figure("cost", show_money(supplies.total, prices.currency), note=cost, count=missing),
        _figure("pipe", job.pipe.key, count=to_buy, pieces=pieces),
    ]
    apex = frame.recipes.get("apex")
    if apex is not None:
        rows.append(_figure("recipe", word(f"booklet.recipe.{apex}")))
    return rows


def between(low: str, high: str) -> str:
    """A band in words; one figure where both ends read the same."""
    return low if low == high else word("booklet.figure.range", low=low, high=high)


def unbroken(lengths: Iterable[str]) -> str:
    """Several lengths in a row; a line may end between two of them, never within one."""
    return ", ".join(length.replace(" ", "\N{NO-BREAK SPACE}") for length in lengths)


def _area(job: Job, length_m: float, width_m: float) -> str:
    units = job.plan.units
    long, wide = (show_length(side_m, units, style="long") for side_m in (length_m, width_m))
    return word("booklet.figure.times", length=long, width=wide)


def _figure(name: str, value: str, note: str = "", **fields: object) -> dict[str, str]:
    said = word(f"booklet.figure.{note or f'{name}-note'}", **fields)
    return {"label": word(f"booklet.figure.{name}"), "value": value, "note": said}


def findings(job: Job) -> list[dict[str, str]]:
    """Findings worst first; where the cover can be built, notes that belong to one step are left to its page."""
    built = job.made is not None and not job.refused
    shown = [f for f in job.findings if not (built and f.level is Level.NOTE and f.step in PAGE_OF_STEP)]
    return [_finding(job, f) for f in sorted(shown, key=lambda f: _ORDER.index(f.level))]


def _finding(job: Job, finding: Finding) -> dict[str, str]:
    words = say(finding, job.plan.units, job.plan.prices.currency)
    return {
        "level": str(finding.level),
        "level_word": word(f"booklet.level.{finding.level}"),
        "what": words.what,
        "why": words.why,
        "mend": words.mend,
        "source": finding.source,
    }


def findings_lead(job: Job) -> str:
    """One line above the findings."""
    if job.made is None or job.refused:
        return word("booklet.findings.lead-refused")
    return word("booklet.findings.lead")


def step_cautions(
    job: Job, *steps: str, but: tuple[str, ...] = (), only: tuple[str, ...] | None = None
) -> list[dict[str, str]]:
    """The notes of some steps as cautions for their page: what, why with what to do, and on whose word.

    Args:
        job: The finished job.
        *steps: Whose notes.
        but: Keys that are told elsewhere.
        only: Where given, the only keys to take.
    """
    cautions = []
    for finding in job.findings:
        if (
            finding.level is Level.NOTE
            and finding.step in steps
            and finding.key not in but
            and (only is None or finding.key in only)
        ):
            words = say(finding, job.plan.units, job.plan.prices.currency)
            source = finding.source or word("booklet.source.none")
            cautions.append({"what": words.what, "why": f"{words.why} {words.mend}".strip(), "source": source})
    return cautions


def own_caution(page: str, name: str, **values: object) -> dict[str, str]:
    """A caution of the booklet's own: [booklet.page] name, name-why and name-source."""
    return {
        "what": word(f"booklet.{page}.{name}", **values),
        "why": word(f"booklet.{page}.{name}-why"),
        "source": word(f"booklet.{page}.{name}-source"),
    }


def reading(job: Job) -> list[dict[str, str]]:
    """The few words that the booklet asks its reader to know."""
    step = "1/16 in" if job.plan.units == "inch" else "1 mm"
    names = ("cut", "cc", "over-all", "mark", "depth", "dry", "left")
    return [
        {"term": word(f"booklet.reading.{name}"), "meaning": word(f"booklet.reading.{name}-text", step=step)}
        for name in names
    ]
