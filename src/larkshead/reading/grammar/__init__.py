"""The one grammar of written patterns: tokens of any language in, a pattern out."""
