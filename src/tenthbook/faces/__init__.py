"""The outermost ring: what a person sees and where things are kept.

- `draw`: pictures of the trade as SVG: the gap, and a size against its limits;
- `calculators`: every computation by itself: a name, a typed input, a typed output, one published example;
- `papers`: what is printed;
- `store`: the database, the only room that knows one;
- `web`: the pages;
- `cli`: the command line.

A face parses, calls one function of an inner room, and shows what came back.
"""
