"""What we know of water, steam and fire. Knows no speech, no file, no clock."""
