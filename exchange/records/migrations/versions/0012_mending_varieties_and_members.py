"""Mending varieties and members"""

import sqlalchemy as sa
from alembic import op
from alembic.operations import BatchOperations

revision = '0012'
down_revision = '0011'
branch_labels = None
depends_on = None

ALONE = {'resolve_fks': False}
KINDS = (
    "'dahlia', 'pelargonium', 'fuchsia', 'chrysanthemum', 'salvia', 'coleus', 'begonia', "
    "'tuberous_begonia', 'foliage_begonia', 'other'"
)
MERGED = 'merged_into'
CLASSED = ('group_id', 'size_id')


def upgrade() -> None:
    op.create_table('plant_class',
    sa.Column('species', sa.Text(), nullable=False),
    sa.Column('sort', sa.Text(), nullable=False),
    sa.Column('label', sa.Text(), nullable=False),
    sa.Column('society', sa.Text(), nullable=False),
    sa.Column('position', sa.Integer(), nullable=False),
    sa.Column('circle_id', sa.Integer(), nullable=False),
    sa.Column('id', sa.Integer(), nullable=False),
    sa.CheckConstraint(f'species IN ({KINDS})', name=op.f('ck_plant_class_species')),
    sa.CheckConstraint("sort IN ('group', 'size')", name=op.f('ck_plant_class_sort')),
    sa.ForeignKeyConstraint(['circle_id'], ['circle.id'], name=op.f('fk_plant_class_circle_id_circle'), ondelete='CASCADE'),
    sa.PrimaryKeyConstraint('id', name=op.f('pk_plant_class')),
    sa.UniqueConstraint('circle_id', 'species', 'sort', 'label', 'society', name=op.f('uq_plant_class_circle_id_species_sort_label_society'))
    )
    op.create_index(op.f('ix_plant_class_circle_id'), 'plant_class', ['circle_id'])
    op.create_table('merger',
    sa.Column('kind', sa.Text(), nullable=False),
    sa.Column('kept_id', sa.Integer(), nullable=False),
    sa.Column('merged_id', sa.Integer(), nullable=False),
    sa.Column('moves', sa.JSON(), nullable=False),
    sa.Column('watched', sa.JSON(), nullable=False),
    sa.Column('done_by', sa.Integer(), nullable=True),
    sa.Column('done_at', sa.DateTime(timezone=True), nullable=False),
    sa.Column('undone_at', sa.DateTime(timezone=True), nullable=True),
    sa.Column('circle_id', sa.Integer(), nullable=False),
    sa.Column('id', sa.Integer(), nullable=False),
    sa.CheckConstraint("kind IN ('variety', 'member')", name=op.f('ck_merger_kind')),
    sa.ForeignKeyConstraint(['circle_id'], ['circle.id'], name=op.f('fk_merger_circle_id_circle'), ondelete='CASCADE'),
    sa.ForeignKeyConstraint(['done_by'], ['member.id'], name=op.f('fk_merger_done_by_member'), ondelete='SET NULL'),
    sa.PrimaryKeyConstraint('id', name=op.f('pk_merger'))
    )
    op.create_index(op.f('ix_merger_circle_id'), 'merger', ['circle_id'])
    for table in ('household', 'member'):
        with op.batch_alter_table(table, reflect_kwargs=ALONE) as batch_op:
            _add_merged(batch_op, table)
    with op.batch_alter_table('variety', reflect_kwargs=ALONE) as batch_op:
        batch_op.add_column(
            sa.Column('trade_name', sa.Text(), nullable=False, server_default='')
        )
        batch_op.add_column(sa.Column('removed_at', sa.DateTime(timezone=True), nullable=True))
        for name in CLASSED:
            batch_op.add_column(sa.Column(name, sa.Integer(), nullable=True))
            batch_op.create_foreign_key(
                op.f(f'fk_variety_{name}_plant_class'), 'plant_class', [name], ['id'], ondelete='SET NULL'
            )
        _add_merged(batch_op, 'variety')
    with op.batch_alter_table('variety', reflect_kwargs=ALONE) as batch_op:
        batch_op.alter_column('trade_name', server_default=None)


def downgrade() -> None:
    with op.batch_alter_table('variety', reflect_kwargs=ALONE) as batch_op:
        _drop_merged(batch_op, 'variety')
        for name in CLASSED:
            batch_op.drop_constraint(op.f(f'fk_variety_{name}_plant_class'), type_='foreignkey')
            batch_op.drop_column(name)
        batch_op.drop_column('removed_at')
        batch_op.drop_column('trade_name')
    for table in ('member', 'household'):
        with op.batch_alter_table(table, reflect_kwargs=ALONE) as batch_op:
            _drop_merged(batch_op, table)
    op.drop_table('merger')
    op.drop_table('plant_class')


def _add_merged(batch_op: BatchOperations, table: str) -> None:
    """Let a row name the row of the same table that it was merged into."""
    batch_op.add_column(sa.Column(MERGED, sa.Integer(), nullable=True))
    batch_op.create_foreign_key(
        op.f(f'fk_{table}_{MERGED}_{table}'),
        table,
        [MERGED],
        ['id'],
        deferrable=True,
        initially='DEFERRED',
    )


def _drop_merged(batch_op: BatchOperations, table: str) -> None:
    batch_op.drop_constraint(op.f(f'fk_{table}_{MERGED}_{table}'), type_='foreignkey')
    batch_op.drop_column(MERGED)
