"""Who stands on the ring list"""

import sqlalchemy as sa
from alembic import op

revision = '0018'
down_revision = '0017'
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column('member', sa.Column('on_ring_list', sa.Boolean(), nullable=False, server_default=sa.false()))
    with op.batch_alter_table('member', reflect_kwargs={'resolve_fks': False}) as batch_op:
        batch_op.alter_column('on_ring_list', server_default=None)


def downgrade() -> None:
    op.drop_column('member', 'on_ring_list')
