"""Who posts against the plan's advice"""

import sqlalchemy as sa
from alembic import op

revision = '0009'
down_revision = '0008'
branch_labels = None
depends_on = None

ALONE = {'resolve_fks': False}


def upgrade() -> None:
    with op.batch_alter_table('parcel', reflect_kwargs=ALONE) as batch_op:
        batch_op.add_column(
            sa.Column('against_advice', sa.Boolean(), nullable=False, server_default=sa.false())
        )
    with op.batch_alter_table('parcel', reflect_kwargs=ALONE) as batch_op:
        batch_op.alter_column('against_advice', server_default=None)


def downgrade() -> None:
    with op.batch_alter_table('parcel', reflect_kwargs=ALONE) as batch_op:
        batch_op.drop_column('against_advice')
