"""A share-out can be cancelled"""

from alembic import op

revision = '0007'
down_revision = '0006'
branch_labels = None
depends_on = None

BEFORE = "'open', 'worked_out', 'confirmed'"
AFTER = "'open', 'worked_out', 'confirmed', 'cancelled'"
ALONE = {'resolve_fks': False}


def upgrade() -> None:
    _states(AFTER)


def downgrade() -> None:
    op.execute("DELETE FROM share_out WHERE state = 'cancelled'")
    _states(BEFORE)


def _states(those: str) -> None:
    """Let share-outs be in those states; SQLite rebuilds the table, without looking at the others."""
    rule = op.f('ck_share_out_state')
    with op.batch_alter_table('share_out', reflect_kwargs=ALONE) as batch_op:
        batch_op.drop_constraint(rule, type_='check')
        batch_op.create_check_constraint(rule, f'state IN ({those})')
