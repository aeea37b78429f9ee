"""Faults in words: as a list for a person who has to mend a document."""

from __future__ import annotations

from stringline.faults import Fault, Faults
from stringline.finding import Finding, finding
from stringline.lengths import Unit
from stringline.sheets.voice import Voice


def faults_text(faults: Faults) -> str:
    """Every fault on a line of its own below the document's name, lengths in the document's unit."""
    voice = Voice(faults.unit or Unit.M)
    head = voice.say(finding("faults.head", document=faults.document, n=len(faults.faults)))
    return "\n".join([head, *(f"  {fault_text(f, voice)}" for f in faults.faults)])


def fault_text(fault: Fault, voice: Voice) -> str:
    """One fault as a sentence with its place."""
    parts = {
        "where": place_text(fault, voice),
        "wrong": voice.say(fault.wrong),
        "right": voice.say(fault.right),
    }
    if fault.line is None:
        return voice.say(finding("faults.nowhere", **parts))
    return voice.say(finding("faults.at", line=fault.line, **parts))


def place_text(fault: Fault, voice: Voice) -> str:
    """Where a fault stands: a path as it is, anything else in words."""
    return voice.say(fault.where) if isinstance(fault.where, Finding) else fault.where
