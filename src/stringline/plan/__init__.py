"""Run the engineering in order. A section that lacks input says what it needs instead of failing."""

from stringline.plan.making import plan
from stringline.plan.model import Needs, Plan

__all__ = ["Needs", "Plan", "plan"]
