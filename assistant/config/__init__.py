"""The files people write: positioned YAML, units, engine, checklists, readings. Problems carry their place."""
