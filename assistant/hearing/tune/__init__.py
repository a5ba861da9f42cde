"""The recipe of the tuned ear: sounds in, a small file of differences out."""
