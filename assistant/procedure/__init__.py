"""Steps, phases, remedies, emergencies. Knows no formula and no file."""
