import pytest

from exchange.reference.tables import TableMissingError, rows_of


def test_a_missing_table_is_named(tmp_path):
    with pytest.raises(TableMissingError, match="stations"):
        rows_of("stations.csv", folder=tmp_path)
