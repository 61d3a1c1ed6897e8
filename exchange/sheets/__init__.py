"""Lists as files that spreadsheets open."""
