"""Saving a sheet so that neither a crash nor a power cut loses anything, and so that it can be brought back."""

from __future__ import annotations

import hashlib
import json
import os
import tempfile
from pathlib import Path

from ampleroom.errors import FileTrouble


def save(path: Path, data: bytes) -> None:
    """Write beside the file, make it last, then put it in its place in one step: the old one or the new one is there."""
    try:
        handle, name = tempfile.mkstemp(prefix=f".{path.name}.", suffix=".tmp", dir=path.parent)
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(data)
                file.flush()
                os.fsync(file.fileno())
            if path.exists():
                Path(name).chmod(path.stat().st_mode & 0o777)
            else:
                Path(name).chmod(0o644)
            Path(name).replace(path)
        except BaseException:
            Path(name).unlink(missing_ok=True)
            raise
        if hasattr(os, "O_DIRECTORY"):
            folder = os.open(path.parent, os.O_DIRECTORY)
            try:
                os.fsync(folder)
            finally:
                os.close(folder)
    except OSError as error:
        raise FileTrouble(f"{path} cannot be written: {error.strerror or error}; nothing was changed") from None


def undo_file(path: Path) -> Path:
    return path.with_name(path.name + ".undo")


def save_with_undo(path: Path, text: str) -> None:
    """Keep the file's bytes as they are now, then write the new text. Every write can be undone, the last one first."""
    before = path.read_bytes()
    after = text.encode("utf-8")
    step = {"after_sha256": hashlib.sha256(after).hexdigest(), "before_hex": before.hex()}
    save(undo_file(path), json.dumps({"sheet": path.name, "steps": [*kept_steps(path), step]}).encode())
    save(path, after)


def kept_steps(path: Path) -> list[dict[str, str]]:
    try:
        steps: list[dict[str, str]] = json.loads(undo_file(path).read_text("utf-8"))["steps"]
        return steps
    except FileNotFoundError:
        return []
    except (ValueError, KeyError, TypeError, OSError) as error:
        raise FileTrouble(
            f"{undo_file(path)} cannot be read ({error}); move it away first. Nothing was changed"
        ) from None


def undo(path: Path) -> str:
    """Bring a sheet back byte for byte as it was before the last write; refused if it was changed since by hand."""
    steps = kept_steps(path)
    if not steps:
        raise FileTrouble(f"there is nothing to undo for {path}")
    last = steps.pop()
    before = bytes.fromhex(last["before_hex"])
    now = path.read_bytes() if path.exists() else b""
    if now != before and hashlib.sha256(now).hexdigest() != last["after_sha256"]:
        raise FileTrouble(
            f"{path} was changed since; bringing it back would lose that. The old bytes are in {undo_file(path)}"
        )
    save(path, before)
    if steps:
        save(undo_file(path), json.dumps({"sheet": path.name, "steps": steps}).encode())
        return f"{path} is as it was before; {len(steps)} more can be undone."
    undo_file(path).unlink()
    return f"{path} is as it was before."
