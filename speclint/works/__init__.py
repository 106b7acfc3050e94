"""Quantities and layout from a plan: values in, values out."""
