"""The steps of the job sheet, each a folder of its own: what it shows (step.py), how it reads (step.html)."""
