"""The rules of preventive maintenance: pure functions over plain records, no I/O and no clock."""
