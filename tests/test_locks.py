"""The two locks of what is installed: they agree, every line has its hash, and no host stands in them."""

from __future__ import annotations

import re
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent


def pins(name: str) -> dict[str, set[str]]:
    found: dict[str, set[str]] = {}
    for package, version in re.findall(r"(?m)^([a-z0-9.-]+)==([^ \n]+)", (ROOT / name).read_text("utf-8")):
        found.setdefault(package, set()).add(version)
    return found


def test_what_benchmarks_install_is_what_everything_else_installs() -> None:
    usual, bench = pins("requirements.lock"), pins("requirements-bench.lock")
    shared = usual.keys() & bench.keys()
    assert {"numpy", "scipy", "highspy", "typst"} <= shared
    assert {name: bench[name] for name in shared} == {name: usual[name] for name in shared}
    assert "ortools" in bench.keys() - usual.keys()


def test_no_host_stands_in_a_lock_and_every_package_has_its_hash() -> None:
    for name in ("requirements.lock", "requirements-bench.lock"):
        text = (ROOT / name).read_text("utf-8")
        assert "://" not in text
        for block in re.split(r"(?m)^(?=[a-z0-9])", text)[1:]:
            assert "--hash=sha256:" in block, block.splitlines()[0]
