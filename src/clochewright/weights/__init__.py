"""Weights: what the lid weighs, part by part, and where it balances."""

from clochewright.weights.types import BodyWeight, Weights
from clochewright.weights.weigh import weigh

__all__ = ["BodyWeight", "Weights", "weigh"]
