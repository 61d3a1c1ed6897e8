"""The box: what people write one a line, read into spares and wishes with every doubt named."""
