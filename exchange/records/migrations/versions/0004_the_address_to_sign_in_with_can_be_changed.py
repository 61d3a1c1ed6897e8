"""The address to sign in with can be changed"""

import sqlalchemy as sa
from alembic import op

revision = '0004'
down_revision = '0003'
branch_labels = None
depends_on = None

BEFORE = "'invitation', 'sign_in', 'did_it_go', 'did_it_come', 'sender_answer'"
AFTER = "'invitation', 'sign_in', 'new_address', 'did_it_go', 'did_it_come', 'sender_answer'"


def upgrade() -> None:
    op.add_column('account', sa.Column('wanted_email', sa.Text(), nullable=True))
    op.drop_column('account', 'larger_text')
    op.add_column('letter', sa.Column('to_address', sa.Text(), nullable=True))
    _purposes(AFTER)


def downgrade() -> None:
    op.execute("DELETE FROM one_time_link WHERE purpose = 'new_address'")
    _purposes(BEFORE)
    op.drop_column('letter', 'to_address')
    op.add_column('account', sa.Column('larger_text', sa.Boolean(), server_default=sa.false(), nullable=False))
    op.drop_column('account', 'wanted_email')


def _purposes(those: str) -> None:
    """Let links be for those purposes; SQLite rebuilds the table, unaware of the others."""
    rule, alone = op.f('ck_one_time_link_purpose'), {'resolve_fks': False}
    with op.batch_alter_table('one_time_link', reflect_kwargs=alone) as batch_op:
        batch_op.drop_constraint(rule, type_='check')
        batch_op.create_check_constraint(rule, f'purpose IN ({those})')
