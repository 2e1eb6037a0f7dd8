"""What a step has to say about a plan, and the one catalogue of words."""

from clochewright.findings.finding import Finding, Level, Mend, worst_first
from clochewright.findings.words import Words, say, word

__all__ = ["Finding", "Level", "Mend", "Words", "say", "word", "worst_first"]
