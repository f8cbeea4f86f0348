"""The demonstration: a dated script in the mechanic's words, and the player that records it.

- `script`: reads the script, every fault at once;
- `founding`: plays how the shop came to its people, keys and instruments; the keys are invented and known to all;
- `transcription`: plays act 0, in which the book is made;
- `player` and `recording`: play it on a bench, with the script's own clock, people, request ids, salts and keys, so
  that every playing makes the same entries.

A line says what somebody did, what of it is recorded, and where they then look.

One script drives `sh dev demo`, the walk through the pages in a real browser, the pictures of the pages and the
archive that is kept for ever. What the script says a person sees is compared with what the book answers; a difference
is a fault of one of them, and stops the playing.
"""

from tenthbook.faces.story.clock import StoryClock, TurnedOutOtherwise
from tenthbook.faces.story.founding import ShopScene, found, invented_key
from tenthbook.faces.story.player import Scene, play
from tenthbook.faces.story.script import Act, BookLine, Founding, Line, Making, Script, ShopLine, Slip, read_script
from tenthbook.faces.story.transcription import BookScene, slipped, transcribe

__all__ = [
    "Act",
    "BookLine",
    "BookScene",
    "Founding",
    "Line",
    "Making",
    "Scene",
    "Script",
    "ShopLine",
    "ShopScene",
    "Slip",
    "StoryClock",
    "TurnedOutOtherwise",
    "found",
    "invented_key",
    "play",
    "read_script",
    "slipped",
    "transcribe",
]
