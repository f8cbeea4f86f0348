"""What a photograph is, and the copies made of it.

- `looking`: what kind of file it is, how large, and when the camera claims it was taken;
- `copying`: a reduced copy, upright, with nothing left of what the camera wrote into it.

The original is kept as it came, byte for byte, and never changed. What is shown, printed or sent is a copy. Only JPEG,
PNG and WebP are decoded, with a bound on bytes and pixels, so that a hostile file cannot fill the memory; everything
else is refused with what was found and what to do. A JPEG with further pictures behind the first, as telephones write
it, is a photograph; one that moves is not. In: bytes. Out: values and bytes. The room opens no file.

Source: EXIF 2.32 for orientation and time (from memory).
"""

from tenthbook.faces.photographs.copying import reduced
from tenthbook.faces.photographs.looking import NotAPhotograph, Photograph, look

__all__ = ["NotAPhotograph", "Photograph", "look", "reduced"]
