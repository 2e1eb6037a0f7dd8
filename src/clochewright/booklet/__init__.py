"""The printed build booklet: one PDF to decide by, shop by, saw by, join by, and hang on the shed door."""

from clochewright.booklet.printing import Paper, print_booklet

__all__ = ["Paper", "print_booklet"]
