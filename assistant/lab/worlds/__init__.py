"""Practice worlds of different make, to judge forecasts by: invented boilers, fires and drivers.

The product knows none of them. `worlds.py` lists them.
"""
