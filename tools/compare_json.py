"""Hold the present tree's JSON against an earlier revision's: both demo jobs and forty made ones, eight verbs each.

`python tools/compare_json.py OLD_REV` prints every difference, grouped by where it stands, and exits 1 where one is not
listed, with its reason, in tools/json_differences.toml. `--dump DIR` also writes what the present tree says, as JSON
and as it reads on the terminal.
"""

from __future__ import annotations

import argparse
import contextlib
import hashlib
import io
import json
import math
import os
import re
import subprocess
import sys
import tarfile
import tempfile
import tomllib
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parent.parent
ALLOWED = ROOT / "tools" / "json_differences.toml"
VERBS = ("survey", "plan", "order", "difference", "lead", "diagnose", "taping", "cuts")
EXTRA = {"order": ("--date", "2026-05-04")}
REL, ABS = 1e-9, 1e-12
NAMES = ("key", "id", "code", "name", "point", "label")  # by which the items of two lists are matched


@dataclass(frozen=True)
class Difference:
    """One value that is not as it was; ``path`` as in ``tapes[3].w``, ``old`` and ``new`` as they would print."""

    job: str
    verb: str
    path: str
    old: str
    new: str

    @property
    def pattern(self) -> str:
        """The path with [] for any item."""
        return re.sub(r"\[[^\]]*\]", "[]", self.path)


@dataclass(frozen=True)
class Allowed:
    """Differences that are meant: ``*`` in verb or path stands for anything; ``added`` covers new fields alone."""

    verb: str
    path: str
    reason: str
    added: bool = False

    def covers(self, found: Difference) -> bool:
        """Whether this is one of them."""
        if self.added and found.old != "(absent)":
            return False
        return _like(self.verb, found.verb) and (_like(self.path, found.pattern) or _like(self.path, found.path))


def _like(pattern: str, text: str) -> bool:
    return re.fullmatch(".*".join(map(re.escape, pattern.split("*"))), text) is not None


def allowed_in(text: str) -> list[Allowed]:
    """The table of differences that are meant. Raises ValueError for a row without its reason."""
    rows = tomllib.loads(text).get("difference", [])
    for row in rows:
        if set(row) - {"added"} != {"verb", "path", "reason"} or not str(row["reason"]).strip():
            raise ValueError(f"a difference needs verb, path and reason, and nothing else: {row}")
    return [Allowed(**row) for row in rows]


def unequal(old: Any, new: Any, path: str = "") -> Iterator[tuple[str, str, str]]:
    """Path, old and new of each value that differs; numbers are equal within a relative 1e-9."""
    if isinstance(old, dict) and isinstance(new, dict):
        for key in [*old, *(k for k in new if k not in old)]:
            here = f"{path}.{key}" if path else str(key)
            if key not in new:
                yield here, _short(old[key]), "(gone)"
            elif key not in old:
                yield here, "(absent)", _short(new[key])
            else:
                yield from unequal(old[key], new[key], here)
    elif isinstance(old, list) and isinstance(new, list):
        yield from _unequal_lists(old, new, path)
    elif not _same(old, new):
        if isinstance(old, str) and isinstance(new, str):
            old, new = _where_apart(old, new)
        yield path, _short(old), _short(new)


def _unequal_lists(old: list[Any], new: list[Any], path: str) -> Iterator[tuple[str, str, str]]:
    """Items matched by the first of NAMES that tells them all apart, else by their place."""
    for name in NAMES:
        before, after = _named(old, name), _named(new, name)
        if before is not None and after is not None and (before or after):
            both = [k for k in after if k in before]
            if both != [k for k in before if k in after]:
                yield f"{path}[]", "in the order " + _short(list(before)), "in the order " + _short(list(after))
            for key in [*before, *(k for k in after if k not in before)]:
                here = f"{path}[{key}]"
                if key not in after:
                    yield here, _short(before[key]), "(gone)"
                elif key not in before:
                    yield here, "(absent)", _short(after[key])
                else:
                    yield from unequal(before[key], after[key], here)
            return
    if len(old) != len(new):
        yield f"{path}[]", f"{len(old)} items", f"{len(new)} items"
    for i, (a, b) in enumerate(zip(old, new, strict=False)):
        yield from unequal(a, b, f"{path}[{i}]")


def _named(items: list[Any], name: str) -> dict[str, Any] | None:
    """The items by a text that each has and no two share, None where there is no such."""
    if not all(isinstance(i, dict) and isinstance(i.get(name), str) for i in items):
        return None
    found = {i[name]: i for i in items}
    return found if len(found) == len(items) else None


def _same(old: Any, new: Any) -> bool:
    numbers = [isinstance(x, int | float) and not isinstance(x, bool) for x in (old, new)]
    if all(numbers):
        return math.isclose(old, new, rel_tol=REL, abs_tol=ABS) or (math.isnan(old) and math.isnan(new))
    return type(old) is type(new) and bool(old == new)


def _where_apart(old: str, new: str, before: int = 60) -> tuple[str, str]:
    """Long texts from shortly before the place where they begin to differ."""
    alike = next((i for i, (a, b) in enumerate(zip(old, new, strict=False)) if a != b), min(len(old), len(new)))
    cut = max(0, alike - before) if max(len(old), len(new)) > 2 * before else 0
    return ("…" + old[cut:], "…" + new[cut:]) if cut else (old, new)


def _short(value: Any, most: int = 160) -> str:
    text = json.dumps(value, ensure_ascii=False)
    return text if len(text) <= most else f"{text[:most]}… ({len(text)} signs)"


# ---- asking one tree ----


def jobs() -> dict[str, str]:
    """The texts of all jobs by file name: the demo jobs of this tree and the made ones."""
    sys.path[:0] = [str(ROOT / "src"), str(ROOT / "tests")]
    from job_texts import job_texts
    from stringline.demo import DEMOS, demo_job_text

    return {f"{name}.toml": text for name, text in {**{d: demo_job_text(d) for d in DEMOS}, **job_texts()}.items()}


def ask(tree: Path, texts: dict[str, str], verbs: Sequence[str], *, as_json: bool = True) -> dict[str, Any]:
    """What the tree's program answers, by job and verb: exit code, standard output, standard error."""
    calls = [
        (job, verb, [verb, job, *EXTRA.get(verb, ()), *(["--json"] if as_json else [])])
        for job in texts
        for verb in verbs
    ]
    with tempfile.TemporaryDirectory() as folder:
        for name, text in texts.items():
            (Path(folder) / name).write_text(text, encoding="utf-8")
        env = {**os.environ, "PYTHONPATH": str(tree / "src"), "COLUMNS": "100", "PYTHONUTF8": "1"}
        done = subprocess.run(
            [sys.executable, str(Path(__file__).resolve()), "--answer"],
            input=json.dumps(calls),
            capture_output=True,
            text=True,
            encoding="utf-8",
            check=False,
            cwd=folder,
            env=env,
        )
    if done.returncode:
        raise SystemExit(f"the tree at {tree} did not answer:\n{done.stderr}")
    found: dict[str, Any] = json.loads(done.stdout)
    if not Path(found["program"]).is_relative_to(tree):
        raise SystemExit(f"{found['program']} answered in the place of {tree}")
    answers: dict[str, Any] = found["answers"]
    return answers


def _answer() -> None:
    """The other side of :func:`ask`: run each call in this process. Uses nothing but the command line's door."""
    import stringline
    from stringline.cli import main

    answers: dict[str, dict[str, Any]] = defaultdict(dict)
    for job, verb, argv in json.load(sys.stdin):
        out, err = io.StringIO(), io.StringIO()
        code: Any
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
            try:
                code = main(argv)
            except (Exception, SystemExit) as why:  # a crash is an answer too
                code = f"{type(why).__name__}: {why}"
        answers[job][verb] = {"exit": code, "out": out.getvalue(), "err": err.getvalue()}
    json.dump({"program": str(Path(stringline.__file__).resolve()), "answers": answers}, sys.stdout)


def ask_earlier(rev: str, texts: dict[str, str], *, fresh: bool) -> dict[str, Any]:
    """What the program at a revision answers to every verb; kept among the temporary files, as it never changes."""
    sha = _git("rev-parse", "--verify", f"{rev}^{{commit}}").decode().strip()
    asked = json.dumps([texts, VERBS, EXTRA, Path(__file__).read_text("utf-8")])
    kept = Path(tempfile.gettempdir()) / f"stringline-{sha[:12]}-{hashlib.sha256(asked.encode()).hexdigest()[:12]}.json"
    if kept.exists() and not fresh:
        return dict(json.loads(kept.read_text("utf-8")))
    with tempfile.TemporaryDirectory() as folder:
        unpack(sha, Path(folder))
        answers = ask(Path(folder).resolve(), texts, VERBS)
    part = kept.with_suffix(f".{os.getpid()}")
    part.write_text(json.dumps(answers), encoding="utf-8")
    part.replace(kept)
    return answers


def unpack(rev: str, folder: Path) -> None:
    """Write the sources at a revision into a folder."""
    with tarfile.open(fileobj=io.BytesIO(_git("archive", rev, "src"))) as tar:
        tar.extractall(folder, filter="data")


def _git(*args: str) -> bytes:
    done = subprocess.run(["git", "-C", str(ROOT), *args], capture_output=True, check=False)
    if done.returncode:
        raise SystemExit(done.stderr.decode().strip())
    return done.stdout


# ---- comparing and telling ----


def compare(old: dict[str, Any], new: dict[str, Any]) -> list[Difference]:
    """All differences between two trees' answers."""
    found = []
    for job, verbs in new.items():
        for verb, now in verbs.items():
            before = old[job][verb]
            for path, a, b in unequal(_parsed(before), _parsed(now)):
                found.append(Difference(job.removesuffix(".toml"), verb, path, a, b))
    return found


def _parsed(answer: dict[str, Any]) -> Any:
    """JSON where it is JSON; the exit code and what went to standard error as two more values."""
    try:
        said = json.loads(answer["out"])
    except json.JSONDecodeError:
        said = {"(no JSON)": answer["out"]}
    beside = {"(exit)": answer["exit"], "(stderr)": answer["err"]}
    return {**said, **beside} if isinstance(said, dict) else {"(list)": said, **beside}


def tell(found: list[Difference], allowed: list[Allowed], most: int) -> int:
    """Print the differences by verb and pattern; the number of them that nothing allows."""
    groups: dict[tuple[str, str, Allowed | None], list[Difference]] = defaultdict(list)
    for d in found:
        groups[d.verb, d.pattern, next((a for a in allowed if a.covers(d)), None)].append(d)
    wrong = 0
    for (verb, pattern, why), several in groups.items():
        where = len({d.job for d in several})
        print(f"{verb}  {pattern}  {len(several)} in {where} job{'' if where == 1 else 's'}", end="")
        if why is not None:
            print(f"  allowed: {why.reason}")
            continue
        print()
        wrong += len(several)
        for d in several[: most or None]:
            print(f"    {d.job}  {d.path}\n      old {d.old}\n      new {d.new}")
        if most and len(several) > most:
            print(f"    and {len(several) - most} more (--most 0 prints all)")
    unused = [a for a in allowed if not any(a.covers(d) for d in found)]
    for a in unused:
        print(f"not met with: {a.verb}  {a.path}  ({a.reason})")
    return wrong


def dump(folder: Path, answers: dict[str, Any], texts: dict[str, str]) -> None:
    """Write what the present tree says to every job and verb, and the jobs beside it."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, text in texts.items():
        (folder / name).write_text(text, encoding="utf-8")
    plain = ask(ROOT, texts, VERBS, as_json=False)
    for ending, said in (("json", answers), ("txt", plain)):
        for job, verbs in said.items():
            for verb, a in verbs.items():
                text = a["out"] + (a["err"] if ending == "txt" else "")
                (folder / f"{job.removesuffix('.toml')}.{verb}.{ending}").write_text(text, encoding="utf-8")


def main(argv: Sequence[str] | None = None) -> int:
    """Compare; exit code 1 where something differs that the table does not allow."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").split("\n", 1)[0])
    parser.add_argument("rev", nargs="?", metavar="OLD_REV", help="the revision to compare with")
    parser.add_argument("--only", metavar="TEXT", default="", help="only jobs with this in their name")
    parser.add_argument("--verb", choices=VERBS, action="append", help="only this verb (may be given more than once)")
    parser.add_argument("--most", type=int, default=5, help="print so many of each kind, 0 for all (default 5)")
    parser.add_argument("--dump", type=Path, metavar="DIR", help="write what the present tree says into a folder")
    parser.add_argument("--fresh", action="store_true", help="ask the old revision again")
    parser.add_argument("--answer", action="store_true", help=argparse.SUPPRESS)
    args = parser.parse_args(argv)
    if args.answer:
        _answer()
        return 0
    if args.rev is None:
        parser.error("name the revision to compare with")
    texts = jobs()
    old = ask_earlier(args.rev, texts, fresh=args.fresh)
    texts = {name: text for name, text in texts.items() if args.only in name}
    new = ask(ROOT, texts, args.verb or VERBS)
    if args.dump is not None:
        dump(args.dump, new, texts)
    allowed = allowed_in(ALLOWED.read_text("utf-8"))
    found = compare(old, new)
    wrong = tell(found, allowed, args.most)
    count = sum(map(len, new.values()))
    print(f"{count} answers to {len(new)} jobs: {len(found)} differences, {wrong} of them not allowed")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
