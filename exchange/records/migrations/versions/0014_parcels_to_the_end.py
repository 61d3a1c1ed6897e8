"""Parcels that are late, lost or come back"""

import sqlalchemy as sa
from alembic import op

revision = '0014'
down_revision = '0013'
branch_labels = None
depends_on = None

ALONE = {'resolve_fks': False}
PARCELS = "'planned', 'announced', 'posted', 'arrived', 'lost'"
ALLOCATIONS = "'confirmed', 'agreed', 'refused', 'declined', 'failed'"


def upgrade() -> None:
    op.add_column('parcel', sa.Column('missed_on', sa.Date(), nullable=True))
    _states('parcel', f"{PARCELS}, 'returned'")
    _states('allocation', f"{ALLOCATIONS}, 'lost'")


def downgrade() -> None:
    op.execute("UPDATE parcel SET state = 'lost' WHERE state = 'returned'")
    op.execute("UPDATE allocation SET state = 'failed' WHERE state = 'lost'")
    _states('allocation', ALLOCATIONS)
    _states('parcel', PARCELS)
    op.drop_column('parcel', 'missed_on')


def _states(table: str, those: str) -> None:
    """Let rows be in those states; SQLite rebuilds the table, without looking at the others."""
    rule = op.f(f'ck_{table}_state')
    with op.batch_alter_table(table, reflect_kwargs=ALONE) as batch_op:
        batch_op.drop_constraint(rule, type_='check')
        batch_op.create_check_constraint(rule, f'state IN ({those})')
