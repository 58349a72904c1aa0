"""The design file: TOML text in, resolved values in mm out, or refusals with file and line."""
