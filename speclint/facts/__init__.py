"""The catalogue of facts, and how a plan's lines become value sets that rules read."""
