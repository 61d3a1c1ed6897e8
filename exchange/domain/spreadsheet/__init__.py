"""A spreadsheet that is read in: sheets of cells, understood row by row with every doubt named."""
