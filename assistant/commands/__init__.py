"""One module per command: `add(parser)` says how it is called, `run(given, out)` does it.

A command returns its exit code and writes only through the `Out` it is given.
"""
