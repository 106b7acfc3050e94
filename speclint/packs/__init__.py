"""Rule packs: strict YAML in, rules with their examples out, and the check that every example bites."""
