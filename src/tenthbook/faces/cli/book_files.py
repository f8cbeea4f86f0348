"""A book on disk: a folder or a workbook, read with care and written whole or not at all."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from tenthbook.faces.cli.output import CannotWrite, check_free, write_file
from tenthbook.numbers.because import Fault, TenthbookError, WrongInput

if TYPE_CHECKING:
    from tenthbook.record.book.drafting import Draft

MOST_BYTES = 50_000_000
WORKBOOK_ENDING = ".xlsx"
_READ = (".toml", ".csv", ".tsv", WORKBOOK_ENDING, ".xlsm", ".xls", ".ods")
_BOOK_READS = (".toml", ".csv")
_OTHER_FILES = (".xls", ".xlsm", ".ods", ".csv", ".tsv", ".toml", ".zip", ".pdf")


class NoBook(TenthbookError):
    """A path that holds no book."""


def is_workbook(path: Path) -> bool:
    """Say whether a path is meant as a workbook.

    Args:
        path: A path, there or not.

    Returns:
        True by its ending; everything else is a folder.
    """
    return path.suffix.lower() == WORKBOOK_ENDING


def _fault(path: Path) -> Fault | None:
    """Say why a file cannot be read."""
    try:
        if path.is_dir():
            return Fault(path.name, "a folder", "a file")
        if not path.is_file():
            return Fault(path.name, "something that is no file", "a file")
        size = path.stat().st_size
    except OSError as error:
        return _unreadable(path, error)
    return Fault(path.name, f"{size} bytes", f"at most {MOST_BYTES}") if size > MOST_BYTES else None


def _unreadable(path: Path, error: OSError) -> Fault:
    return Fault(path.name, f"a file that cannot be read: {error.strerror}", "one that can")


def read_files(folder: Path) -> dict[str, bytes]:
    """Read the files of a book.

    Args:
        folder: Its folder.

    Returns:
        Content by file name: `book.toml`, tables, and whatever else looks like one; of what is no table of a book the
        name alone, with no content.

    Raises:
        NoBook: the folder is not there or cannot be read.
        WrongInput: files that cannot be read or are too large, all of them.
    """
    try:
        found = sorted(path for path in folder.iterdir() if path.suffix.lower() in _READ)
    except OSError as error:
        raise NoBook(found=f"{folder}: {error.strerror}", expected="a folder with book.toml, or a workbook") from error
    faults = [fault for path in found if (fault := _fault(path))]
    files = {}
    for path in found if not faults else ():
        try:
            files[path.name] = path.read_bytes() if path.suffix in _BOOK_READS else b""
        except OSError as error:
            faults.append(_unreadable(path, error))
    if faults:
        raise WrongInput(faults)
    return files


def read_draft(path: Path) -> Draft:
    """Read a book, sound or not.

    Args:
        path: Its folder, or its workbook.

    Returns:
        The draft.

    Raises:
        NoBook: there is none.
        WrongInput: files that cannot be read or are too large.
    """
    from tenthbook.record.book.reading import draft_book
    from tenthbook.record.book.workbook import draft_workbook

    if path.is_dir():
        return draft_book(read_files(path))
    if not is_workbook(path) or not path.exists():
        found = f"the file {path}" if path.exists() else f"nothing at {path}"
        raise NoBook(found=found, expected="the folder of a book, or a workbook that ends in .xlsx")
    fault = _fault(path)
    if fault:
        raise WrongInput([fault])
    try:
        content = path.read_bytes()
    except OSError as error:
        raise NoBook(found=f"{path}: {error.strerror}", expected="a workbook that can be read") from error
    return draft_workbook(path.name, content)


def _strangers(folder: Path, files: Mapping[str, bytes]) -> Iterator[str]:
    from tenthbook.record.book.empty import COLUMNS_FILE

    yield from (path.name for path in sorted(folder.iterdir()) if path.name not in (*files, COLUMNS_FILE))


def check_folder(target: Path, files: Mapping[str, bytes], *, replace: bool = False) -> None:
    """Refuse to write a book over what lies in a folder.

    Args:
        target: The folder; it may be there and empty.
        files: What would be written, by name.
        replace: Whether a book that lies there gives way; any other file there stops it.

    Raises:
        CannotWrite: something lies there.
    """
    if not target.exists() and not target.is_symlink():
        return
    if not target.is_dir() or target.is_symlink():
        raise CannotWrite(found=f"{target}, which is no folder", expected="a folder, or a name that is free")
    if not any(target.iterdir()):
        return
    if not replace:
        raise CannotWrite(found=f"the folder {target} with files in it", expected="an empty folder, or one that is new")
    strangers = list(_strangers(target, files))
    if strangers:
        todo = "take it out, or name another folder"
        raise CannotWrite(found=f"{strangers[0]} in {target}", expected="files of a book alone", todo=todo)


def _swap(part: Path, target: Path) -> None:
    """Put a finished folder where another stands; the other comes back if that fails."""
    if not target.exists():
        part.rename(target)
        return
    old = part.with_name(f"{part.name}.old")
    target.rename(old)
    try:
        part.rename(target)
    except OSError:
        old.rename(target)
        raise
    shutil.rmtree(old, ignore_errors=True)


def write_folder(target: Path, files: Mapping[str, bytes], *, replace: bool = False) -> None:
    """Write the folder of a book whole or not at all.

    Args:
        target: The folder; it may be there and empty.
        files: Content by file name.
        replace: Whether a book that lies there gives way; any other file there stops it.

    Raises:
        CannotWrite: something lies there, or the folder cannot be written; nothing was changed.
    """
    part: Path | None = None
    try:
        check_folder(target, files, replace=replace)
        part = Path(tempfile.mkdtemp(prefix=f".{target.name}.", dir=target.absolute().parent))
        part.chmod(0o777 & ~_mask())
        for name, content in files.items():
            (part / name).write_bytes(content)
        _swap(part, target.absolute())
    except OSError as error:
        raise CannotWrite(found=f"{target}: {error.strerror or error}", expected="a folder to write into") from error
    finally:
        if part is not None:
            shutil.rmtree(part, ignore_errors=True)


def _mask() -> int:
    mask = os.umask(0o022)
    os.umask(mask)
    return mask


def check_file(target: Path, *, replace: bool = False) -> None:
    """Refuse to write a workbook over what lies there.

    Args:
        target: The file.
        replace: Whether a file that lies there gives way.

    Raises:
        CannotWrite: something lies there.
    """
    if target.is_dir():
        raise CannotWrite(found=f"{target}, a folder", expected="a file that ends in .xlsx")
    check_free(target, replace=replace)


def write_workbook_file(target: Path, content: bytes, *, replace: bool = False) -> None:
    """Write a workbook whole or not at all.

    Args:
        target: The file.
        content: Its bytes.
        replace: Whether a file that lies there gives way.

    Raises:
        CannotWrite: something lies there, or the folder cannot be written.
    """
    check_file(target, replace=replace)
    write_file(target, content)


def write_book(target: Path, draft: Draft, *, replace: bool = False) -> None:
    """Write a book whole or not at all: as a workbook where the target ends in .xlsx, as a folder otherwise.

    Args:
        target: Where to.
        draft: The book.
        replace: Whether a book that lies there gives way.

    Raises:
        CannotWrite: something lies there, the target names another kind of file, or it cannot be written.
    """
    from tenthbook.record.book.empty import book_files, explaining_page
    from tenthbook.record.book.workbook import book_workbook

    if target.suffix.lower() in _OTHER_FILES:
        raise CannotWrite(found=str(target), expected="a folder, or a workbook that ends in .xlsx")
    if is_workbook(target):
        write_workbook_file(target, book_workbook(draft), replace=replace)
    else:
        write_folder(target, {**book_files(draft), **explaining_page()}, replace=replace)
