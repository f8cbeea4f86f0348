"""The trade's ring: what a mechanic computes from what he has measured, pure numbers in and out.

- `gauge`: how large is it, and how sure are we;
- `fit`: how two parts go together, now, with new parts, warm, and which part with which.

Lengths are whole picometres or exact objects where they are only added, subtracted and compared; doubts and odds are
floats. Everything takes arrays, so that one fit and ten thousand are one call.

Rooms here know only `numbers` and what lies inside them, open no file, read no clock and know no book: the record's
ring translates rows and entries into their inputs. `fit` may ask `gauge`; otherwise no room knows another.
"""
