"""A boiler to practise on, an operator, faults, noises."""
