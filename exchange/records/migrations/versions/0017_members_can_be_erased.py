"""Members can be erased"""

import sqlalchemy as sa
from alembic import op

revision = '0017'
down_revision = '0016'
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column('member', sa.Column('erased_at', sa.DateTime(timezone=True), nullable=True))


def downgrade() -> None:
    op.drop_column('member', 'erased_at')
