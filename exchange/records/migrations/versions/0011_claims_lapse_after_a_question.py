"""Claims lapse after a question"""

import sqlalchemy as sa
from alembic import op

revision = '0011'
down_revision = '0010'
branch_labels = None
depends_on = None

BEFORE = "'invitation', 'sign_in', 'new_address', 'did_it_go', 'did_it_come', 'sender_answer'"
AFTER = f"{BEFORE}, 'still_wanted'"


def upgrade() -> None:
    op.add_column('claim', sa.Column('questioned_at', sa.DateTime(timezone=True), nullable=True))
    op.add_column('claim', sa.Column('lapsed_at', sa.DateTime(timezone=True), nullable=True))
    _purposes(AFTER)


def downgrade() -> None:
    op.execute("DELETE FROM one_time_link WHERE purpose = 'still_wanted'")
    _purposes(BEFORE)
    op.drop_column('claim', 'lapsed_at')
    op.drop_column('claim', 'questioned_at')


def _purposes(those: str) -> None:
    """Let links be for those purposes; SQLite rebuilds the table, unaware of the others."""
    rule, alone = op.f('ck_one_time_link_purpose'), {'resolve_fks': False}
    with op.batch_alter_table('one_time_link', reflect_kwargs=alone) as batch_op:
        batch_op.drop_constraint(rule, type_='check')
        batch_op.create_check_constraint(rule, f'purpose IN ({those})')
