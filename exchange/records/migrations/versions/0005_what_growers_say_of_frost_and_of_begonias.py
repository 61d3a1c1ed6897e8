"""What growers say of frost and of begonias"""

import sqlalchemy as sa
from alembic import op

revision = '0005'
down_revision = '0004'
branch_labels = None
depends_on = None

BEFORE = "'dahlia', 'pelargonium', 'fuchsia', 'chrysanthemum', 'salvia', 'coleus', 'begonia', 'other'"
AFTER = (
    "'dahlia', 'pelargonium', 'fuchsia', 'chrysanthemum', 'salvia', 'coleus', 'begonia', "
    "'tuberous_begonia', 'foliage_begonia', 'other'"
)
ALONE = {'resolve_fks': False}


def upgrade() -> None:
    with op.batch_alter_table('place', reflect_kwargs=ALONE) as batch_op:
        batch_op.add_column(sa.Column('frost_rare_day', sa.Integer(), nullable=True))
        batch_op.create_check_constraint(
            op.f('ck_place_frost_rare_day'), 'frost_rare_day BETWEEN 1 AND 205'
        )
    op.add_column('forecast', sa.Column('grid_km', sa.Double(), nullable=True))
    _kinds(AFTER)


def downgrade() -> None:
    op.execute(
        "UPDATE variety SET species = 'begonia' WHERE species IN ('tuberous_begonia', 'foliage_begonia')"
    )
    _kinds(BEFORE)
    op.drop_column('forecast', 'grid_km')
    with op.batch_alter_table('place', reflect_kwargs=ALONE) as batch_op:
        batch_op.drop_constraint(op.f('ck_place_frost_rare_day'), type_='check')
        batch_op.drop_column('frost_rare_day')


def _kinds(those: str) -> None:
    """Let varieties be of those kinds; SQLite rebuilds the table, without looking at the others."""
    rule = op.f('ck_variety_species')
    with op.batch_alter_table('variety', reflect_kwargs=ALONE) as batch_op:
        batch_op.drop_constraint(rule, type_='check')
        batch_op.create_check_constraint(rule, f'species IN ({those})')
