"""What people and scripts see: records in, tables, plain lines or JSON values out."""
