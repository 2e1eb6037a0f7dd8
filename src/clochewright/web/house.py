"""What all routes share: the shelf, the live job, the renderer, and how a plan is changed."""

from __future__ import annotations

from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

from clochewright.errors import FolderError, Mistake, PlanError
from clochewright.findings import word
from clochewright.job import Shape
from clochewright.measures import Units
from clochewright.plan import Plan, ask, is_group, plan_from_text, rewrite, typed
from clochewright.web.doorkeys import DoorKeys
from clochewright.web.fields import label_of
from clochewright.web.fragments import Renderer
from clochewright.web.live import Live
from clochewright.web.settings import Settings
from clochewright.web.sheet import Sheet, make_sheet
from clochewright.web.shelf import KeptPlan, Shelf
from clochewright.web.working import Worked

_LONGEST_TOLD = 60


@dataclass(frozen=True, slots=True)
class House:
    """One running page."""

    settings: Settings
    shelf: Shelf
    live: Live
    renderer: Renderer
    doorkeys: DoorKeys
    hands: ThreadPoolExecutor

    def work(self, kept: KeptPlan) -> Worked:
        """What there is of a plan's job now."""
        return self.live.work(kept.key, kept.text)

    def sheet(self, kept: KeptPlan, units: Units | None) -> Sheet:
        """The sheet of a plan, in the units asked for, or the plan's own."""
        worked = self.work(kept)
        own: Units = worked.plan.units if worked.plan is not None else "inch"
        return make_sheet(kept, worked, units or own, full=self.live.is_final(worked))

    def set_values(self, key: str, pairs: Sequence[tuple[str, str]], what: str | None = None) -> KeptPlan:
        """Write typed values into a plan and keep it, if the bench takes it.

        Args:
            key: The plan.
            pairs: Key paths and what was typed for each; nothing takes the key away.
            what: What to call the change among the versions; the first pair if left out.

        Raises:
            PlanError: A value is wrong, with nothing changed.
            ShelfError: There is no such plan.
        """

        def change(text: str) -> tuple[str, str]:
            new = _with(text, pairs)
            worked = self.live.work(key, new)
            if worked.mistakes and not self.live.work(key, text).mistakes:
                raise PlanError(worked.mistakes)
            return new, what or said_of(pairs)

        return self.shelf.save(key, change)

    def shape_with(self, key: str, pairs: Sequence[tuple[str, str]]) -> tuple[str, Shape] | None:
        """A plan's rev and what can be drawn of it with these values in it, which are not kept; None if it won't stand.

        Raises:
            ShelfError: There is no such plan.
        """
        before = self.shelf.read(key).text
        try:
            return self.live.shape(_with(before, pairs))
        except PlanError:
            return None  # it is told when the values are set

    def set_text(self, key: str, text: str, what: str) -> KeptPlan:
        """Put a whole new text in a plan's place.

        Raises:
            PlanError: It is no plan, or one the bench can't take.
            ShelfError: There is no such plan.
        """
        self.check_text(key, text)
        return self.shelf.save(key, lambda _: (text, what))

    def check_text(self, owner: str, text: str) -> Plan:
        """The plan in a text.

        Raises:
            PlanError: It is none, or one the bench can't take.
        """
        plan = plan_from_text(text)
        mistakes = self.live.work(owner, text).mistakes
        if mistakes:
            raise PlanError(mistakes)
        return plan


def _with(text: str, pairs: Sequence[tuple[str, str]]) -> str:
    """The text with these values written into it."""
    return rewrite(text, [(path, typed(path, value)) for path, value in _needed(text, pairs)])


def _needed(text: str, pairs: Sequence[tuple[str, str]]) -> list[tuple[str, str]]:
    """The pairs that say something: an empty value where nothing stands asks for nothing."""
    if all(value.strip() for _, value in pairs):
        return list(pairs)
    plan = plan_from_text(text)
    kept = []
    for path, value in pairs:
        if value.strip() or is_group(path) or ask(plan, path, plan.units).text:
            kept.append((path, value))
    return kept


def said_of(pairs: Sequence[tuple[str, str]]) -> str:
    """A change in a few words, for the list of versions."""
    path, value = pairs[0]
    label, value = label_of(path)[:_LONGEST_TOLD], value.strip()[:_LONGEST_TOLD]
    return word("web.change.set", label=label, value=value) if value else word("web.change.unset", label=label)


def sentences_of(error: Exception) -> tuple[str, ...]:
    """An error of our family as sentences for people."""
    if isinstance(error, FolderError):
        return (str(error),)
    mistakes: Sequence[Mistake] = getattr(error, "mistakes", ())
    return tuple(str(mistake) for mistake in mistakes) or (str(error),)
