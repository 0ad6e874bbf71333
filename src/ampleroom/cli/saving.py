"""Saving a sheet so that neither a crash nor a power cut loses anything, and so that it can be brought back."""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import tempfile
from pathlib import Path

from ampleroom.errors import FileTrouble


def save(path: Path, data: bytes) -> None:
    """Write beside the file, make it last, then put it in its place in one step: the old one or the new one is there."""
    try:
        path = path.resolve()  # a link stays a link
        handle, name = tempfile.mkstemp(prefix=f".{path.name}.", suffix=".tmp", dir=path.parent)
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(data)
                file.flush()
                os.fsync(file.fileno())
            Path(name).chmod(path.stat().st_mode & 0o777 if path.exists() else 0o644)
            Path(name).replace(path)
        except BaseException:
            Path(name).unlink(missing_ok=True)
            raise
    except OSError as error:
        raise FileTrouble(f"{path} cannot be written: {error.strerror or error}; nothing was changed") from None
    make_last(path.parent)


def make_last(folder: Path) -> None:
    """See that a folder's new entries outlast a power cut, where the system can."""
    if hasattr(os, "O_DIRECTORY"):
        with contextlib.suppress(OSError):
            handle = os.open(folder, os.O_DIRECTORY)
            try:
                os.fsync(handle)
            finally:
                os.close(handle)


def undo_file(path: Path) -> Path:
    return path.with_name(path.name + ".undo")


def save_with_undo(path: Path, text: str, was: str | None = None) -> None:
    """Keep the file's bytes as they are now, then write the new text. Every write can be undone, the last one first.

    ``was``: the text the new one was made from; if the file has another one by now, nothing is written.
    """
    before = path.read_bytes()
    if was is not None and before != was.encode("utf-8"):
        raise FileTrouble(f"{path} was changed meanwhile; nothing was written. Look at it and try again")
    after = text.encode("utf-8")
    step = {"after_sha256": hashlib.sha256(after).hexdigest(), "before_hex": before.hex()}
    save(undo_file(path), undo_text(path, [*kept_steps(path), step]))
    save(path, after)


def undo_text(path: Path, steps: list[dict[str, str]]) -> bytes:
    return json.dumps({"sheet": path.name, "steps": steps}).encode()


def kept_steps(path: Path) -> list[dict[str, str]]:
    """What was kept of every write, the last one last."""
    try:
        steps: list[dict[str, str]] = json.loads(undo_file(path).read_text("utf-8"))["steps"]
        for step in steps:
            bytes.fromhex(step["before_hex"])
            step["after_sha256"].lower()
    except FileNotFoundError:
        return []
    except (ValueError, KeyError, TypeError, AttributeError, OSError) as error:
        raise FileTrouble(
            f"{undo_file(path)} cannot be read ({error}); move it away first. Nothing was changed"
        ) from None
    return steps


def undo(path: Path) -> str:
    """Bring a sheet back byte for byte as it was before the last write; refused if it was changed since by hand."""
    steps = kept_steps(path)
    if not steps:
        raise FileTrouble(f"there is nothing to undo for {path}")
    last = steps.pop()
    before = bytes.fromhex(last["before_hex"])
    now = path.read_bytes() if path.exists() else before
    if now != before and hashlib.sha256(now).hexdigest() != last["after_sha256"]:
        raise FileTrouble(
            f"{path} was changed since; bringing it back would lose that. The old bytes are in {undo_file(path)}"
        )
    save(path, before)
    if steps:
        save(undo_file(path), undo_text(path, steps))
        return f"{path} is as it was before; {len(steps)} more can be undone."
    undo_file(path).unlink()
    return f"{path} is as it was before."
