"""Write files so that a kill at any moment leaves the old file or the new one, never a half."""

from __future__ import annotations

import contextlib
import errno
import os
import secrets
import stat
from collections.abc import Mapping
from pathlib import Path


def write_atomic(path: str | Path, content: bytes | str) -> None:
    """Put ``content`` (text as UTF-8, line ends as they are) in the place of what is at ``path``.

    The new file is written beside the old one, forced to disk, given the old one's permissions, and renamed over it;
    then the folder is forced to disk. A symbolic link stays a link: what it points at is replaced. A device or a pipe
    is written into. Raises OSError where any step fails; the old file is then untouched and nothing is left beside it.
    """
    target = Path(os.path.realpath(path))
    data = content.encode("utf-8") if isinstance(content, str) else content
    if target.exists() and not target.is_file():
        _write_through(target, data)
        return
    beside = _written_beside(target, data)
    _move(beside, target)
    _sync_folder(target.parent)


def write_all_atomic(folder: str | Path, contents: Mapping[str, bytes | str]) -> None:
    """Put several files into a folder. Nothing is replaced before every one of them is on the disk in full.

    Raises OSError where any cannot be written, as on a full disk; every old file is then untouched and nothing is left
    beside it. A kill between the renames at the end leaves each file old or new.
    """
    ready: list[tuple[Path, Path]] = []
    try:
        for name, content in contents.items():
            target = Path(os.path.realpath(Path(folder) / name))
            if target.is_dir():
                raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR), str(target))
            data = content.encode("utf-8") if isinstance(content, str) else content
            ready.append((_written_beside(target, data), target))
        for beside, target in ready:
            beside.replace(target)
    except BaseException:
        for beside, _ in ready:
            with contextlib.suppress(OSError):
                beside.unlink()
        raise
    for parent in {target.parent for _, target in ready}:
        _sync_folder(parent)


def _write_through(target: Path, data: bytes) -> None:
    """Write into a device or a pipe, which is never replaced by a file. Raises OSError, also for a folder."""
    handle = os.open(target, os.O_WRONLY)
    try:
        _write_all(handle, data)
    finally:
        os.close(handle)


def _move(beside: Path, target: Path) -> None:
    try:
        beside.replace(target)
    except BaseException:
        with contextlib.suppress(OSError):
            beside.unlink()
        raise


def _written_beside(target: Path, data: bytes) -> Path:
    """A new file beside ``target`` with its permissions, forced to disk; none is left where that fails."""
    beside = target.with_name(f".{target.name[:40]}.{secrets.token_hex(8)}.tmp")
    handle = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL | os.O_CLOEXEC, 0o666)
    try:
        try:
            with contextlib.suppress(FileNotFoundError):
                os.fchmod(handle, stat.S_IMODE(target.stat().st_mode))
            _write_all(handle, data)
            os.fsync(handle)
        finally:
            os.close(handle)
    except BaseException:
        with contextlib.suppress(OSError):
            beside.unlink()
        raise
    return beside


def _write_all(handle: int, data: bytes) -> None:
    view = memoryview(data)
    while view:
        view = view[os.write(handle, view) :]


def _sync_folder(folder: Path) -> None:
    """Force the rename to disk; file systems that cannot do so for a folder say so, and lose nothing by it."""
    handle = os.open(folder, os.O_RDONLY)
    try:
        with contextlib.suppress(OSError):
            os.fsync(handle)
    finally:
        os.close(handle)
