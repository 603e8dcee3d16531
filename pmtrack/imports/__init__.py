"""CSV files of facts: bytes in, rows with their lines and keys or faults out."""
