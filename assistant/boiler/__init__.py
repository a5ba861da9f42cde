"""Physics of water, steam and vessel. Knows no readings, no speech, no file, no clock."""
