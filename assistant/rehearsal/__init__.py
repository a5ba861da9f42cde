"""A boiler to practise on and a voice to practise with."""
