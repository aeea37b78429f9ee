"""A kill at any moment of a write leaves the old file or the new one, never a half."""

from __future__ import annotations

import os
import random
import signal
import stat
import subprocess
import sys
import time
from pathlib import Path

import pytest

from stringline.files import write_all_atomic, write_atomic

STEPS = ("open", "write", "fchmod", "fsync", "close", "replace")


def leftovers(folder: Path, *known: str) -> list[str]:
    return sorted(p.name for p in folder.iterdir() if p.name not in known)


@pytest.mark.parametrize("content", [b"\x00\xff", "caf\u00e9\r\n", b"", "x" * 3_000_000])
def test_what_is_written_is_what_is_read(tmp_path: Path, content: bytes | str) -> None:
    path = tmp_path / "job.toml"
    write_atomic(path, content)
    assert path.read_bytes() == (content.encode() if isinstance(content, str) else content)
    write_atomic(str(path), "second")
    assert path.read_text() == "second"
    assert leftovers(tmp_path, "job.toml") == []


def test_permissions_stay_and_a_new_file_gets_the_usual_ones(tmp_path: Path) -> None:
    new, plain = tmp_path / "new", tmp_path / "plain"
    write_atomic(new, "x")
    plain.write_text("x")
    assert stat.S_IMODE(new.stat().st_mode) == stat.S_IMODE(plain.stat().st_mode)
    new.chmod(0o640)
    write_atomic(new, "y")
    assert stat.S_IMODE(new.stat().st_mode) == 0o640


def test_a_link_stays_a_link(tmp_path: Path) -> None:
    (tmp_path / "folder").mkdir()
    target = tmp_path / "folder" / "job.toml"
    target.write_text("old")
    link = tmp_path / "link.toml"
    link.symlink_to(target)
    write_atomic(link, "new")
    assert link.is_symlink()
    assert target.read_text() == "new"


def test_a_folder_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError):
        write_atomic(tmp_path / "absent" / "job.toml", "x")


@pytest.mark.parametrize("step", STEPS)
@pytest.mark.parametrize("error", [OSError(28, "No space left on device"), KeyboardInterrupt()])
def test_a_failure_at_any_step_leaves_the_old_file_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, step: str, error: BaseException
) -> None:
    path = tmp_path / "job.toml"
    path.write_text("old")

    def fail(*args: object, **kwargs: object) -> None:
        raise error

    with monkeypatch.context() as patch:
        if step == "replace":
            patch.setattr(Path, "replace", fail)
        elif step == "close":
            close = os.close

            def close_and_fail(handle: int) -> None:
                close(handle)
                raise error

            patch.setattr("os.close", close_and_fail)
        else:
            patch.setattr(f"os.{step}", fail)
        with pytest.raises(type(error)):
            write_atomic(path, "new")
    assert path.read_text() == "old"
    assert leftovers(tmp_path, "job.toml") == []


def test_short_writes_are_carried_on(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    write = os.write
    monkeypatch.setattr("os.write", lambda handle, data: write(handle, bytes(data[:7])))
    write_atomic(tmp_path / "x", "0123456789" * 5)
    assert (tmp_path / "x").read_text() == "0123456789" * 5


# A child that writes two contents in turn, each of one letter, and at a chosen step of a chosen write kills itself.
SUICIDE = """
import os, signal, sys
from pathlib import Path
import stringline.files as files
path, step, count = sys.argv[1], sys.argv[2], int(sys.argv[3])
seen = 0
def deadly(call, after):
    def wrapped(*args, **kwargs):
        global seen
        seen += 1
        if seen == count and not after:
            os.kill(os.getpid(), signal.SIGKILL)
        result = call(*args, **kwargs)
        if seen == count and after:
            os.kill(os.getpid(), signal.SIGKILL)
        return result
    return wrapped
name, after = step.split("-")
if name == "replace":
    Path.replace = deadly(Path.replace, after == "after")
else:
    if name == "write":
        short = os.write
        os.write = lambda handle, data: short(handle, bytes(data[:4096]))  # many short writes: die between two
    setattr(os, name, deadly(getattr(os, name), after == "after"))
files.write_atomic(path, "n" * 20000)
"""


@pytest.mark.parametrize("when", ["before", "after"])
@pytest.mark.parametrize(
    ("step", "count"),
    [("open", 1), ("write", 1), ("write", 3), ("fchmod", 1), ("fsync", 1), ("replace", 1), ("fsync", 2)],
)
def test_a_kill_at_any_step_leaves_the_old_file_or_the_new_one(
    tmp_path: Path, step: str, count: int, when: str
) -> None:
    path = tmp_path / "job.toml"
    path.write_text("o" * 9000)
    child = subprocess.run(
        [sys.executable, "-c", SUICIDE, str(path), f"{step}-{when}", str(count)], capture_output=True, check=False
    )
    assert child.returncode == -signal.SIGKILL, child.stderr
    renamed = (step, when) == ("replace", "after") or (step, count) == ("fsync", 2)
    assert path.read_text() == ("n" * 20000 if renamed else "o" * 9000)
    write_atomic(path, "again")  # what the dead one left beside it is in nobody's way
    assert path.read_text() == "again"


WRITER = """
import sys
from stringline.files import write_atomic
path = sys.argv[1]
print("ready", flush=True)
while True:
    for letter in "ab":
        write_atomic(path, letter * 200_000)
"""


def test_kills_at_random_moments_leave_a_whole_file(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_text("a" * 200_000)
    chance = random.Random(20)
    for _ in range(12):
        with subprocess.Popen([sys.executable, "-c", WRITER, str(path)], stdout=subprocess.PIPE) as child:
            assert child.stdout is not None
            assert child.stdout.readline() == b"ready\n"
            time.sleep(chance.uniform(0.0, 0.05))
            child.kill()
        text = path.read_text()
        assert len(text) == 200_000
        assert text in ("a" * 200_000, "b" * 200_000)


def test_a_reader_beside_a_writer_never_sees_a_half(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_text("a" * 200_000)
    with subprocess.Popen([sys.executable, "-c", WRITER, str(path)], stdout=subprocess.PIPE) as child:
        try:
            assert child.stdout is not None
            child.stdout.readline()
            seen = {path.read_text() for _ in range(150)}
        finally:
            child.kill()
    assert seen <= {"a" * 200_000, "b" * 200_000}


def test_a_device_is_written_into_and_stays_a_device(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    reader = os.open(pipe, os.O_RDONLY | os.O_NONBLOCK)
    try:
        write_atomic(pipe, "through")
        assert os.read(reader, 100) == b"through"
    finally:
        os.close(reader)
    assert stat.S_ISFIFO(pipe.stat().st_mode)


def test_a_folder_is_not_replaced_by_a_file(tmp_path: Path) -> None:
    (tmp_path / "folder").mkdir()
    with pytest.raises(IsADirectoryError):
        write_atomic(tmp_path / "folder", "x")


def test_several_files_are_all_written_or_none(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    old = {"a.csv": "old a", "b.pdf": "old b"}
    write_all_atomic(tmp_path, old)
    write = os.write

    def full(handle: int, data: bytes) -> int:
        if bytes(data).startswith(b"new b"):
            raise OSError(28, "No space left on device")
        return write(handle, data)

    with monkeypatch.context() as patch:
        patch.setattr("os.write", full)
        with pytest.raises(OSError, match="No space"):
            write_all_atomic(tmp_path, {"a.csv": "new a", "b.pdf": "new b"})
    assert {p.name: p.read_text() for p in tmp_path.iterdir()} == old
    (tmp_path / "c.svg").mkdir()
    with pytest.raises(IsADirectoryError):
        write_all_atomic(tmp_path, {"a.csv": "new a", "c.svg": "x"})
    assert (tmp_path / "a.csv").read_text() == "old a"
    assert leftovers(tmp_path, "a.csv", "b.pdf", "c.svg") == []
