"""clochewright: knock-down pipe-frame covers for raised beds, from a bed's size to a finished build."""

__version__ = "0.1.0"
