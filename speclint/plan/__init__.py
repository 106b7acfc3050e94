"""The frozen model of a plan: words resolved by the vocabulary, sections joined, parts and likenesses expanded."""
