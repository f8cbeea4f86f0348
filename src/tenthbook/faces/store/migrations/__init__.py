"""The tables of the store, step by step."""
