"""The towns that ways of sending go through"""

import sqlalchemy as sa
from alembic import op

revision = '0003'
down_revision = '0002'
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table('route_point',
    sa.Column('way_id', sa.Integer(), nullable=False),
    sa.Column('town', sa.Text(), nullable=False),
    sa.Column('county', sa.Text(), nullable=False),
    sa.Column('country', sa.Text(), nullable=False),
    sa.Column('subdivision', sa.Text(), nullable=False),
    sa.Column('latitude', sa.Double(), nullable=False),
    sa.Column('longitude', sa.Double(), nullable=False),
    sa.Column('zone', sa.Text(), nullable=False),
    sa.Column('height_m', sa.Double(), nullable=True),
    sa.Column('circle_id', sa.Integer(), nullable=False),
    sa.Column('id', sa.Integer(), nullable=False),
    sa.CheckConstraint('latitude BETWEEN -90 AND 90', name=op.f('ck_route_point_latitude')),
    sa.CheckConstraint('longitude BETWEEN -180 AND 180', name=op.f('ck_route_point_longitude')),
    sa.ForeignKeyConstraint(['circle_id'], ['circle.id'], name=op.f('fk_route_point_circle_id_circle'), ondelete='CASCADE'),
    sa.ForeignKeyConstraint(['way_id'], ['way.id'], name=op.f('fk_route_point_way_id_way'), ondelete='CASCADE'),
    sa.PrimaryKeyConstraint('id', name=op.f('pk_route_point')),
    sa.UniqueConstraint('way_id', name=op.f('uq_route_point_way_id'))
    )
    with op.batch_alter_table('route_point', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_route_point_circle_id'), ['circle_id'], unique=False)


def downgrade() -> None:
    with op.batch_alter_table('route_point', schema=None) as batch_op:
        batch_op.drop_index(batch_op.f('ix_route_point_circle_id'))

    op.drop_table('route_point')
