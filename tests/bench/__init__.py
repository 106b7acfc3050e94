"""Measurements, none of them a test: ratios of two times of one run, so that they hold on any machine."""
