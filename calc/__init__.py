"""Computation: units, notation, refrigerant tables and workings. Standard library only, no I/O but its data files."""

CALC_VERSION = "0.1.0"
"""The version every kept result carries; it rises when a number, a rounding or a verdict can change."""
