"""The first shape of the records"""

import sqlalchemy as sa
from alembic import op

revision = '0001'
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table('account',
    sa.Column('email', sa.Text(), nullable=False),
    sa.Column('password', sa.Text(), nullable=True),
    sa.Column('active', sa.Boolean(), nullable=False),
    sa.Column('fs_uniquifier', sa.Text(), nullable=False),
    sa.Column('confirmed_at', sa.DateTime(timezone=True), nullable=True),
    sa.Column('created_at', sa.DateTime(timezone=True), nullable=True),
    sa.Column('larger_text', sa.Boolean(), nullable=False),
    sa.Column('id', sa.Integer(), nullable=False),
    sa.PrimaryKeyConstraint('id', name=op.f('pk_account')),
    sa.UniqueConstraint('fs_uniquifier', name=op.f('uq_account_fs_uniquifier'))
    )
    op.create_index('uq_account_email_lower', 'account', [sa.text('lower(email)')], unique=True)
    op.create_table('circle',
    sa.Column('name', sa.Text(), nullable=False),
    sa.Column('country', sa.Text(), nullable=False),
    sa.Column('zone', sa.Text(), nullable=False),
    sa.Column('about_how_many', sa.Integer(), nullable=False),
    sa.Column('terms', sa.JSON(), nullable=False),
    sa.Column('fixed_today', sa.Date(), nullable=True),
    sa.Column('stamp', sa.Integer(), nullable=False),
    sa.Column('created_at', sa.DateTime(timezone=True), nullable=False),
    sa.Column('id', sa.Integer(), nullable=False),
    sa.CheckConstraint('about_how_many > 0', name=op.f('ck_circle_about_how_many')),
    sa.PrimaryKeyConstraint('id', name=op.f('pk_circle')),
    sa.UniqueConstraint('name', name=op.f('uq_circle_name'))
    )
    op.create_table('closure',
    sa.Column('country', sa.Text(), nullable=False),
    sa.Column('subdivision', sa.Text(), nullable=False),
    sa.Column('day', sa.Date(), nullable=False),
    sa.Column('label', sa.Text(), nullable=False),
    sa.Column('opened', sa.Boolean(), nullable=False),
    sa.Column('circle_id', sa.Integer(), nullable=False),
    sa.Column('id', sa.Integer(), nullable=False),
    sa.ForeignKeyConstraint(['circle_id'], ['circle.id'], name=op.f('fk_closure_circle_id_circle'), ondelete='CASCADE'),
    sa.PrimaryKeyConstraint('id', name=op.f('pk_closure')),
    sa.UniqueConstraint('circle_id', 'country', 'subdivision', 'day', name=op.f('uq_closure_circle_id_country_subdivision_day'))
    )
    with op.batch_alter_table('closure', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_closure_circle_id'), ['circle_id'], unique=False)

    op.create_table('forecast_fault',
    sa.Column('source', sa.Text(), nullable=False),
    sa.Column('what', sa.Text(), nullable=False),
    sa.Column('at', sa.DateTime(timezone=True), nullable=False),
    sa.Column('not_before', sa.DateTime(timezone=True), nullable=True),
    sa.Column('circle_id', sa.Integer(), nullable=False),
    sa.Column('id', sa.Integer(), nullable=False),
    sa.ForeignKeyConstraint(['circle_id'], ['circle.id'], name=op.f('fk_forecast_fault_circle_id_circle'), ondelete='CASCADE'),
    sa.PrimaryKeyConstraint('id', name=op.f('pk_forecast_fault'))
    )
    with op.batch_alter_table('forecast_fault', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_forecast_fault_circle_id'), ['circle_id'], unique=False)

    op.create_table('household',
    sa.Column('name', sa.Text(), nullable=False),
    sa.Column('posting_weekdays', sa.JSON(), nullable=False),
    sa.Column('parcels_a_day', sa.Integer(), nullable=False),
    sa.Column('joined_on', sa.Date(), nullable=True),
    sa.Column('left_on', sa.Date(), nullable=True),
    sa.Column('address', sa.Text(), nullable=False),
    sa.Column('safe_place', sa.Text(), nullable=False),
    sa.Column('return_address_allowed', sa.Boolean(), nullable=False),
    sa.Column('circle_id', sa.Integer(), nullable=False),
    sa.Column('id', sa.Integer(), nullable=False),
    sa.CheckConstraint('parcels_a_day BETWEEN 1 AND 100', name=op.f('ck_household_parcels_a_day')),
    sa.ForeignKeyConstraint(['circle_id'], ['circle.id'], name=op.f('fk_household_circle_id_circle'), ondelete='CASCADE'),
    sa.PrimaryKeyConstraint('id', name=op.f('pk_household')),
    sa.UniqueConstraint('circle_id', 'name', name=op.f('uq_household_circle_id_name'))
    )
    with op.batch_alter_table('household', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_household_circle_id'), ['circle_id'], unique=False)

    op.create_table('share_out',
    sa.Column('name', sa.Text(), nullable=False),
    sa.Column('opens_on', sa.Date(), nullable=False),
    sa.Column('closes_on', sa.Date(), nullable=False),
    sa.Column('draw_hash', sa.Text(), nullable=False),
    sa.Column('draw_number', sa.Text(), nullable=False),
    sa.Column('state', sa.Text(), nullable=False),
    sa.Column('worked_stamp', sa.Integer(), nullable=True),
    sa.Column('worked_at', sa.DateTime(timezone=True), nullable=True),
    sa.Column('confirmed_at', sa.DateTime(timezone=True), nullable=True),
    sa.Column('proposal', sa.JSON(), nullable=True),
    sa.Column('working', sa.JSON(), nullable=True),
    sa.Column('circle_id', sa.Integer(), nullable=False),
    sa.Column('id', sa.Integer(), nullable=False),
    sa.CheckConstraint("state IN ('open', 'worked_out', 'confirmed')", name=op.f('ck_share_out_state')),
    sa.CheckConstraint('opens_on <= closes_on', name=op.f('ck_share_out_in_order')),
    sa.ForeignKeyConstraint(['circle_id'], ['circle.id'], name=op.f('fk_share_out_circle_id_circle'), ondelete='CASCADE'),
    sa.PrimaryKeyConstraint('id', name=op.f('pk_share_out'))
    )
    with op.batch_alter_table('share_out', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_share_out_circle_id'), ['circle_id'], unique=False)

    op.create_table('variety',
    sa.Column('species', sa.Text(), nullable=False),
    sa.Column('name', sa.Text(), nullable=False),
    sa.Column('folded', sa.Text(), nullable=False),
    sa.Column('keeps', sa.Text(), nullable=False),
    sa.Column('must_not_be_lost', sa.Boolean(), nullable=False),
    sa.Column('must_not_be_lost_because', sa.Text(), nullable=False),
    sa.Column('target_places', sa.Integer(), nullable=False),
    sa.Column('protected', sa.Boolean(), nullable=False),
    sa.Column('authority', sa.Text(), nullable=False),
    sa.Column('circle_id', sa.Integer(), nullable=False),
    sa.Column('id', sa.Integer(), nullable=False),
    sa.CheckConstraint("keeps IN ('well', 'fairly', 'badly')", name=op.f('ck_variety_keeps')),
    sa.CheckConstraint("species IN ('dahlia', 'pelargonium', 'fuchsia', 'chrysanthemum', 'salvia', 'coleus', 'begonia', 'other')", name=op.f('ck_variety_species')),
    sa.CheckConstraint('target_places BETWEEN 1 AND 100', name=op.f('ck_variety_target_places')),
    sa.ForeignKeyConstraint(['circle_id'], ['circle.id'], name=op.f('fk_variety_circle_id_circle'), ondelete='CASCADE'),
    sa.PrimaryKeyConstraint('id', name=op.f('pk_variety')),
    sa.UniqueConstraint('circle_id', 'species', 'folded', name=op.f('uq_variety_circle_id_species_folded'))
    )
    with op.batch_alter_table('variety', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_variety_circle_id'), ['circle_id'], unique=False)

    op.create_table('way',
    sa.Column('name', sa.Text(), nullable=False),
    sa.Column('country', sa.Text(), nullable=False),
    sa.Column('carriage', sa.Text(), nullable=False),
    sa.Column('odds', sa.JSON(), nullable=False),
    sa.Column('hand_over_weekdays', sa.JSON(), nullable=False),
    sa.Column('delivery_weekdays', sa.JSON(), nullable=False),
    sa.Column('cut_off_hour', sa.Double(), nullable=False),
    sa.Column('postage', sa.Integer(), nullable=True),
    sa.Column('depot_offset_c', sa.Double(), nullable=False),
    sa.Column('quick', sa.Boolean(), nullable=False),
    sa.Column('source', sa.Text(), nullable=False),
    sa.Column('used', sa.Boolean(), nullable=False),
    sa.Column('circle_id', sa.Integer(), nullable=False),
    sa.Column('id', sa.Integer(), nullable=False),
    sa.CheckConstraint("carriage IN ('post', 'by_hand')", name=op.f('ck_way_carriage')),
    sa.CheckConstraint('postage >= 0', name=op.f('ck_way_postage')),
    sa.ForeignKeyConstraint(['circle_id'], ['circle.id'], name=op.f('fk_way_circle_id_circle'), ondelete='CASCADE'),
    sa.PrimaryKeyConstraint('id', name=op.f('pk_way')),
    sa.UniqueConstraint('circle_id', 'name', name=op.f('uq_way_circle_id_name'))
    )
    with op.batch_alter_table('way', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_way_circle_id'), ['circle_id'], unique=False)

    op.create_table('away',
    sa.Column('household_id', sa.Integer(), nullable=False),
    sa.Column('first', sa.Date(), nullable=False),
    sa.Column('last', sa.Date(), nullable=False),
    sa.Column('cannot_receive', sa.Boolean(), nullable=False),
    sa.Column('cannot_post', sa.Boolean(), nullable=False),
    sa.Column('circle_id', sa.Integer(), nullable=False),
    sa.Column('id', sa.Integer(), nullable=False),
    sa.CheckConstraint('first <= last', name=op.f('ck_away_in_order')),
    sa.ForeignKeyConstraint(['circle_id'], ['circle.id'], name=op.f('fk_away_circle_id_circle'), ondelete='CASCADE'),
    sa.ForeignKeyConstraint(['household_id'], ['household.id'], name=op.f('fk_away_household_id_household'), ondelete='CASCADE'),
    sa.PrimaryKeyConstraint('id', name=op.f('pk_away'))
    )
    with op.batch_alter_table('away', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_away_circle_id'), ['circle_id'], unique=False)
        batch_op.create_index(batch_op.f('ix_away_household_id'), ['household_id'], unique=False)

    op.create_table('member',
    sa.Column('household_id', sa.Integer(), nullable=False),
    sa.Column('account_id', sa.Integer(), nullable=True),
    sa.Column('first_name', sa.Text(), nullable=False),
    sa.Column('surname', sa.Text(), nullable=False),
    sa.Column('email', sa.Text(), nullable=True),
    sa.Column('telephone', sa.Text(), nullable=False),
    sa.Column('telephone_allowed', sa.Boolean(), nullable=False),
    sa.Column('organiser', sa.Boolean(), nullable=False),
    sa.Column('helper', sa.Text(), nullable=False),
    sa.Column('joined_at', sa.DateTime(timezone=True), nullable=False),
    sa.Column('left_at', sa.DateTime(timezone=True), nullable=True),
    sa.Column('circle_id', sa.Integer(), nullable=False),
    sa.Column('id', sa.Integer(), nullable=False),
    sa.ForeignKeyConstraint(['account_id'], ['account.id'], name=op.f('fk_member_account_id_account'), ondelete='SET NULL'),
    sa.ForeignKeyConstraint(['circle_id'], ['circle.id'], name=op.f('fk_member_circle_id_circle'), ondelete='CASCADE'),
    sa.ForeignKeyConstraint(['household_id'], ['household.id'], name=op.f('fk_member_household_id_household')),
    sa.PrimaryKeyConstraint('id', name=op.f('pk_member')),
    sa.UniqueConstraint('circle_id', 'account_id', name=op.f('uq_member_circle_id_account_id'))
    )
    with op.batch_alter_table('member', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_member_account_id'), ['account_id'], unique=False)
        batch_op.create_index(batch_op.f('ix_member_circle_id'), ['circle_id'], unique=False)
        batch_op.create_index(batch_op.f('ix_member_household_id'), ['household_id'], unique=False)

    op.create_table('place',
    sa.Column('household_id', sa.Integer(), nullable=False),
    sa.Column('name', sa.Text(), nullable=False),
    sa.Column('town', sa.Text(), nullable=False),
    sa.Column('county', sa.Text(), nullable=False),
    sa.Column('country', sa.Text(), nullable=False),
    sa.Column('subdivision', sa.Text(), nullable=False),
    sa.Column('latitude', sa.Double(), nullable=False),
    sa.Column('longitude', sa.Double(), nullable=False),
    sa.Column('zone', sa.Text(), nullable=False),
    sa.Column('height_m', sa.Double(), nullable=True),
    sa.Column('lie', sa.Text(), nullable=False),
    sa.Column('home_by', sa.Integer(), nullable=False),
    sa.Column('letter_box', sa.Boolean(), nullable=False),
    sa.Column('rural_extra_day', sa.Boolean(), nullable=False),
    sa.Column('circle_id', sa.Integer(), nullable=False),
    sa.Column('id', sa.Integer(), nullable=False),
    sa.CheckConstraint("lie IN ('open', 'hollow', 'town', 'coast')", name=op.f('ck_place_lie')),
    sa.CheckConstraint('home_by BETWEEN 0 AND 24', name=op.f('ck_place_home_by')),
    sa.CheckConstraint('latitude BETWEEN -90 AND 90', name=op.f('ck_place_latitude')),
    sa.CheckConstraint('longitude BETWEEN -180 AND 180', name=op.f('ck_place_longitude')),
    sa.ForeignKeyConstraint(['circle_id'], ['circle.id'], name=op.f('fk_place_circle_id_circle'), ondelete='CASCADE'),
    sa.ForeignKeyConstraint(['household_id'], ['household.id'], name=op.f('fk_place_household_id_household')),
    sa.PrimaryKeyConstraint('id', name=op.f('pk_place'))
    )
    with op.batch_alter_table('place', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_place_circle_id'), ['circle_id'], unique=False)
        batch_op.create_index(batch_op.f('ix_place_household_id'), ['household_id'], unique=False)

    op.create_table('batch',
    sa.Column('variety_id', sa.Integer(), nullable=False),
    sa.Column('household_id', sa.Integer(), nullable=False),
    sa.Column('place_id', sa.Integer(), nullable=False),
    sa.Column('material', sa.Text(), nullable=False),
    sa.Column('raised', sa.Text(), nullable=False),
    sa.Column('plants', sa.Integer(), nullable=False),
    sa.Column('shelter', sa.Text(), nullable=True),
    sa.Column('origin', sa.Text(), nullable=False),
    sa.Column('since', sa.Date(), nullable=True),
    sa.Column('circle_id', sa.Integer(), nullable=False),
    sa.Column('id', sa.Integer(), nullable=False),
    sa.CheckConstraint("material IN ('unrooted', 'rooted', 'young_plant', 'pot_tuber', 'division', 'clump', 'stool', 'rhizome', 'seed')", name=op.f('ck_batch_material')),
    sa.CheckConstraint("raised IN ('in_heat', 'cool', 'hardened')", name=op.f('ck_batch_raised')),
    sa.CheckConstraint('plants BETWEEN 0 AND 10000', name=op.f('ck_batch_plants')),
    sa.ForeignKeyConstraint(['circle_id'], ['circle.id'], name=op.f('fk_batch_circle_id_circle'), ondelete='CASCADE'),
    sa.ForeignKeyConstraint(['household_id'], ['household.id'], name=op.f('fk_batch_household_id_household')),
    sa.ForeignKeyConstraint(['place_id'], ['place.id'], name=op.f('fk_batch_place_id_place')),
    sa.ForeignKeyConstraint(['variety_id'], ['variety.id'], name=op.f('fk_batch_variety_id_variety')),
    sa.PrimaryKeyConstraint('id', name=op.f('pk_batch'))
    )
    with op.batch_alter_table('batch', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_batch_circle_id'), ['circle_id'], unique=False)
        batch_op.create_index(batch_op.f('ix_batch_household_id'), ['household_id'], unique=False)
        batch_op.create_index(batch_op.f('ix_batch_place_id'), ['place_id'], unique=False)
        batch_op.create_index(batch_op.f('ix_batch_variety_id'), ['variety_id'], unique=False)

    op.create_table('calendar_address',
    sa.Column('member_id', sa.Integer(), nullable=False),
    sa.Column('kind', sa.Text(), nullable=False),
    sa.Column('sha256', sa.Text(), nullable=False),
    sa.Column('made_at', sa.DateTime(timezone=True), nullable=False),
    sa.Column('last_fetched_at', sa.DateTime(timezone=True), nullable=True),
    sa.Column('last_fetched_by', sa.Text(), nullable=False),
    sa.Column('changed_at', sa.DateTime(timezone=True), nullable=False),
    sa.Column('revoked_at', sa.DateTime(timezone=True), nullable=True),
    sa.Column('reminders', sa.Boolean(), nullable=False),
    sa.Column('circle_id', sa.Integer(), nullable=False),
    sa.Column('id', sa.Integer(), nullable=False),
    sa.CheckConstraint("kind IN ('member', 'dispatch')", name=op.f('ck_calendar_address_kind')),
    sa.ForeignKeyConstraint(['circle_id'], ['circle.id'], name=op.f('fk_calendar_address_circle_id_circle'), ondelete='CASCADE'),
    sa.ForeignKeyConstraint(['member_id'], ['member.id'], name=op.f('fk_calendar_address_member_id_member'), ondelete='CASCADE'),
    sa.PrimaryKeyConstraint('id', name=op.f('pk_calendar_address')),
    sa.UniqueConstraint('member_id', 'kind', 'sha256', name=op.f('uq_calendar_address_member_id_kind_sha256')),
    sa.UniqueConstraint('sha256', name=op.f('uq_calendar_address_sha256'))
    )
    with op.batch_alter_table('calendar_address', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_calendar_address_circle_id'), ['circle_id'], unique=False)
        batch_op.create_index(batch_op.f('ix_calendar_address_member_id'), ['member_id'], unique=False)

    op.create_table('claim',
    sa.Column('household_id', sa.Integer(), nullable=False),
    sa.Column('place_id', sa.Integer(), nullable=False),
    sa.Column('variety_id', sa.Integer(), nullable=False),
    sa.Column('asked', sa.Integer(), nullable=False),
    sa.Column('choice', sa.Integer(), nullable=False),
    sa.Column('materials', sa.JSON(), nullable=False),
    sa.Column('no_use_after', sa.Date(), nullable=True),
    sa.Column('alternatives', sa.JSON(), nullable=False),
    sa.Column('set_aside', sa.Boolean(), nullable=False),
    sa.Column('made_at', sa.DateTime(timezone=True), nullable=False),
    sa.Column('entered_by', sa.Integer(), nullable=True),
    sa.Column('withdrawn_at', sa.DateTime(timezone=True), nullable=True),
    sa.Column('circle_id', sa.Integer(), nullable=False),
    sa.Column('id', sa.Integer(), nullable=False),
    sa.CheckConstraint('asked BETWEEN 1 AND 100', name=op.f('ck_claim_asked')),
    sa.CheckConstraint('choice BETWEEN 1 AND 3', name=op.f('ck_claim_choice')),
    sa.ForeignKeyConstraint(['circle_id'], ['circle.id'], name=op.f('fk_claim_circle_id_circle'), ondelete='CASCADE'),
    sa.ForeignKeyConstraint(['entered_by'], ['member.id'], name=op.f('fk_claim_entered_by_member'), ondelete='SET NULL'),
    sa.ForeignKeyConstraint(['household_id'], ['household.id'], name=op.f('fk_claim_household_id_household')),
    sa.ForeignKeyConstraint(['place_id'], ['place.id'], name=op.f('fk_claim_place_id_place')),
    sa.ForeignKeyConstraint(['variety_id'], ['variety.id'], name=op.f('fk_claim_variety_id_variety')),
    sa.PrimaryKeyConstraint('id', name=op.f('pk_claim'))
    )
    with op.batch_alter_table('claim', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_claim_circle_id'), ['circle_id'], unique=False)
        batch_op.create_index(batch_op.f('ix_claim_household_id'), ['household_id'], unique=False)
        batch_op.create_index(batch_op.f('ix_claim_variety_id'), ['variety_id'], unique=False)

    op.create_table('deed',
    sa.Column('actor_id', sa.Integer(), nullable=True),
    sa.Column('for_member_id', sa.Integer(), nullable=True),
    sa.Column('act', sa.Text(), nullable=False),
    sa.Column('what', sa.Text(), nullable=False),
    sa.Column('done_at', sa.DateTime(timezone=True), nullable=False),
    sa.Column('circle_id', sa.Integer(), nullable=False),
    sa.Column('id', sa.Integer(), nullable=False),
    sa.ForeignKeyConstraint(['actor_id'], ['member.id'], name=op.f('fk_deed_actor_id_member'), ondelete='SET NULL'),
    sa.ForeignKeyConstraint(['circle_id'], ['circle.id'], name=op.f('fk_deed_circle_id_circle'), ondelete='CASCADE'),
    sa.ForeignKeyConstraint(['for_member_id'], ['member.id'], name=op.f('fk_deed_for_member_id_member'), ondelete='SET NULL'),
    sa.PrimaryKeyConstraint('id', name=op.f('pk_deed'))
    )
    with op.batch_alter_table('deed', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_deed_circle_id'), ['circle_id'], unique=False)
        batch_op.create_index(batch_op.f('ix_deed_for_member_id'), ['for_member_id'], unique=False)

    op.create_table('forecast',
    sa.Column('circle_id', sa.Integer(), nullable=False),
    sa.Column('place_id', sa.Integer(), nullable=False),
    sa.Column('source', sa.Text(), nullable=False),
    sa.Column('issued_at', sa.DateTime(timezone=True), nullable=False),
    sa.Column('fetched_at', sa.DateTime(timezone=True), nullable=False),
    sa.Column('expires_at', sa.DateTime(timezone=True), nullable=False),
    sa.Column('attribution', sa.Text(), nullable=False),
    sa.Column('grid_height_m', sa.Double(), nullable=True),
    sa.Column('readings', sa.JSON(), nullable=False),
    sa.Column('lacks', sa.JSON(), nullable=False),
    sa.Column('id', sa.Integer(), nullable=False),
    sa.ForeignKeyConstraint(['circle_id'], ['circle.id'], name=op.f('fk_forecast_circle_id_circle'), ondelete='CASCADE'),
    sa.ForeignKeyConstraint(['place_id'], ['place.id'], name=op.f('fk_forecast_place_id_place'), ondelete='CASCADE'),
    sa.PrimaryKeyConstraint('id', name=op.f('pk_forecast'))
    )
    with op.batch_alter_table('forecast', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_forecast_circle_id'), ['circle_id'], unique=False)
        batch_op.create_index(batch_op.f('ix_forecast_place_id'), ['place_id'], unique=False)

    op.create_table('letter',
    sa.Column('member_id', sa.Integer(), nullable=False),
    sa.Column('key', sa.Text(), nullable=False),
    sa.Column('kind', sa.Text(), nullable=False),
    sa.Column('subject', sa.Text(), nullable=False),
    sa.Column('body', sa.Text(), nullable=False),
    sa.Column('state', sa.Text(), nullable=False),
    sa.Column('tries', sa.Integer(), nullable=False),
    sa.Column('fault', sa.Text(), nullable=False),
    sa.Column('written_at', sa.DateTime(timezone=True), nullable=False),
    sa.Column('not_before', sa.DateTime(timezone=True), nullable=True),
    sa.Column('sent_at', sa.DateTime(timezone=True), nullable=True),
    sa.Column('circle_id', sa.Integer(), nullable=False),
    sa.Column('id', sa.Integer(), nullable=False),
    sa.CheckConstraint("state IN ('waiting', 'sent', 'failed', 'by_hand')", name=op.f('ck_letter_state')),
    sa.ForeignKeyConstraint(['circle_id'], ['circle.id'], name=op.f('fk_letter_circle_id_circle'), ondelete='CASCADE'),
    sa.ForeignKeyConstraint(['member_id'], ['member.id'], name=op.f('fk_letter_member_id_member'), ondelete='CASCADE'),
    sa.PrimaryKeyConstraint('id', name=op.f('pk_letter')),
    sa.UniqueConstraint('key', name=op.f('uq_letter_key'))
    )
    with op.batch_alter_table('letter', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_letter_circle_id'), ['circle_id'], unique=False)
        batch_op.create_index(batch_op.f('ix_letter_member_id'), ['member_id'], unique=False)

    op.create_table('one_time_link',
    sa.Column('sha256', sa.Text(), nullable=False),
    sa.Column('purpose', sa.Text(), nullable=False),
    sa.Column('member_id', sa.Integer(), nullable=False),
    sa.Column('subject_id', sa.Integer(), nullable=True),
    sa.Column('made_at', sa.DateTime(timezone=True), nullable=False),
    sa.Column('expires_at', sa.DateTime(timezone=True), nullable=False),
    sa.Column('used_at', sa.DateTime(timezone=True), nullable=True),
    sa.Column('id', sa.Integer(), nullable=False),
    sa.CheckConstraint("purpose IN ('invitation', 'sign_in', 'did_it_go', 'did_it_come', 'sender_answer')", name=op.f('ck_one_time_link_purpose')),
    sa.ForeignKeyConstraint(['member_id'], ['member.id'], name=op.f('fk_one_time_link_member_id_member'), ondelete='CASCADE'),
    sa.PrimaryKeyConstraint('id', name=op.f('pk_one_time_link')),
    sa.UniqueConstraint('sha256', name=op.f('uq_one_time_link_sha256'))
    )
    op.create_table('parcel',
    sa.Column('code', sa.Text(), nullable=False),
    sa.Column('sender_household_id', sa.Integer(), nullable=False),
    sa.Column('sender_place_id', sa.Integer(), nullable=False),
    sa.Column('receiver_household_id', sa.Integer(), nullable=False),
    sa.Column('receiver_place_id', sa.Integer(), nullable=False),
    sa.Column('state', sa.Text(), nullable=False),
    sa.Column('way_id', sa.Integer(), nullable=True),
    sa.Column('chosen_way_id', sa.Integer(), nullable=True),
    sa.Column('posting_day', sa.Date(), nullable=True),
    sa.Column('arrival_from', sa.Date(), nullable=True),
    sa.Column('arrival_to', sa.Date(), nullable=True),
    sa.Column('loss_chance', sa.Double(), nullable=True),
    sa.Column('held', sa.Boolean(), nullable=False),
    sa.Column('weather_source', sa.Text(), nullable=False),
    sa.Column('reasons', sa.JSON(), nullable=False),
    sa.Column('plan', sa.JSON(), nullable=False),
    sa.Column('announced_day', sa.Date(), nullable=True),
    sa.Column('announced_way_id', sa.Integer(), nullable=True),
    sa.Column('waiting_since', sa.Date(), nullable=True),
    sa.Column('posted_on', sa.Date(), nullable=True),
    sa.Column('arrived_on', sa.Date(), nullable=True),
    sa.Column('condition', sa.Text(), nullable=False),
    sa.Column('changed_at', sa.DateTime(timezone=True), nullable=False),
    sa.Column('closed_at', sa.DateTime(timezone=True), nullable=True),
    sa.Column('circle_id', sa.Integer(), nullable=False),
    sa.Column('id', sa.Integer(), nullable=False),
    sa.CheckConstraint("state IN ('planned', 'announced', 'posted', 'arrived', 'lost')", name=op.f('ck_parcel_state')),
    sa.CheckConstraint('loss_chance BETWEEN 0 AND 1', name=op.f('ck_parcel_loss_chance')),
    sa.ForeignKeyConstraint(['announced_way_id'], ['way.id'], name=op.f('fk_parcel_announced_way_id_way')),
    sa.ForeignKeyConstraint(['chosen_way_id'], ['way.id'], name=op.f('fk_parcel_chosen_way_id_way')),
    sa.ForeignKeyConstraint(['circle_id'], ['circle.id'], name=op.f('fk_parcel_circle_id_circle'), ondelete='CASCADE'),
    sa.ForeignKeyConstraint(['receiver_household_id'], ['household.id'], name=op.f('fk_parcel_receiver_household_id_household')),
    sa.ForeignKeyConstraint(['receiver_place_id'], ['place.id'], name=op.f('fk_parcel_receiver_place_id_place')),
    sa.ForeignKeyConstraint(['sender_household_id'], ['household.id'], name=op.f('fk_parcel_sender_household_id_household')),
    sa.ForeignKeyConstraint(['sender_place_id'], ['place.id'], name=op.f('fk_parcel_sender_place_id_place')),
    sa.ForeignKeyConstraint(['way_id'], ['way.id'], name=op.f('fk_parcel_way_id_way')),
    sa.PrimaryKeyConstraint('id', name=op.f('pk_parcel')),
    sa.UniqueConstraint('circle_id', 'code', name=op.f('uq_parcel_circle_id_code'))
    )
    with op.batch_alter_table('parcel', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_parcel_circle_id'), ['circle_id'], unique=False)
        batch_op.create_index(batch_op.f('ix_parcel_receiver_household_id'), ['receiver_household_id'], unique=False)
        batch_op.create_index(batch_op.f('ix_parcel_sender_household_id'), ['sender_household_id'], unique=False)

    op.create_table('shelter',
    sa.Column('place_id', sa.Integer(), nullable=False),
    sa.Column('kind', sa.Text(), nullable=False),
    sa.Column('room_pots', sa.Integer(), nullable=True),
    sa.Column('carried_in', sa.Boolean(), nullable=False),
    sa.Column('circle_id', sa.Integer(), nullable=False),
    sa.Column('id', sa.Integer(), nullable=False),
    sa.CheckConstraint('room_pots >= 0', name=op.f('ck_shelter_room_pots')),
    sa.ForeignKeyConstraint(['circle_id'], ['circle.id'], name=op.f('fk_shelter_circle_id_circle'), ondelete='CASCADE'),
    sa.ForeignKeyConstraint(['place_id'], ['place.id'], name=op.f('fk_shelter_place_id_place'), ondelete='CASCADE'),
    sa.PrimaryKeyConstraint('id', name=op.f('pk_shelter')),
    sa.UniqueConstraint('place_id', 'kind', name=op.f('uq_shelter_place_id_kind'))
    )
    with op.batch_alter_table('shelter', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_shelter_circle_id'), ['circle_id'], unique=False)
        batch_op.create_index(batch_op.f('ix_shelter_place_id'), ['place_id'], unique=False)

    op.create_table('task',
    sa.Column('kind', sa.Text(), nullable=False),
    sa.Column('subject_id', sa.Integer(), nullable=True),
    sa.Column('state', sa.Text(), nullable=False),
    sa.Column('stage', sa.Text(), nullable=False),
    sa.Column('progress', sa.Double(), nullable=False),
    sa.Column('cancel', sa.Boolean(), nullable=False),
    sa.Column('error', sa.Text(), nullable=False),
    sa.Column('asked_by', sa.Integer(), nullable=True),
    sa.Column('asked_at', sa.DateTime(timezone=True), nullable=False),
    sa.Column('claimed_at', sa.DateTime(timezone=True), nullable=True),
    sa.Column('seen_at', sa.DateTime(timezone=True), nullable=True),
    sa.Column('ended_at', sa.DateTime(timezone=True), nullable=True),
    sa.Column('result', sa.JSON(), nullable=True),
    sa.Column('circle_id', sa.Integer(), nullable=False),
    sa.Column('id', sa.Integer(), nullable=False),
    sa.CheckConstraint("state IN ('waiting', 'running', 'done', 'failed', 'cancelled')", name=op.f('ck_task_state')),
    sa.CheckConstraint('progress BETWEEN 0 AND 1', name=op.f('ck_task_progress')),
    sa.ForeignKeyConstraint(['asked_by'], ['member.id'], name=op.f('fk_task_asked_by_member'), ondelete='SET NULL'),
    sa.ForeignKeyConstraint(['circle_id'], ['circle.id'], name=op.f('fk_task_circle_id_circle'), ondelete='CASCADE'),
    sa.PrimaryKeyConstraint('id', name=op.f('pk_task'))
    )
    with op.batch_alter_table('task', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_task_circle_id'), ['circle_id'], unique=False)

    op.create_table('claim_answer',
    sa.Column('share_out_id', sa.Integer(), nullable=False),
    sa.Column('claim_id', sa.Integer(), nullable=False),
    sa.Column('given', sa.Integer(), nullable=False),
    sa.Column('reason', sa.JSON(), nullable=False),
    sa.Column('circle_id', sa.Integer(), nullable=False),
    sa.Column('id', sa.Integer(), nullable=False),
    sa.CheckConstraint('given >= 0', name=op.f('ck_claim_answer_given')),
    sa.ForeignKeyConstraint(['circle_id'], ['circle.id'], name=op.f('fk_claim_answer_circle_id_circle'), ondelete='CASCADE'),
    sa.ForeignKeyConstraint(['claim_id'], ['claim.id'], name=op.f('fk_claim_answer_claim_id_claim'), ondelete='CASCADE'),
    sa.ForeignKeyConstraint(['share_out_id'], ['share_out.id'], name=op.f('fk_claim_answer_share_out_id_share_out'), ondelete='CASCADE'),
    sa.PrimaryKeyConstraint('id', name=op.f('pk_claim_answer')),
    sa.UniqueConstraint('share_out_id', 'claim_id', name=op.f('uq_claim_answer_share_out_id_claim_id'))
    )
    with op.batch_alter_table('claim_answer', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_claim_answer_circle_id'), ['circle_id'], unique=False)
        batch_op.create_index(batch_op.f('ix_claim_answer_claim_id'), ['claim_id'], unique=False)
        batch_op.create_index(batch_op.f('ix_claim_answer_share_out_id'), ['share_out_id'], unique=False)

    op.create_table('diary_entry',
    sa.Column('key', sa.Text(), nullable=False),
    sa.Column('kind', sa.Text(), nullable=False),
    sa.Column('household_id', sa.Integer(), nullable=True),
    sa.Column('parcel_id', sa.Integer(), nullable=True),
    sa.Column('first_day', sa.Date(), nullable=False),
    sa.Column('last_day', sa.Date(), nullable=False),
    sa.Column('title', sa.Text(), nullable=False),
    sa.Column('text', sa.Text(), nullable=False),
    sa.Column('alarm_hours', sa.Integer(), nullable=True),
    sa.Column('sequence', sa.Integer(), nullable=False),
    sa.Column('content_changed_at', sa.DateTime(timezone=True), nullable=False),
    sa.Column('cancelled_on', sa.Date(), nullable=True),
    sa.Column('circle_id', sa.Integer(), nullable=False),
    sa.Column('id', sa.Integer(), nullable=False),
    sa.CheckConstraint('first_day <= last_day', name=op.f('ck_diary_entry_in_order')),
    sa.ForeignKeyConstraint(['circle_id'], ['circle.id'], name=op.f('fk_diary_entry_circle_id_circle'), ondelete='CASCADE'),
    sa.ForeignKeyConstraint(['household_id'], ['household.id'], name=op.f('fk_diary_entry_household_id_household'), ondelete='CASCADE'),
    sa.ForeignKeyConstraint(['parcel_id'], ['parcel.id'], name=op.f('fk_diary_entry_parcel_id_parcel'), ondelete='CASCADE'),
    sa.PrimaryKeyConstraint('id', name=op.f('pk_diary_entry')),
    sa.UniqueConstraint('circle_id', 'key', 'household_id', name=op.f('uq_diary_entry_circle_id_key_household_id'))
    )
    with op.batch_alter_table('diary_entry', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_diary_entry_circle_id'), ['circle_id'], unique=False)
        batch_op.create_index(batch_op.f('ix_diary_entry_household_id'), ['household_id'], unique=False)

    op.create_table('spare',
    sa.Column('household_id', sa.Integer(), nullable=False),
    sa.Column('place_id', sa.Integer(), nullable=False),
    sa.Column('variety_id', sa.Integer(), nullable=False),
    sa.Column('batch_id', sa.Integer(), nullable=True),
    sa.Column('material', sa.Text(), nullable=False),
    sa.Column('raised', sa.Text(), nullable=False),
    sa.Column('count', sa.Integer(), nullable=False),
    sa.Column('allocated', sa.Integer(), nullable=False),
    sa.Column('ready_from', sa.Date(), nullable=False),
    sa.Column('send_by', sa.Date(), nullable=False),
    sa.Column('set_aside_for', sa.Integer(), nullable=True),
    sa.Column('roots_seen', sa.Boolean(), nullable=False),
    sa.Column('health_by', sa.Text(), nullable=False),
    sa.Column('health_on', sa.Date(), nullable=True),
    sa.Column('note', sa.Text(), nullable=False),
    sa.Column('held', sa.Boolean(), nullable=False),
    sa.Column('listed_at', sa.DateTime(timezone=True), nullable=False),
    sa.Column('entered_by', sa.Integer(), nullable=True),
    sa.Column('withdrawn_at', sa.DateTime(timezone=True), nullable=True),
    sa.Column('circle_id', sa.Integer(), nullable=False),
    sa.Column('id', sa.Integer(), nullable=False),
    sa.CheckConstraint("material IN ('unrooted', 'rooted', 'young_plant', 'pot_tuber', 'division', 'clump', 'stool', 'rhizome', 'seed')", name=op.f('ck_spare_material')),
    sa.CheckConstraint("raised IN ('in_heat', 'cool', 'hardened')", name=op.f('ck_spare_raised')),
    sa.CheckConstraint('allocated BETWEEN 0 AND count', name=op.f('ck_spare_allocated')),
    sa.CheckConstraint('count BETWEEN 1 AND 1000', name=op.f('ck_spare_count')),
    sa.CheckConstraint('ready_from <= send_by', name=op.f('ck_spare_window')),
    sa.ForeignKeyConstraint(['batch_id'], ['batch.id'], name=op.f('fk_spare_batch_id_batch'), ondelete='SET NULL'),
    sa.ForeignKeyConstraint(['circle_id'], ['circle.id'], name=op.f('fk_spare_circle_id_circle'), ondelete='CASCADE'),
    sa.ForeignKeyConstraint(['entered_by'], ['member.id'], name=op.f('fk_spare_entered_by_member'), ondelete='SET NULL'),
    sa.ForeignKeyConstraint(['household_id'], ['household.id'], name=op.f('fk_spare_household_id_household')),
    sa.ForeignKeyConstraint(['place_id'], ['place.id'], name=op.f('fk_spare_place_id_place')),
    sa.ForeignKeyConstraint(['set_aside_for'], ['household.id'], name=op.f('fk_spare_set_aside_for_household')),
    sa.ForeignKeyConstraint(['variety_id'], ['variety.id'], name=op.f('fk_spare_variety_id_variety')),
    sa.PrimaryKeyConstraint('id', name=op.f('pk_spare'))
    )
    with op.batch_alter_table('spare', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_spare_circle_id'), ['circle_id'], unique=False)
        batch_op.create_index(batch_op.f('ix_spare_household_id'), ['household_id'], unique=False)
        batch_op.create_index(batch_op.f('ix_spare_variety_id'), ['variety_id'], unique=False)

    op.create_table('allocation',
    sa.Column('share_out_id', sa.Integer(), nullable=True),
    sa.Column('spare_id', sa.Integer(), nullable=False),
    sa.Column('claim_id', sa.Integer(), nullable=False),
    sa.Column('count', sa.Integer(), nullable=False),
    sa.Column('state', sa.Text(), nullable=False),
    sa.Column('answered_at', sa.DateTime(timezone=True), nullable=True),
    sa.Column('made_at', sa.DateTime(timezone=True), nullable=False),
    sa.Column('circle_id', sa.Integer(), nullable=False),
    sa.Column('id', sa.Integer(), nullable=False),
    sa.CheckConstraint("state IN ('confirmed', 'agreed', 'refused', 'declined', 'failed')", name=op.f('ck_allocation_state')),
    sa.CheckConstraint('count >= 1', name=op.f('ck_allocation_count')),
    sa.ForeignKeyConstraint(['circle_id'], ['circle.id'], name=op.f('fk_allocation_circle_id_circle'), ondelete='CASCADE'),
    sa.ForeignKeyConstraint(['claim_id'], ['claim.id'], name=op.f('fk_allocation_claim_id_claim')),
    sa.ForeignKeyConstraint(['share_out_id'], ['share_out.id'], name=op.f('fk_allocation_share_out_id_share_out')),
    sa.ForeignKeyConstraint(['spare_id'], ['spare.id'], name=op.f('fk_allocation_spare_id_spare')),
    sa.PrimaryKeyConstraint('id', name=op.f('pk_allocation'))
    )
    with op.batch_alter_table('allocation', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_allocation_circle_id'), ['circle_id'], unique=False)
        batch_op.create_index(batch_op.f('ix_allocation_claim_id'), ['claim_id'], unique=False)
        batch_op.create_index(batch_op.f('ix_allocation_share_out_id'), ['share_out_id'], unique=False)
        batch_op.create_index(batch_op.f('ix_allocation_spare_id'), ['spare_id'], unique=False)

    op.create_table('parcel_line',
    sa.Column('parcel_id', sa.Integer(), nullable=False),
    sa.Column('allocation_id', sa.Integer(), nullable=False),
    sa.Column('count', sa.Integer(), nullable=False),
    sa.Column('circle_id', sa.Integer(), nullable=False),
    sa.Column('id', sa.Integer(), nullable=False),
    sa.CheckConstraint('count >= 1', name=op.f('ck_parcel_line_count')),
    sa.ForeignKeyConstraint(['allocation_id'], ['allocation.id'], name=op.f('fk_parcel_line_allocation_id_allocation'), ondelete='CASCADE'),
    sa.ForeignKeyConstraint(['circle_id'], ['circle.id'], name=op.f('fk_parcel_line_circle_id_circle'), ondelete='CASCADE'),
    sa.ForeignKeyConstraint(['parcel_id'], ['parcel.id'], name=op.f('fk_parcel_line_parcel_id_parcel'), ondelete='CASCADE'),
    sa.PrimaryKeyConstraint('id', name=op.f('pk_parcel_line')),
    sa.UniqueConstraint('parcel_id', 'allocation_id', name=op.f('uq_parcel_line_parcel_id_allocation_id'))
    )
    with op.batch_alter_table('parcel_line', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_parcel_line_allocation_id'), ['allocation_id'], unique=False)
        batch_op.create_index(batch_op.f('ix_parcel_line_circle_id'), ['circle_id'], unique=False)
        batch_op.create_index(batch_op.f('ix_parcel_line_parcel_id'), ['parcel_id'], unique=False)



def downgrade() -> None:
    with op.batch_alter_table('parcel_line', schema=None) as batch_op:
        batch_op.drop_index(batch_op.f('ix_parcel_line_parcel_id'))
        batch_op.drop_index(batch_op.f('ix_parcel_line_circle_id'))
        batch_op.drop_index(batch_op.f('ix_parcel_line_allocation_id'))

    op.drop_table('parcel_line')
    with op.batch_alter_table('allocation', schema=None) as batch_op:
        batch_op.drop_index(batch_op.f('ix_allocation_spare_id'))
        batch_op.drop_index(batch_op.f('ix_allocation_share_out_id'))
        batch_op.drop_index(batch_op.f('ix_allocation_claim_id'))
        batch_op.drop_index(batch_op.f('ix_allocation_circle_id'))

    op.drop_table('allocation')
    with op.batch_alter_table('spare', schema=None) as batch_op:
        batch_op.drop_index(batch_op.f('ix_spare_variety_id'))
        batch_op.drop_index(batch_op.f('ix_spare_household_id'))
        batch_op.drop_index(batch_op.f('ix_spare_circle_id'))

    op.drop_table('spare')
    with op.batch_alter_table('diary_entry', schema=None) as batch_op:
        batch_op.drop_index(batch_op.f('ix_diary_entry_household_id'))
        batch_op.drop_index(batch_op.f('ix_diary_entry_circle_id'))

    op.drop_table('diary_entry')
    with op.batch_alter_table('claim_answer', schema=None) as batch_op:
        batch_op.drop_index(batch_op.f('ix_claim_answer_share_out_id'))
        batch_op.drop_index(batch_op.f('ix_claim_answer_claim_id'))
        batch_op.drop_index(batch_op.f('ix_claim_answer_circle_id'))

    op.drop_table('claim_answer')
    with op.batch_alter_table('task', schema=None) as batch_op:
        batch_op.drop_index(batch_op.f('ix_task_circle_id'))

    op.drop_table('task')
    with op.batch_alter_table('shelter', schema=None) as batch_op:
        batch_op.drop_index(batch_op.f('ix_shelter_place_id'))
        batch_op.drop_index(batch_op.f('ix_shelter_circle_id'))

    op.drop_table('shelter')
    with op.batch_alter_table('parcel', schema=None) as batch_op:
        batch_op.drop_index(batch_op.f('ix_parcel_sender_household_id'))
        batch_op.drop_index(batch_op.f('ix_parcel_receiver_household_id'))
        batch_op.drop_index(batch_op.f('ix_parcel_circle_id'))

    op.drop_table('parcel')
    op.drop_table('one_time_link')
    with op.batch_alter_table('letter', schema=None) as batch_op:
        batch_op.drop_index(batch_op.f('ix_letter_member_id'))
        batch_op.drop_index(batch_op.f('ix_letter_circle_id'))

    op.drop_table('letter')
    with op.batch_alter_table('forecast', schema=None) as batch_op:
        batch_op.drop_index(batch_op.f('ix_forecast_place_id'))
        batch_op.drop_index(batch_op.f('ix_forecast_circle_id'))

    op.drop_table('forecast')
    with op.batch_alter_table('deed', schema=None) as batch_op:
        batch_op.drop_index(batch_op.f('ix_deed_for_member_id'))
        batch_op.drop_index(batch_op.f('ix_deed_circle_id'))

    op.drop_table('deed')
    with op.batch_alter_table('claim', schema=None) as batch_op:
        batch_op.drop_index(batch_op.f('ix_claim_variety_id'))
        batch_op.drop_index(batch_op.f('ix_claim_household_id'))
        batch_op.drop_index(batch_op.f('ix_claim_circle_id'))

    op.drop_table('claim')
    with op.batch_alter_table('calendar_address', schema=None) as batch_op:
        batch_op.drop_index(batch_op.f('ix_calendar_address_member_id'))
        batch_op.drop_index(batch_op.f('ix_calendar_address_circle_id'))

    op.drop_table('calendar_address')
    with op.batch_alter_table('batch', schema=None) as batch_op:
        batch_op.drop_index(batch_op.f('ix_batch_variety_id'))
        batch_op.drop_index(batch_op.f('ix_batch_place_id'))
        batch_op.drop_index(batch_op.f('ix_batch_household_id'))
        batch_op.drop_index(batch_op.f('ix_batch_circle_id'))

    op.drop_table('batch')
    with op.batch_alter_table('place', schema=None) as batch_op:
        batch_op.drop_index(batch_op.f('ix_place_household_id'))
        batch_op.drop_index(batch_op.f('ix_place_circle_id'))

    op.drop_table('place')
    with op.batch_alter_table('member', schema=None) as batch_op:
        batch_op.drop_index(batch_op.f('ix_member_household_id'))
        batch_op.drop_index(batch_op.f('ix_member_circle_id'))
        batch_op.drop_index(batch_op.f('ix_member_account_id'))

    op.drop_table('member')
    with op.batch_alter_table('away', schema=None) as batch_op:
        batch_op.drop_index(batch_op.f('ix_away_household_id'))
        batch_op.drop_index(batch_op.f('ix_away_circle_id'))

    op.drop_table('away')
    with op.batch_alter_table('way', schema=None) as batch_op:
        batch_op.drop_index(batch_op.f('ix_way_circle_id'))

    op.drop_table('way')
    with op.batch_alter_table('variety', schema=None) as batch_op:
        batch_op.drop_index(batch_op.f('ix_variety_circle_id'))

    op.drop_table('variety')
    with op.batch_alter_table('share_out', schema=None) as batch_op:
        batch_op.drop_index(batch_op.f('ix_share_out_circle_id'))

    op.drop_table('share_out')
    with op.batch_alter_table('household', schema=None) as batch_op:
        batch_op.drop_index(batch_op.f('ix_household_circle_id'))

    op.drop_table('household')
    with op.batch_alter_table('forecast_fault', schema=None) as batch_op:
        batch_op.drop_index(batch_op.f('ix_forecast_fault_circle_id'))

    op.drop_table('forecast_fault')
    with op.batch_alter_table('closure', schema=None) as batch_op:
        batch_op.drop_index(batch_op.f('ix_closure_circle_id'))

    op.drop_table('closure')
    op.drop_table('circle')
    op.drop_table('account')
