"""The shape of text: tokens, lines, phrases, the plain form; knows no trade word and no key."""
