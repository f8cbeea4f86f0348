"""The demonstration: a dated script in the mechanic's words, and the player that records it.

- `script`: reads the script, every fault at once;
- `transcription`: plays act 0, in which the book is made;
- `player`: plays it on a bench, with the script's own clock, people and request ids, so that every playing makes the
  same entries.

A line says what somebody did, what of it is recorded, and where they then look.

One script drives `sh dev demo`, the walk through the pages in a real browser, the pictures of the pages and the
archive that is kept for ever. What the script says a person sees is compared with what the book answers; a difference
is a fault of one of them, and stops the playing.
"""

from tenthbook.faces.story.player import Scene, StoryClock, TurnedOutOtherwise, play
from tenthbook.faces.story.script import Act, BookLine, Line, Making, Script, Slip, read_script
from tenthbook.faces.story.transcription import BookScene, slipped, transcribe

__all__ = [
    "Act",
    "BookLine",
    "BookScene",
    "Line",
    "Making",
    "Scene",
    "Script",
    "Slip",
    "StoryClock",
    "TurnedOutOtherwise",
    "play",
    "read_script",
    "slipped",
    "transcribe",
]
