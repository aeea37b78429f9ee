"""A plan: one table of sections, each made from the engineering below when it is first asked for, and its checks.

A section that lacks input says what it needs instead of failing.
"""

from stringline.plan.model import Needs
from stringline.plan.table import Plan, plan

__all__ = ["Needs", "Plan", "plan"]
