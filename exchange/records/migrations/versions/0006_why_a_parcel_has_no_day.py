"""Why a parcel has no day"""

import sqlalchemy as sa
from alembic import op

revision = '0006'
down_revision = '0005'
branch_labels = None
depends_on = None

ALONE = {'resolve_fks': False}


def upgrade() -> None:
    with op.batch_alter_table('parcel', reflect_kwargs=ALONE) as batch_op:
        batch_op.add_column(sa.Column('answer', sa.Text(), nullable=True))
        batch_op.create_check_constraint(
            op.f('ck_parcel_answer'), "answer IN ('post', 'wait', 'not ready', 'no way')"
        )


def downgrade() -> None:
    with op.batch_alter_table('parcel', reflect_kwargs=ALONE) as batch_op:
        batch_op.drop_constraint(op.f('ck_parcel_answer'), type_='check')
        batch_op.drop_column('answer')
