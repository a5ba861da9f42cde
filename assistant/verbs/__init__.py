"""One module per command: `add(parser)` says how it is called, `run(words, out)` does it.

A verb returns its exit code and writes only through the `Out` it is given.
"""
