"""Write files so that a kill at any moment leaves the old file or the new one, never a half."""

from __future__ import annotations

import contextlib
import os
import secrets
import stat
from pathlib import Path


def write_atomic(path: str | Path, content: bytes | str) -> None:
    """Put ``content`` (text as UTF-8, line ends as they are) in the place of what is at ``path``.

    The new file is written beside the old one, forced to disk, given the old one's permissions, and renamed over it;
    then the folder is forced to disk. A symbolic link stays a link: what it points at is replaced. Raises OSError
    where any step fails; the old file is then untouched and nothing is left beside it.
    """
    target = Path(os.path.realpath(path))
    data = content.encode("utf-8") if isinstance(content, str) else content
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
        beside.replace(target)
    except BaseException:
        with contextlib.suppress(OSError):
            beside.unlink()
        raise
    _sync_folder(target.parent)


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
