"""Outcomes in, a report out: stages, editions, variances, decisions, questions and one summary word."""
