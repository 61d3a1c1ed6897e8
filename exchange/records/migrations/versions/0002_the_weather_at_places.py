"""The weather at places: notes of frost, nights observed, daily files, skill learned"""

import sqlalchemy as sa
from alembic import op

revision = '0002'
down_revision = '0001'
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table('daily_file',
    sa.Column('name', sa.Text(), nullable=False),
    sa.Column('days', sa.JSON(), nullable=False),
    sa.Column('climate', sa.JSON(), nullable=True),
    sa.Column('read_at', sa.DateTime(timezone=True), nullable=False),
    sa.Column('kept_at', sa.DateTime(timezone=True), nullable=True),
    sa.Column('place_id', sa.Integer(), nullable=False),
    sa.Column('circle_id', sa.Integer(), nullable=False),
    sa.Column('id', sa.Integer(), nullable=False),
    sa.ForeignKeyConstraint(['circle_id'], ['circle.id'], name=op.f('fk_daily_file_circle_id_circle'), ondelete='CASCADE'),
    sa.ForeignKeyConstraint(['place_id'], ['place.id'], name=op.f('fk_daily_file_place_id_place'), ondelete='CASCADE'),
    sa.PrimaryKeyConstraint('id', name=op.f('pk_daily_file'))
    )
    with op.batch_alter_table('daily_file', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_daily_file_circle_id'), ['circle_id'], unique=False)
        batch_op.create_index(batch_op.f('ix_daily_file_place_id'), ['place_id'], unique=False)

    op.create_table('frost_note',
    sa.Column('night', sa.Date(), nullable=False),
    sa.Column('minimum_c', sa.Double(), nullable=False),
    sa.Column('heard_at', sa.DateTime(timezone=True), nullable=False),
    sa.Column('place_id', sa.Integer(), nullable=False),
    sa.Column('circle_id', sa.Integer(), nullable=False),
    sa.Column('id', sa.Integer(), nullable=False),
    sa.CheckConstraint('minimum_c BETWEEN -60 AND 60', name=op.f('ck_frost_note_minimum_c')),
    sa.ForeignKeyConstraint(['circle_id'], ['circle.id'], name=op.f('fk_frost_note_circle_id_circle'), ondelete='CASCADE'),
    sa.ForeignKeyConstraint(['place_id'], ['place.id'], name=op.f('fk_frost_note_place_id_place'), ondelete='CASCADE'),
    sa.PrimaryKeyConstraint('id', name=op.f('pk_frost_note')),
    sa.UniqueConstraint('place_id', 'night', name=op.f('uq_frost_note_place_id_night'))
    )
    with op.batch_alter_table('frost_note', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_frost_note_circle_id'), ['circle_id'], unique=False)
        batch_op.create_index(batch_op.f('ix_frost_note_place_id'), ['place_id'], unique=False)

    op.create_table('place_skill',
    sa.Column('days', sa.Double(), nullable=False),
    sa.Column('site_error_k', sa.Double(), nullable=False),
    sa.Column('shift_k', sa.Double(), nullable=False),
    sa.Column('nights', sa.Integer(), nullable=False),
    sa.Column('crps_before_k', sa.Double(), nullable=False),
    sa.Column('crps_after_k', sa.Double(), nullable=False),
    sa.Column('kept_at', sa.DateTime(timezone=True), nullable=False),
    sa.Column('place_id', sa.Integer(), nullable=False),
    sa.Column('circle_id', sa.Integer(), nullable=False),
    sa.Column('id', sa.Integer(), nullable=False),
    sa.CheckConstraint('days > 0', name=op.f('ck_place_skill_days')),
    sa.CheckConstraint('nights > 0', name=op.f('ck_place_skill_nights')),
    sa.CheckConstraint('site_error_k >= 0', name=op.f('ck_place_skill_site_error_k')),
    sa.ForeignKeyConstraint(['circle_id'], ['circle.id'], name=op.f('fk_place_skill_circle_id_circle'), ondelete='CASCADE'),
    sa.ForeignKeyConstraint(['place_id'], ['place.id'], name=op.f('fk_place_skill_place_id_place'), ondelete='CASCADE'),
    sa.PrimaryKeyConstraint('id', name=op.f('pk_place_skill'))
    )
    with op.batch_alter_table('place_skill', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_place_skill_circle_id'), ['circle_id'], unique=False)
        batch_op.create_index(batch_op.f('ix_place_skill_place_id'), ['place_id'], unique=False)

    op.create_table('observation',
    sa.Column('day', sa.Date(), nullable=False),
    sa.Column('minimum_c', sa.Double(), nullable=False),
    sa.Column('maximum_c', sa.Double(), nullable=True),
    sa.Column('file_id', sa.Integer(), nullable=True),
    sa.Column('place_id', sa.Integer(), nullable=False),
    sa.Column('circle_id', sa.Integer(), nullable=False),
    sa.Column('id', sa.Integer(), nullable=False),
    sa.CheckConstraint('maximum_c BETWEEN -60 AND 60', name=op.f('ck_observation_maximum_c')),
    sa.CheckConstraint('minimum_c BETWEEN -60 AND 60', name=op.f('ck_observation_minimum_c')),
    sa.ForeignKeyConstraint(['circle_id'], ['circle.id'], name=op.f('fk_observation_circle_id_circle'), ondelete='CASCADE'),
    sa.ForeignKeyConstraint(['file_id'], ['daily_file.id'], name=op.f('fk_observation_file_id_daily_file'), ondelete='CASCADE'),
    sa.ForeignKeyConstraint(['place_id'], ['place.id'], name=op.f('fk_observation_place_id_place'), ondelete='CASCADE'),
    sa.PrimaryKeyConstraint('id', name=op.f('pk_observation')),
    sa.UniqueConstraint('place_id', 'day', name=op.f('uq_observation_place_id_day'))
    )
    with op.batch_alter_table('observation', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_observation_circle_id'), ['circle_id'], unique=False)
        batch_op.create_index(batch_op.f('ix_observation_file_id'), ['file_id'], unique=False)
        batch_op.create_index(batch_op.f('ix_observation_place_id'), ['place_id'], unique=False)


def downgrade() -> None:
    with op.batch_alter_table('observation', schema=None) as batch_op:
        batch_op.drop_index(batch_op.f('ix_observation_place_id'))
        batch_op.drop_index(batch_op.f('ix_observation_file_id'))
        batch_op.drop_index(batch_op.f('ix_observation_circle_id'))

    op.drop_table('observation')
    with op.batch_alter_table('place_skill', schema=None) as batch_op:
        batch_op.drop_index(batch_op.f('ix_place_skill_place_id'))
        batch_op.drop_index(batch_op.f('ix_place_skill_circle_id'))

    op.drop_table('place_skill')
    with op.batch_alter_table('frost_note', schema=None) as batch_op:
        batch_op.drop_index(batch_op.f('ix_frost_note_place_id'))
        batch_op.drop_index(batch_op.f('ix_frost_note_circle_id'))

    op.drop_table('frost_note')
    with op.batch_alter_table('daily_file', schema=None) as batch_op:
        batch_op.drop_index(batch_op.f('ix_daily_file_place_id'))
        batch_op.drop_index(batch_op.f('ix_daily_file_circle_id'))

    op.drop_table('daily_file')
