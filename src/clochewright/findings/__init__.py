"""What a step has to say about a plan, and the one catalogue of words."""

from clochewright.findings.finding import Finding, Level, Mend
from clochewright.findings.words import Words, say, word

__all__ = ["Finding", "Level", "Mend", "Words", "say", "word"]
