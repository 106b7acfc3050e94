"""speclint reviews specifications of tiled wet areas against rules that cite standards by number."""

__version__ = "0.1.0"
