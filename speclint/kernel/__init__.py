"""Spans, exact quantities, value sets, three-valued logic and the types of faults; knows no trade."""
