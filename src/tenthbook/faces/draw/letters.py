"""How wide a line of text is, and where it is broken.

Widths are the advance widths of the project's own letters; a reader without them gets another face, so every width is
taken a little larger. A text is broken between words, and inside a word only where the word alone is wider than the
room.

Source: the `hmtx` tables of the vendored fonts, signs U+0020 to U+007E. Checked in: tests/unit/draw/test_letters.py
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from tenthbook.faces.draw.svg import plain

MONO = 632
PLAIN = (
    *(280, 286, 301, 651, 592, 919, 731, 160, 299, 299, 485, 606, 210, 362, 210, 387, 648, 407, 548),
    *(576, 614, 588, 598, 510, 615, 595, 210, 210, 553, 628, 553, 480, 778, 626, 613, 645, 669, 569),
    *(552, 694, 694, 392, 512, 631, 541, 824, 693, 714, 592, 724, 614, 592, 558, 690, 593, 856, 623),
    *(575, 607, 317, 387, 344, 552, 372, 243, 525, 566, 485, 564, 538, 314, 558, 550, 252, 245, 492),
    *(262, 845, 550, 548, 566, 574, 349, 471, 326, 540, 461, 684, 481, 449, 460, 344, 237, 344, 555),
)
BOLD = (
    *(312, 303, 390, 765, 610, 969, 725, 210, 335, 335, 485, 595, 271, 373, 272, 440, 659, 440, 579),
    *(600, 624, 607, 626, 537, 624, 571, 272, 272, 569, 612, 569, 547, 781, 678, 643, 658, 688, 597),
    *(566, 718, 701, 424, 561, 663, 552, 858, 717, 746, 629, 756, 650, 610, 607, 686, 644, 886, 685),
    *(650, 618, 340, 440, 344, 582, 400, 288, 552, 596, 510, 596, 563, 365, 593, 571, 300, 259, 555),
    *(318, 882, 571, 576, 596, 599, 376, 508, 376, 567, 530, 740, 539, 521, 505, 381, 254, 381, 537),
)
_ELSEWHERE = 1020  # no sign of the fonts is wider
_LOOSE = 1.04


@dataclass(frozen=True, slots=True)
class Run:
    """A stretch of text in one face.

    Attributes:
        text: The text, on one line.
        mono: Whether it is digits, set in the monospaced face.
        bold: Whether it is set heavier.
    """

    text: str
    mono: bool = False
    bold: bool = False


Line = tuple[Run, ...]


def words(text: str, *, bold: bool = False) -> Line:
    """Make a line of words.

    Args:
        text: Any text.
        bold: Whether it is set heavier.

    Returns:
        The line; empty for an empty text.
    """
    return (Run(plain(text), bold=bold),) if plain(text) else ()


def digits(text: str, *, bold: bool = False) -> Line:
    """Make a line of digits.

    Args:
        text: Digits as printed.
        bold: Whether they are set heavier.

    Returns:
        The line; empty for an empty text.
    """
    return (Run(plain(text), mono=True, bold=bold),) if plain(text) else ()


def width(line: Line, size: float) -> float:
    """Say how much room a line takes.

    Args:
        line: Runs, with one space between each two.
        size: Size of the letters [px].

    Returns:
        Width [px], a little more than the letters need.
    """
    spaces = PLAIN[0] * max(0, len(line) - 1)
    return (spaces + sum(_advance(run, sign) for run in line for sign in run.text)) * size / 1000 * _LOOSE


def wrap(line: Line, size: float, room: float) -> list[Line]:
    """Break a line so that each part fits.

    Args:
        line: The whole line.
        size: Size of the letters [px].
        room: Room for each part [px].

    Returns:
        The parts, top to bottom; empty for an empty line.
    """
    parts: list[Line] = []
    for word in _words(line, size, room):
        longer = _join(parts[-1], word) if parts else ()
        if parts and width(longer, size) <= room:
            parts[-1] = longer
        else:
            parts.append((word,))
    return parts


def _advance(run: Run, sign: str) -> int:
    """Advance width of one sign [1/1000 of the size]."""
    place = ord(sign) - 0x20
    if not 0 <= place < len(PLAIN):
        return _ELSEWHERE
    return MONO if run.mono else (BOLD if run.bold else PLAIN)[place]


def _words(line: Line, size: float, room: float) -> Iterator[Run]:
    """Each word of a line, cut where it is wider than the room alone."""
    for run in line:
        for word in run.text.split():
            piece = ""
            for sign in word:
                if piece and width((replace(run, text=piece + sign),), size) > room:
                    yield replace(run, text=piece)
                    piece = ""
                piece += sign
            yield replace(run, text=piece)


def _join(line: Line, word: Run) -> Line:
    """The line with one more word, in the last run where the face is the same."""
    last = line[-1]
    if (last.mono, last.bold) == (word.mono, word.bold):
        return (*line[:-1], replace(last, text=f"{last.text} {word.text}"))
    return (*line, word)
