"""Weights: what the lid weighs, part by part, and where it balances."""

from clochewright.weights.types import Weights
from clochewright.weights.weigh import weigh

__all__ = ["Weights", "weigh"]
