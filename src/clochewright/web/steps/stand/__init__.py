"""The step where wind, snow and hands are tried."""
