"""Sound to what may have been meant, with probabilities. Knows no boiler and no clock."""
