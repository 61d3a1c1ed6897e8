"""Somebody else posts a parcel"""

import sqlalchemy as sa
from alembic import op

revision = '0016'
down_revision = '0015'
branch_labels = None
depends_on = None

ALONE = {'resolve_fks': False}
COLUMNS = ('asked_to_post_id', 'poster_household_id')


def upgrade() -> None:
    with op.batch_alter_table('parcel', reflect_kwargs=ALONE) as batch_op:
        for column in COLUMNS:
            batch_op.add_column(sa.Column(column, sa.Integer(), nullable=True))
            batch_op.create_foreign_key(
                op.f(f'fk_parcel_{column}_household'), 'household', [column], ['id']
            )


def downgrade() -> None:
    with op.batch_alter_table('parcel', reflect_kwargs=ALONE) as batch_op:
        for column in COLUMNS:
            batch_op.drop_constraint(op.f(f'fk_parcel_{column}_household'), type_='foreignkey')
            batch_op.drop_column(column)
