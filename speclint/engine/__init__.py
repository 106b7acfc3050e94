"""The condition language and the outcomes of rules; every name, word and unit is handed to it."""
