"""The one place where the command line writes files: whole or not at all, over nothing nobody asked to lose, one hand
at a time.
"""

from __future__ import annotations

import contextlib
import errno
import hashlib
import json
import os
import secrets
import stat
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from ampleroom.errors import FileTrouble

PATIENCE = 120.0
"""Seconds to wait for another command that is writing the same file: planning a large job takes a minute."""
MOST_UNDO = 400_000_000
"""The most bytes read of an undo file."""


# ---- which file ------------------------------------------------------------------------------------------------------


def regular_target(path: Path) -> Path:
    """The file a path leads to, links followed, so that a link stays a link. A device, pipe, socket or folder is
    refused.
    """
    try:
        real = path.resolve()
        if path.is_symlink() and not real.exists():
            raise FileTrouble(f"{path} is a link to a file that is not there; nothing was written")
        try:
            mode = real.stat().st_mode
        except FileNotFoundError:
            return real
    except (OSError, RuntimeError) as error:  # a loop of links is a RuntimeError before Python 3.13
        raise cannot_be_written(path, error) from None
    if not stat.S_ISREG(mode):
        sort = "a folder" if stat.S_ISDIR(mode) else "a device or a pipe"
        raise FileTrouble(f"{path} is {sort}, not a file; nothing was written. Choose another name")
    if not os.access(real, os.W_OK):
        raise FileTrouble(f"{path} is write-protected; nothing was written")
    return real


def free_target(path: Path, force: bool = False) -> Path:
    """Where a command may write: nothing is there yet, or a regular file and ``--force``. Asked before the work begins,
    and again by ``save``.
    """
    real = regular_target(path)
    if not force and real.exists():
        raise already_there(path)
    return real


def already_there(path: Path) -> FileTrouble:
    """The error for a file that exists and may not be replaced."""
    return FileTrouble(f"{path} is there already; choose another name, or add --force")


def cannot_be_written(path: Path, error: Exception) -> FileTrouble:
    """The error for a file that cannot be written, with the system's reason."""
    reason = getattr(error, "strerror", None) or error
    return FileTrouble(f"{path} cannot be written: {reason}; nothing was changed")


# ---- writing ---------------------------------------------------------------------------------------------------------


def save(path: Path, data: bytes, *, force: bool = False) -> None:
    """Write a file in one step: the old one or the new one is there, never half of one. Without ``force`` only a new
    one.
    """
    real = free_target(path, force)
    try:
        if real.exists():
            with locked(path) as lock:
                put(real, data, lock=lock)
        else:
            put_new(real, data)
    except FileExistsError:
        if force:
            return save(path, data, force=True)  # somebody made it meanwhile
        raise already_there(path) from None
    except OSError as error:
        raise cannot_be_written(path, error) from None


def put(
    real: Path, data: bytes, *, lock: Lock | None = None, expected: bytes | None = None, like: Path | None = None
) -> None:
    """Replace a file, its permissions kept. ``expected``: what must still be there in the moment before; ``like``: the
    file whose permissions a new one gets. The new file is locked before anybody can see it.
    """
    temporary, handle = temporary_beside(real, private=True)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            keep_permissions(file.fileno(), temporary, real if real.exists() else like)
            os.fsync(file.fileno())
            if lock is not None and real == lock.path:
                lock.keep(file.fileno())
        if expected is not None and real.read_bytes() != expected:
            raise changed_meanwhile(real)
        temporary.replace(real)
    except BaseException:
        temporary.unlink(missing_ok=True)
        raise
    make_last(real.parent)


def put_new(real: Path, data: bytes) -> None:
    """Make a file that is not there; ``FileExistsError`` if somebody else was quicker."""
    temporary, handle = temporary_beside(real, private=False)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        try:
            os.link(temporary, real)
        except FileExistsError:
            raise
        except (OSError, AttributeError, NotImplementedError):  # a file system without hard links
            os.close(os.open(real, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o666))
            temporary.replace(real)
    finally:
        temporary.unlink(missing_ok=True)
    make_last(real.parent)


def temporary_beside(real: Path, private: bool) -> tuple[Path, int]:
    """A new file in the same folder, open for writing; its short name also goes where the target's is as long as may
    be.
    """
    temporary = real.parent / f".ampleroom-{secrets.token_hex(8)}.tmp"
    flags = os.O_CREAT | os.O_EXCL | os.O_RDWR | getattr(os, "O_BINARY", 0)
    return temporary, os.open(temporary, flags, 0o600 if private else 0o666)


def keep_permissions(handle: int, temporary: Path, like: Path | None) -> None:
    """Give the new file owner and permissions of the file ``like``; nothing to do without one."""
    if like is None:
        return
    was = like.stat()
    if hasattr(os, "fchown"):
        with contextlib.suppress(OSError):  # only root may give files away; others keep what they write
            os.fchown(handle, was.st_uid, was.st_gid)
    temporary.chmod(stat.S_IMODE(was.st_mode) & 0o777)


def make_last(folder: Path) -> None:
    """See that a folder's new entries outlast a power cut, where the system can."""
    if hasattr(os, "O_DIRECTORY"):
        with contextlib.suppress(OSError):
            handle = os.open(folder, os.O_DIRECTORY)
            try:
                os.fsync(handle)
            finally:
                os.close(handle)


# ---- one hand at a time ----------------------------------------------------------------------------------------------


class Lock:
    """A file that belongs to this process for a while. It is given up by ``release``, or when the process ends."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.handles: list[int] = []
        self.beside: Path | None = None

    def keep(self, handle: int) -> None:
        """Lock what will be in the file's place too: whoever waits for the old one must then wait for it."""
        if self.beside is None and lock_at_once(handle):
            self.handles.append(os.dup(handle))

    def release(self) -> None:
        """Let go of every file held, and remove the lock file beside the sheet, if there is one."""
        for handle in self.handles:
            os.close(handle)
        self.handles = []
        if self.beside is not None:
            with contextlib.suppress(OSError):  # where another waits for it, it stays for that one
                self.beside.unlink()


def lock_at_once(handle: int) -> bool:
    """Lock an open file; False if another process has it. Where the file system knows no locks, the comparison just
    before replacing guards alone.
    """
    try:
        import fcntl
    except ImportError:
        return lock_at_once_on_windows(handle)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError as error:
        return error.errno not in (errno.EWOULDBLOCK, errno.EACCES)
    return True


def lock_at_once_on_windows(handle: int) -> bool:
    """Lock an open file without waiting; False if another process holds it."""
    import msvcrt

    try:
        msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)  # type: ignore[attr-defined,unused-ignore]
    except OSError:
        return False
    return True


@contextmanager
def locked(path: Path, patience: float | None = None) -> Iterator[Lock]:
    """Hold a file from reading to replacing. A file that is not there needs no lock: making one fails if it exists by
    then.
    """
    try:
        real = path.resolve()
        lock = Lock(real)
    except (OSError, RuntimeError) as error:
        raise cannot_be_written(path, error) from None
    until = time.monotonic() + (PATIENCE if patience is None else patience)
    try:
        while not taken(lock):
            if time.monotonic() > until:
                raise FileTrouble(f"{path} is being changed by another command; nothing was written. Try again later")
            time.sleep(0.02)
        yield lock
    finally:
        lock.release()


def taken(lock: Lock) -> bool:
    """Whether the lock could be had: on the file itself, which still is the one in its place; on Windows, where an open
    file cannot be replaced, on one beside it.
    """
    flags = os.O_RDWR | getattr(os, "O_BINARY", 0) | getattr(os, "O_NONBLOCK", 0)
    where = lock.path
    if os.name == "nt":
        where = lock.beside = lock.path.with_name(f"{lock.path.name}.lock")
        flags |= os.O_CREAT
    try:
        handle = os.open(where, flags)
    except FileNotFoundError:
        return True
    except PermissionError:
        if os.name == "nt":
            return False  # another is just taking it away
        handle = os.open(where, flags & ~os.O_RDWR)
    try:
        if lock_at_once(handle) and (os.name == "nt" or still_there(handle, where)):
            lock.handles.append(handle)
            return True
    except BaseException:
        os.close(handle)
        raise
    os.close(handle)
    return False


def still_there(handle: int, path: Path) -> bool:
    """Whether ``path`` still is the file that was opened; False if it was replaced or removed."""
    try:
        return os.path.samestat(os.fstat(handle), path.stat())
    except FileNotFoundError:
        return False


# ---- writing that can be taken back ----------------------------------------------------------------------------------


def undo_file(path: Path) -> Path:
    """Where the sheet as it was before the last change is kept."""
    return path.with_name(path.name + ".undo")


def before_file(path: Path) -> Path:
    """Where the sheet as it was is put, when bringing it back would lose what was written since."""
    return path.with_name(path.name + ".before")


def changed_meanwhile(path: Path) -> FileTrouble:
    """The error for a file that somebody else changed since it was read."""
    return FileTrouble(f"{path} was changed in the meantime; nothing was written. Look at it and try again")


def save_with_undo(path: Path, text: str, was: str | None = None, lock: Lock | None = None) -> None:
    """Keep the file's bytes as they are now, then write the new text. Every write can be undone, the last one first.

    ``was``: the text the new one was made from; if the file has another one by now, nothing is written. ``lock``: one
    that is held since that text was read; without it the file is locked here.
    """
    real = regular_target(path)
    with contextlib.ExitStack() as stack:
        lock = lock or stack.enter_context(locked(path))
        try:
            before = real.read_bytes()
            if was is not None and before != was.encode("utf-8"):
                raise changed_meanwhile(path)
            after = text.encode("utf-8")
            step = {"after_sha256": hashlib.sha256(after).hexdigest(), "before_hex": before.hex()}
            steps = kept_steps(path)
            write_steps(path, [*steps, step])
            try:
                put(real, after, lock=lock, expected=before)
            except BaseException:
                write_steps(path, steps)
                raise
        except OSError as error:
            raise cannot_be_written(path, error) from None


def write_steps(path: Path, steps: list[dict[str, str]]) -> None:
    """The undo file beside a sheet, as private as the sheet; gone where nothing is left to undo."""
    real = regular_target(undo_file(path))
    if steps:
        put(real, json.dumps({"sheet": path.name, "steps": steps}).encode(), like=path if path.exists() else None)
    else:
        real.unlink(missing_ok=True)


def kept_steps(path: Path) -> list[dict[str, str]]:
    """What was kept of every write, the last one last."""
    try:
        real = regular_target(undo_file(path))
        with real.open("rb") as file:
            steps: list[dict[str, str]] = json.loads(file.read(MOST_UNDO))["steps"]
        for step in steps:
            bytes.fromhex(step["before_hex"])
            step["after_sha256"].lower()
    except FileNotFoundError:
        return []
    except (ValueError, KeyError, TypeError, AttributeError, OSError, RecursionError) as error:
        raise FileTrouble(
            f"{undo_file(path)} cannot be read ({error}); move it away first. Nothing was changed"
        ) from None
    return steps


def undo(path: Path) -> str:
    """Bring a sheet back byte for byte as it was before the last write; if it was changed since by hand, both are
    kept.
    """
    with locked(path) as lock:
        steps = kept_steps(path)
        if not steps:
            raise FileTrouble(f"there is nothing to undo for {path}")
        last = steps.pop()
        before = bytes.fromhex(last["before_hex"])
        real = regular_target(path)
        try:
            now = real.read_bytes() if real.exists() else None
            if now not in (None, before) and hashlib.sha256(now or b"").hexdigest() != last["after_sha256"]:
                raise stale_undo(path, before)
            if now is None:
                put_new(real, before)
            elif now != before:
                put(real, before, lock=lock, expected=now)
            write_steps(path, steps)
        except FileExistsError:
            raise changed_meanwhile(path) from None
        except OSError as error:
            raise cannot_be_written(path, error) from None
    more = f"; {len(steps)} more can be undone" if steps else ""
    return f"{path} is as it was before{more}."


def stale_undo(path: Path, before: bytes) -> FileTrouble:
    """The sheet stays as it is, and what it was before is put beside it."""
    beside = before_file(path)
    sentence = f"{path} was changed since; going back would lose that change, so the file stays as it is"
    if not (beside.is_file() and beside.read_bytes() == before):
        try:
            save(beside, before)
        except FileTrouble as trouble:
            return FileTrouble(f"{sentence}. The version before is kept in {undo_file(path)} ({trouble})")
    return FileTrouble(f"{sentence}. The version before is now in {beside}: compare the two")
