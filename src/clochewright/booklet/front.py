"""What frames the booklet: the answer, the findings and cautions, and how to read the rest."""

from __future__ import annotations

from types import MappingProxyType
from typing import Any

from clochewright.findings import Finding, Level, say, word
from clochewright.job import Job

# Notes of these steps stand on the step's own page, and nowhere else; and so do these notes of other steps.
PAGE_OF_STEP = MappingProxyType(
    {"joints": "joints", "film": "film", "lid": "lid", "supplies": "shop", "cuts": "saw", "strength": "stand"}
)
ON_LID_PAGE = (
    "lift-one", "lift-two", "lift-split", "prop-clip", "bolt-through", "saddle-round", "wax-lifts", "opens-heavy",
    "out-of-reach", "held", "held-by-straps", "frame-held", "weights-hold", "weights-alone",
    "opens-easier",
)  # fmt: skip
PAGE_OF_KEY = MappingProxyType(
    {
        "job.measure-first": "saw",
        "cuts.dry-fit-longer": "joints",
        "cuts.cement-shortens": "joints",
        "frame.hoop-bent": "joints",
        **{f"strength.{key}": "lid" for key in ON_LID_PAGE},
    }
)
_ORDER = (Level.STOP, Level.WARN, Level.NOTE)


def answer(job: Job) -> dict[str, str]:
    """The question in words, the verdict, and the one sentence."""
    question = word(f"booklet.question.{job.answer.question}")
    return {"question": question, "verdict": job.answer.verdict, "text": job.answer.text}


# Told in full where the lid is lifted, whatever their level.
LIFTING = ("strength.lift-one", "strength.lift-two", "strength.lift-split")


def findings(job: Job) -> list[dict[str, str]]:
    """Findings worst first; where the cover can be built, notes that belong to one step are left to its page."""
    built = job.made is not None and not job.refused
    shown = [
        f for f in job.findings if not (built and (f.key in LIFTING or (f.level is Level.NOTE and _page_of(f))))
    ]
    return [_finding(job, f) for f in sorted(shown, key=lambda f: _ORDER.index(f.level))]


def _page_of(finding: Finding) -> str:
    """The page whose own a note is, or ""."""
    return PAGE_OF_KEY.get(finding.key) or PAGE_OF_STEP.get(finding.step, "")


def findings_counted(shown: list[dict[str, str]]) -> str:
    """How many findings of each level there are, worst first, for the front page; "" where there are none."""
    counts = [(level, sum(one["level"] == level for one in shown)) for level in _ORDER]
    said = [word(f"booklet.findings.{level}", count=count) for level, count in counts if count]
    return word("booklet.findings.counted", counted=", ".join(said)) if said else ""


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


def page_cautions(
    job: Job, page: str, *, but: tuple[str, ...] = (), only: tuple[str, ...] | None = None
) -> list[dict[str, Any]]:
    """The notes that stand on one page as its cautions: what, why with what to do, and on whose word.

    Notes for the same reason share a caution.

    Args:
        job: The finished job.
        page: Whose notes.
        but: Keys that are told elsewhere.
        only: Where given, the only keys to take.
    """
    alike: dict[tuple[str, str], list[str]] = {}
    for finding in job.findings:
        if (
            finding.level is Level.NOTE
            and _page_of(finding) == page
            and finding.key not in but
            and (only is None or finding.key in only)
        ):
            words = say(finding, job.plan.units, job.plan.prices.currency)
            source = finding.source or word("booklet.source.own")
            alike.setdefault((f"{words.why} {words.mend}".strip(), source), []).append(words.what)
    return [{"what": what, "why": why, "source": source} for (why, source), what in alike.items()]


def own_caution(page: str, name: str, **values: object) -> dict[str, Any]:
    """A caution of the booklet's own: [booklet.page] name, name-why and name-source."""
    return {
        "what": [word(f"booklet.{page}.{name}", **values)],
        "why": word(f"booklet.{page}.{name}-why"),
        "source": word(f"booklet.{page}.{name}-source"),
    }


def reading(job: Job) -> list[dict[str, str]]:
    """The few words that the booklet asks its reader to know."""
    step = "1/16 in" if job.plan.units == "inch" else "1 mm"
    hoops = job.frame.hoop is not None
    stubs = any(pipe.role == "stub" for pipe in job.frame.pipes)
    names = ["hoop" if hoops else "bent", "bay", "apex", "rail", "hub", *(["stub"] if stubs else [])]
    names += ["mark", "part", "cut", "cc", "over-all", "depth", "dry", "left"]
    return [
        {"term": word(f"booklet.reading.{name}"), "meaning": word(f"booklet.reading.{name}-text", step=step)}
        for name in names
    ]
