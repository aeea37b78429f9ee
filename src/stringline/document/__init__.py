"""A document that a person wrote in TOML: read with the line of everything in it, every fault at once."""
