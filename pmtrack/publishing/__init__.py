"""The plan put straight onto a CalDAV server (RFC 4791, 2007)."""
