"""What was announced, when, and on what it rested"""

from typing import Any

import sqlalchemy as sa
from alembic import op

revision = '0008'
down_revision = '0007'
branch_labels = None
depends_on = None

ALONE = {'resolve_fks': False}
CHECKS = {
    'announced_loss': 'announced_loss BETWEEN 0 AND 1',
    'nights_missing': 'nights_missing >= 0',
    'question': "question IN ('stopped', 'riskier', 'safer')",
}
CHOOSER = 'fk_parcel_day_chosen_by_member'
COLUMNS: tuple[tuple[str, Any], ...] = (
    ('announced_at', sa.DateTime(timezone=True)),
    ('announced_loss', sa.Double()),
    ('day_chosen_by', sa.Integer()),
    ('nights_missing', sa.Integer()),
    ('weather_issued_at', sa.DateTime(timezone=True)),
    ('question', sa.Text()),
    ('proposed_day', sa.Date()),
)


def upgrade() -> None:
    with op.batch_alter_table('parcel', reflect_kwargs=ALONE) as batch_op:
        for name, kind in COLUMNS:
            batch_op.add_column(sa.Column(name, kind, nullable=True))
        batch_op.add_column(
            sa.Column('day_kept', sa.Boolean(), nullable=False, server_default=sa.false())
        )
        batch_op.create_foreign_key(
            op.f(CHOOSER), 'member', ['day_chosen_by'], ['id'], ondelete='SET NULL'
        )
        for name, check in CHECKS.items():
            batch_op.create_check_constraint(op.f(f'ck_parcel_{name}'), check)
    # The days that members read so far were told to them: they stand, as announced with these figures.
    op.execute(
        'UPDATE parcel SET announced_at = changed_at, announced_loss = loss_chance '
        'WHERE announced_day IS NOT NULL'
    )
    with op.batch_alter_table('parcel', reflect_kwargs=ALONE) as batch_op:
        batch_op.alter_column('day_kept', server_default=None)
    with op.batch_alter_table('diary_entry', reflect_kwargs=ALONE) as batch_op:
        batch_op.add_column(
            sa.Column('tentative', sa.Boolean(), nullable=False, server_default=sa.false())
        )
    with op.batch_alter_table('diary_entry', reflect_kwargs=ALONE) as batch_op:
        batch_op.alter_column('tentative', server_default=None)


def downgrade() -> None:
    with op.batch_alter_table('diary_entry', reflect_kwargs=ALONE) as batch_op:
        batch_op.drop_column('tentative')
    with op.batch_alter_table('parcel', reflect_kwargs=ALONE) as batch_op:
        for name in CHECKS:
            batch_op.drop_constraint(op.f(f'ck_parcel_{name}'), type_='check')
        batch_op.drop_constraint(op.f(CHOOSER), type_='foreignkey')
        for name in ('day_kept', *(name for name, _kind in COLUMNS)):
            batch_op.drop_column(name)
