"""When a claim was last said to stand"""

import sqlalchemy as sa
from alembic import op

revision = '0010'
down_revision = '0009'
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column('claim', sa.Column('wanted_at', sa.DateTime(timezone=True), nullable=True))


def downgrade() -> None:
    op.drop_column('claim', 'wanted_at')
