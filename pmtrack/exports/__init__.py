"""What leaves pmtrack: job texts and calendar files."""
