"""The files people write: engine, checklists, readings, units. Problems carry their place."""
