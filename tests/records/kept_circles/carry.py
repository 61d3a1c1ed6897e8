"""The rows of a SQLite file carried over into PostgreSQL, table by table."""

from sqlalchemy import create_engine, insert, select, text

from exchange.records import Books
from exchange.records.tables import Base
from exchange.records.upgrade import upgrade


def carry_over(file: str, address: str) -> None:
    """Fill an empty PostgreSQL database with the rows of a file, and let ids go on after theirs."""
    books = Books(address)
    upgrade(books)
    source = create_engine(f"sqlite:///{file}")
    with source.connect() as here, books.engine.begin() as there:
        for table in Base.metadata.sorted_tables:
            rows = [dict(row) for row in here.execute(select(table)).mappings()]
            if rows:
                there.execute(insert(table), rows)
            number = f"pg_get_serial_sequence('{table.name}', 'id')"
            highest = f"(SELECT max(id) FROM {table.name})"  # noqa: S608 - a table's own name
            there.execute(
                text(f"SELECT setval({number}, coalesce({highest}, 1), {highest} IS NOT NULL)")
            )
    source.dispose()
    books.close()
