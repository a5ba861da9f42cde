"""The record of a session: hash chain, codec, writer, reader, clips, index."""
