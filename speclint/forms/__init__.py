"""One output, one module: a report in, text out."""
