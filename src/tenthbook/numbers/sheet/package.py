"""Is it safe to unpack what somebody sent as a workbook?

A workbook is a zip of markup. Before anything is inflated the directory of the zip is judged: names, sizes, ratios,
macros, encryption. While parts are read, what really comes out is counted; markup that declares entities stops the
reading. Nothing is written anywhere, no link is followed, and a name inside the zip is only ever looked up.

Goes in: bytes. Comes out: the parts, as trees or piece by piece, or a `BadTable`.
Source for the form: ISO/IEC 29500-2 (Open Packaging Conventions), from memory.
"""

from __future__ import annotations

import io
import re
import struct
import zipfile
import zlib
from collections import Counter
from collections.abc import Callable, Iterator
from xml.etree.ElementTree import Element, ParseError
from xml.sax import SAXParseException
from xml.sax.handler import ContentHandler

from tenthbook.numbers.because import Fault
from tenthbook.numbers.sheet.grid import BadTable

_MOST_PACKED = 50_000_000
_MOST_UNPACKED = 200_000_000
_MOST_IN_A_TREE = 4_000_000
_MOST_PARTS = 1_000
_MOST_RATIO = 200
_RATIO_MATTERS_FROM = 1_000_000
_PIECE = 1 << 18

_ZIP, _DIRECTORY_ENTRY = b"PK\x03\x04", b"PK\x01\x02"
_COMPOUND_FILE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_ENCRYPTED_STREAM = "EncryptedPackage".encode("utf-16-le")
_UNSAFE_NAME = re.compile(r"^/|^[A-Za-z]:|\\|(^|/)\.\.?(/|$)|//|[\x00-\x1f\x7f]")
_MACROS = re.compile(r"vbaproject|macrosheets?/|activex", re.IGNORECASE)
_TORN = (zipfile.BadZipFile, EOFError, NotImplementedError, OSError, RuntimeError, ValueError, struct.error, zlib.error)

_WORKBOOK = "a workbook saved as XLSX"
_RESAVE = "a whole workbook; open it in the spreadsheet and save it again as XLSX"


def _bad(name: str, found: str, expected: str) -> BadTable:
    return BadTable([Fault(name, found, expected)])


def _check_envelope(name: str, content: bytes) -> None:
    if len(content) > _MOST_PACKED:
        raise _bad(name, f"{len(content)} bytes", f"at most {_MOST_PACKED}")
    if content.startswith(_COMPOUND_FILE):
        if _ENCRYPTED_STREAM in content:
            raise _bad(name, "an encrypted workbook", "one saved without a password")
        raise _bad(name, "a workbook of the old binary kind", "the same, saved as XLSX")
    if not content.startswith(_ZIP):
        raise _bad(name, "bytes that are no workbook", _WORKBOOK)
    if content.count(_DIRECTORY_ENTRY) > _MOST_PARTS:
        raise _bad(name, f"more than {_MOST_PARTS} parts inside", f"a workbook of at most {_MOST_PARTS} parts")


def _name_faults(name: str, parts: list[zipfile.ZipInfo]) -> Iterator[Fault]:
    plain = "plain names of parts; save it again as XLSX"
    for part in parts:
        if _UNSAFE_NAME.search(part.orig_filename):
            yield Fault(name, f"a part called {part.orig_filename!r}", plain)
    for twice, count in Counter(part.filename.lower() for part in parts).items():
        if count > 1:
            yield Fault(name, f"{count} parts called {twice!r}", "each part once; save it again as XLSX")


def _size_faults(name: str, parts: list[zipfile.ZipInfo]) -> Iterator[Fault]:
    unpacked = sum(part.file_size for part in parts)
    if unpacked > _MOST_UNPACKED:
        yield Fault(name, f"{unpacked} bytes once unpacked", f"at most {_MOST_UNPACKED}; delete blank formatted rows")
    for part in parts:
        if part.file_size > max(_RATIO_MATTERS_FROM, _MOST_RATIO * part.compress_size):
            found = f"part {part.filename!r} packed more than {_MOST_RATIO} times"
            yield Fault(name, found, "a workbook as a spreadsheet saves it")


def _kind_faults(name: str, parts: list[zipfile.ZipInfo]) -> Iterator[Fault]:
    if any(part.flag_bits & 1 for part in parts):
        yield Fault(name, "an encrypted workbook", "one saved without a password")
    if any(part.compress_type not in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED) for part in parts):
        yield Fault(name, "parts packed in an unusual way", _RESAVE)
    if any(_MACROS.search(part.filename) for part in parts):
        yield Fault(name, "a workbook with macros", "one without; save it as XLSX")


def _folded(path: str) -> str:
    return path.removeprefix("/").lower()


class Package:
    """The parts of a workbook whose directory has been judged."""

    def __init__(self, name: str, content: bytes) -> None:
        """Judge the directory, inflate nothing.

        Args:
            name: What to call the file in a fault.
            content: Its bytes.

        Raises:
            BadTable: it is no zip, torn, encrypted, with macros, too large, or with names that no workbook has.
        """
        _check_envelope(name, content)
        self.name = name
        try:
            self._zip = zipfile.ZipFile(io.BytesIO(content))
        except _TORN as error:
            raise _bad(name, "a torn file", _RESAVE) from error
        parts = self._zip.infolist()
        faults = [fault for judge in (_name_faults, _size_faults, _kind_faults) for fault in judge(name, parts)]
        if faults:
            raise BadTable(faults)
        self._parts = {_folded(part.filename): part for part in parts}
        self._left = _MOST_UNPACKED

    def holds(self, path: str) -> bool:
        """Say whether a part is there.

        Args:
            path: Its name inside the zip, in capitals or not.

        Returns:
            True if it is.
        """
        return _folded(path) in self._parts

    def pieces(self, path: str) -> Iterator[bytes]:
        """Inflate a part, counting what comes out over all parts together.

        Args:
            path: Its name inside the zip.

        Yields:
            Its bytes, a piece at a time.

        Raises:
            BadTable: no such part, a torn one, or more than a workbook may hold.
        """
        part = self._parts.get(_folded(path))
        if part is None:
            raise _bad(self.name, f"no part {path!r} inside", _RESAVE)
        try:
            with self._zip.open(part) as stream:
                while piece := stream.read(_PIECE):
                    self._left -= len(piece)
                    if self._left < 0:
                        raise _bad(self.name, f"more than {_MOST_UNPACKED} bytes once unpacked", "a smaller workbook")
                    yield piece
        except _TORN as error:
            raise _bad(self.name, f"a torn part {path!r}", _RESAVE) from error

    def tree(self, path: str) -> Element:
        """Read a small part whole.

        Args:
            path: Its name inside the zip.

        Returns:
            Its outermost element.

        Raises:
            BadTable: as `pieces`, or markup that is torn, too long, or declares entities.
        """
        from defusedxml import DefusedXmlException
        from defusedxml.ElementTree import fromstring

        content = bytearray()
        for piece in self.pieces(path):
            content += piece
            if len(content) > _MOST_IN_A_TREE:
                raise _bad(self.name, f"part {path!r} of more than {_MOST_IN_A_TREE} bytes", "a smaller workbook")
        try:
            root: Element = fromstring(bytes(content), forbid_dtd=True)
        except (ParseError, LookupError, ValueError) as error:
            raise self._bad_markup(path, declares=isinstance(error, DefusedXmlException)) from error
        return root

    def walk(
        self,
        path: str,
        start: Callable[[str, dict[str, str]], None],
        end: Callable[[str], None],
        text: Callable[[str], None],
    ) -> None:
        """Read a large part element by element, keeping nothing of it.

        Args:
            path: Its name inside the zip.
            start: Called with name and attributes of an element that begins.
            end: Called with the name of an element that ends.
            text: Called with text, in as many pieces as come.

        Raises:
            BadTable: as `pieces`, or markup that is torn or declares entities.
        """
        from defusedxml import DefusedXmlException
        from defusedxml.sax import make_parser

        handler, parser = ContentHandler(), make_parser()
        parser.setContentHandler(handler)
        vars(handler).update(characters=text)
        # The parser has an element wrapped once more by methods of these names: in their place it is twice as fast.
        vars(parser).update(forbid_dtd=True, start_element=start, end_element=end)
        try:
            parser.feed(b"")  # so that a part without a single byte is torn, too
            for piece in self.pieces(path):
                parser.feed(piece)
            parser.close()
        except DefusedXmlException as error:
            raise self._bad_markup(path, declares=True) from error
        except (SAXParseException, LookupError, ValueError) as error:
            raise self._bad_markup(path, declares=False) from error

    def _bad_markup(self, path: str, *, declares: bool) -> BadTable:
        found = f"part {path!r} that declares a document type" if declares else f"torn markup in part {path!r}"
        return _bad(self.name, found, _RESAVE)
