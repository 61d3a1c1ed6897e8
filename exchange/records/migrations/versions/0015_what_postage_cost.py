"""What postage cost, and the tariff as it was typed in"""

import sqlalchemy as sa
from alembic import op

revision = '0015'
down_revision = '0014'
branch_labels = None
depends_on = None

ALONE = {'resolve_fks': False}


def upgrade() -> None:
    op.create_table(
        'tariff_band',
        sa.Column('name', sa.Text(), nullable=False),
        sa.Column('price', sa.Integer(), nullable=False),
        sa.Column('circle_id', sa.Integer(), nullable=False),
        sa.Column('id', sa.Integer(), nullable=False),
        sa.CheckConstraint('price >= 0', name=op.f('ck_tariff_band_price')),
        sa.ForeignKeyConstraint(
            ['circle_id'],
            ['circle.id'],
            name=op.f('fk_tariff_band_circle_id_circle'),
            ondelete='CASCADE',
        ),
        sa.PrimaryKeyConstraint('id', name=op.f('pk_tariff_band')),
        sa.UniqueConstraint('circle_id', 'name', name=op.f('uq_tariff_band_circle_id_name')),
    )
    op.create_index(
        op.f('ix_tariff_band_circle_id'), 'tariff_band', ['circle_id'], unique=False
    )
    with op.batch_alter_table('parcel', reflect_kwargs=ALONE) as batch_op:
        batch_op.add_column(sa.Column('postage', sa.Integer(), nullable=True))
        batch_op.add_column(
            sa.Column('postage_repaid', sa.Boolean(), server_default=sa.false(), nullable=False)
        )
        batch_op.create_check_constraint(op.f('ck_parcel_postage'), 'postage >= 0')
    with op.batch_alter_table('parcel', reflect_kwargs=ALONE) as batch_op:
        batch_op.alter_column('postage_repaid', server_default=None)


def downgrade() -> None:
    with op.batch_alter_table('parcel', reflect_kwargs=ALONE) as batch_op:
        batch_op.drop_constraint(op.f('ck_parcel_postage'), type_='check')
        batch_op.drop_column('postage_repaid')
        batch_op.drop_column('postage')
    op.drop_index(op.f('ix_tariff_band_circle_id'), table_name='tariff_band')
    op.drop_table('tariff_band')
