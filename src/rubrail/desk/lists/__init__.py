"""The yard as a flat list, one row a unit: its columns, written to files people open in a spreadsheet, read back."""
