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
    """Keep the file's bytes as they are now, then write the new text."""
    before = path.read_bytes()
    after = text.encode("utf-8")
    kept = {"sheet": path.name, "after_sha256": hashlib.sha256(after).hexdigest(), "before_hex": before.hex()}
    save(undo_file(path), json.dumps(kept).encode())
    save(path, after)


def undo(path: Path) -> str:
    """Bring a sheet back byte for byte; refused if it was changed since."""
    try:
        kept = json.loads(undo_file(path).read_text("utf-8"))
        before = bytes.fromhex(kept["before_hex"])
    except FileNotFoundError:
        raise FileTrouble(f"there is nothing to undo for {path}") from None
    except (ValueError, KeyError, OSError) as error:
        raise FileTrouble(f"{undo_file(path)} cannot be read ({error}); nothing was changed") from None
    now = path.read_bytes() if path.exists() else b""
    if now == before:
        undo_file(path).unlink()
        return f"{path} is as it was before already."
    if hashlib.sha256(now).hexdigest() != kept["after_sha256"]:
        raise FileTrouble(
            f"{path} was changed since; bringing it back would lose that. The old bytes are in {undo_file(path)}"
        )
    save(path, before)
    undo_file(path).unlink()
    return f"{path} is as it was before."
