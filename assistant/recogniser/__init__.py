"""Sound to n-best meanings with probabilities. Knows no boiler and no clock."""
