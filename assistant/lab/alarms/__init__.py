"""How well practice faults are found, judged by the practice boiler's truth."""
