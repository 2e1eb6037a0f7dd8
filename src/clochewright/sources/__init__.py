"""Where a figure comes from and how far it can be trusted."""

from clochewright.sources.cited import Cited, Grade

__all__ = ["Cited", "Grade"]
