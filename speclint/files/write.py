"""Writes a file so that it is either the old one or the whole new one, never half of it."""

from __future__ import annotations

import contextlib
import errno
import os
import stat

from speclint.kernel.faults import UsageFault


def replace_file(path: str, text: str) -> None:
    """Put a text in the place of a file as ``replace_bytes`` does."""
    replace_bytes(path, text.encode("utf-8", "surrogatepass"))


def replace_bytes(path: str, data: bytes) -> None:
    """Put bytes in the place of a file, or make it; the mode of the old file is kept, a link is written through.

    Raises UsageFault that names the file and the reason; the old file is then untouched.
    """
    real = os.path.realpath(path)
    folder, name = os.path.split(real)
    beside = os.path.join(folder, f".{name[:200]}.{os.getpid()}.new")
    try:
        mode = _mode(real)
        stream = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o666)
        try:
            with open(stream, "wb") as file:
                file.write(data)
                file.flush()
                os.fsync(file.fileno())
            if mode is not None:
                os.chmod(beside, mode)
            os.replace(beside, real)
        except BaseException:
            with contextlib.suppress(OSError):
                os.unlink(beside)
            raise
    except OSError as error:
        raise UsageFault(f"{path} cannot be written: {_reason(error, folder)}") from None


def _mode(path: str) -> int | None:
    """The mode of a file that is there; raises OSError when something else than a file is in the way."""
    try:
        found = os.stat(path).st_mode
    except FileNotFoundError:
        return None
    if not stat.S_ISREG(found):
        raise OSError(errno.EISDIR if stat.S_ISDIR(found) else errno.EINVAL, "it is no plain file")
    return stat.S_IMODE(found)


def _reason(error: OSError, folder: str) -> str:
    if error.errno in (errno.EACCES, errno.EPERM, errno.EROFS):
        return f"the folder {folder or '.'} is read-only for you"
    if error.errno == errno.ENOENT:
        return f"there is no folder {folder or '.'}"
    return (error.strerror or "it failed").lower()


def make_folder(path: str) -> None:
    """Make a folder where there is none; raises UsageFault that names it and the reason."""
    try:
        os.makedirs(path, exist_ok=True)
    except OSError as error:
        raise UsageFault(f"{path} cannot be made: {(error.strerror or 'it failed').lower()}") from None
