"""Spreadsheets read in"""

import sqlalchemy as sa
from alembic import op

revision = '0013'
down_revision = '0012'
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table('spreadsheet',
    sa.Column('name', sa.Text(), nullable=False),
    sa.Column('sha256', sa.Text(), nullable=False),
    sa.Column('content', sa.Text(), nullable=False),
    sa.Column('choices', sa.JSON(), nullable=False),
    sa.Column('reading', sa.JSON(), nullable=True),
    sa.Column('went_in', sa.JSON(), nullable=False),
    sa.Column('made', sa.JSON(), nullable=False),
    sa.Column('handed_in_by', sa.Integer(), nullable=True),
    sa.Column('handed_in_at', sa.DateTime(timezone=True), nullable=False),
    sa.Column('brought_in_at', sa.DateTime(timezone=True), nullable=True),
    sa.Column('circle_id', sa.Integer(), nullable=False),
    sa.Column('id', sa.Integer(), nullable=False),
    sa.ForeignKeyConstraint(['circle_id'], ['circle.id'], name=op.f('fk_spreadsheet_circle_id_circle'), ondelete='CASCADE'),
    sa.ForeignKeyConstraint(['handed_in_by'], ['member.id'], name=op.f('fk_spreadsheet_handed_in_by_member'), ondelete='SET NULL'),
    sa.PrimaryKeyConstraint('id', name=op.f('pk_spreadsheet'))
    )
    op.create_index(op.f('ix_spreadsheet_circle_id'), 'spreadsheet', ['circle_id'])
    op.create_index(op.f('ix_spreadsheet_sha256'), 'spreadsheet', ['sha256'])


def downgrade() -> None:
    op.drop_table('spreadsheet')
