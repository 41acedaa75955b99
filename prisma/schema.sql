-- Read back from a migrated book; never edited by hand. `npm run db:dump` writes it.

-- columns
_prisma_migrations.id character varying(36) not null
_prisma_migrations.checksum character varying(64) not null
_prisma_migrations.finished_at timestamp with time zone
_prisma_migrations.migration_name character varying(255) not null
_prisma_migrations.logs text
_prisma_migrations.rolled_back_at timestamp with time zone
_prisma_migrations.started_at timestamp with time zone not null default now()
_prisma_migrations.applied_steps_count integer not null default 0
audit_row.seq bigint not null
audit_row.recorded_at timestamp(6) with time zone not null
audit_row.actor_id uuid
audit_row.action text not null
audit_row.entity text not null
audit_row.entity_id text not null
audit_row.request_id text
audit_row.payload text
audit_row.payload_hash bytea not null
audit_row.prev_hash bytea not null
audit_row.hash bytea not null
box.job_id uuid not null
box.items jsonb not null
box.carrier text
box.carrier_no text
box.grams integer
box.owners_word text
box.owners_word_by uuid
box.checked_by_id uuid not null
box.checked_at timestamp(6) with time zone not null
box.version integer not null default 1
certificate.id uuid not null
certificate.number integer not null
certificate.job_id uuid not null
certificate.replaces_id uuid
certificate.reason text
certificate.data text not null
certificate.seal_alg text not null
certificate.seal_key_id text
certificate.seal_value text not null
certificate.check_code text not null
certificate.issued_by_id uuid not null
certificate.issued_at timestamp(6) with time zone not null
certificate_paper.certificate_id uuid not null
certificate_paper.paper text not null
certificate_paper.sha256 text not null
certificate_paper.bytes integer not null
certificate_paper.drawn_at timestamp(6) with time zone not null
certificate_void.certificate_id uuid not null
certificate_void.reason text not null
certificate_void.person_id uuid not null
certificate_void.at timestamp(6) with time zone not null
clock_entry.id uuid not null
clock_entry.person_id uuid not null
clock_entry.job_id uuid not null
clock_entry.work text not null
clock_entry.started_at timestamp(6) with time zone not null
clock_entry.stopped_at timestamp(6) with time zone
clock_entry.stopped_how text
clock_entry.was_started_at timestamp(6) with time zone
clock_entry.was_stopped_at timestamp(6) with time zone
clock_entry.corrected_by_id uuid
clock_entry.corrected_at timestamp(6) with time zone
clock_entry.corrected_why text
clock_entry.version integer not null default 1
comeback.id uuid not null
comeback.job_id uuid not null
comeback.day date not null
comeback.how text not null
comeback.hours numeric(8,2)
comeback.hours_how text not null default 'unknown'::text
comeback.says text
comeback.found jsonb not null default '[]'::jsonb
comeback.found_note text
comeback.thought text
comeback.cause text
comeback.whose text
comeback.new_job_id uuid
comeback.person_id uuid not null
comeback.recorded_at timestamp(6) with time zone not null
comeback.looked_by_id uuid
comeback.looked_at timestamp(6) with time zone
comeback.struck_at timestamp(6) with time zone
comeback.struck_by_id uuid
comeback.struck_because text
comeback.version integer not null default 1
counter.name text not null
counter.last integer not null
crank.id uuid not null
crank.engine_id uuid not null
crank.customer_id uuid not null
crank.engine_number text
crank.marks text
crank.welded boolean not null default false
crank.pressed_before integer not null default 1
crank.find_text text not null
crank.created_at timestamp(6) with time zone not null default CURRENT_TIMESTAMP
crank.version integer not null default 1
customer.id uuid not null
customer.name text not null
customer.phone text
customer.mail text
customer.hear_by text not null default 'phone'::text
customer.address text
customer.note text
customer.find_text text not null
customer.created_at timestamp(6) with time zone not null default CURRENT_TIMESTAMP
customer.version integer not null default 1
customer.merged_into_id uuid
device.id uuid not null
device.name text not null
device.token_hash bytea not null
device.enrolled_by uuid not null
device.enrolled_at timestamp(6) with time zone not null default CURRENT_TIMESTAMP
device.ended_at timestamp(6) with time zone
draft.person_id uuid not null
draft.form text not null
draft.data jsonb not null
draft.changed_at timestamp(6) with time zone not null default CURRENT_TIMESTAMP
engine.id uuid not null
engine.maker text not null
engine.code text not null
engine.cycle text not null
engine.surface_left text not null
engine.surface_right text not null
engine.note text
engine.find_text text not null
engine.copied_from uuid
engine.created_at timestamp(6) with time zone not null default CURRENT_TIMESTAMP
engine.version integer not null default 1
engine.build jsonb
engine_figure.engine_id uuid not null
engine_figure.name text not null
engine_figure.version integer not null
engine_figure.value numeric(10,5) not null
engine_figure.source text not null
engine_figure.note text
engine_figure.person_id uuid
engine_figure.at timestamp(6) with time zone not null default CURRENT_TIMESTAMP
follow_up.id uuid not null
follow_up.job_id uuid not null
follow_up.day date not null
follow_up.runs boolean not null
follow_up.hours numeric(8,2)
follow_up.hours_how text not null default 'unknown'::text
follow_up.says text
follow_up.person_id uuid not null
follow_up.recorded_at timestamp(6) with time zone not null
follow_up.struck_at timestamp(6) with time zone
follow_up.struck_by_id uuid
follow_up.struck_because text
gauge_reading.id uuid not null
gauge_reading.study_id uuid not null
gauge_reading.part integer not null
gauge_reading.person_id uuid not null
gauge_reading.round integer not null
gauge_reading.mm numeric(10,5) not null
gauge_reading.occurred_at timestamp(6) with time zone not null
gauge_reading.recorded_at timestamp(6) with time zone not null
gauge_reading.struck_at timestamp(6) with time zone
gauge_reading.struck_by_id uuid
gauge_reading.struck_because text
gauge_study.id uuid not null
gauge_study.name text not null
gauge_study.instrument_id uuid not null
gauge_study.what text not null
gauge_study.tolerance_mm numeric(10,5)
gauge_study.parts text[]
gauge_study.rounds integer not null
gauge_study.started_by_id uuid not null
gauge_study.started_at timestamp(6) with time zone not null
gauge_study.closed_at timestamp(6) with time zone
gauge_study.closed_because text
gauge_study_person.study_id uuid not null
gauge_study_person.person_id uuid not null
gauge_study_person.place integer not null
idempotency.caller text not null
idempotency.key text not null
idempotency.fingerprint bytea not null
idempotency.status integer not null
idempotency.body jsonb
idempotency.created_at timestamp(6) with time zone not null default CURRENT_TIMESTAMP
instrument.id uuid not null
instrument.name text not null
instrument.kind text not null
instrument.step_mm numeric(10,5) not null
instrument.checked_on date
instrument.due_on date
instrument.ended_at timestamp(6) with time zone
instrument.version integer not null default 1
instrument.error_mm numeric(10,5)
instrument.retrace_mm numeric(10,5)
instrument.repeat_mm numeric(10,5)
instrument.note text
instrument_check.id uuid not null
instrument_check.instrument_id uuid not null
instrument_check.kind text not null
instrument_check.held boolean
instrument_check.off_mm numeric(10,5)
instrument_check.note text
instrument_check.person_id uuid
instrument_check.occurred_at timestamp(6) with time zone not null
instrument_check.recorded_at timestamp(6) with time zone not null
job.id uuid not null
job.number integer not null
job.tag text not null
job.kind text not null
job.state text not null
job.crank_id uuid not null
job.customer_id uuid not null
job.place text
job.holder_id uuid
job.wanted_on date
job.promised_on date
job.came_by text not null default 'counter'::text
job.goes_by text not null default 'counter'::text
job.why_now text not null
job.hours numeric(8,2)
job.hours_how text not null default 'unknown'::text
job.used_for text
job.oil text
job.who_fits text
job.earlier_rebuild text
job.kit_from text not null default 'ours'::text
job.came_with jsonb not null default '[]'::jsonb
job.condition jsonb not null default '[]'::jsonb
job.condition_note text
job.old_parts_back boolean not null default false
job.fee_yes_by text
job.fee_yes_how text
job.oil_hole text
job.not_done text
job.also text
job.comeback_of_id uuid
job.comeback_why text
job.booked_by_id uuid not null
job.booked_at timestamp(6) with time zone not null
job.gone_at timestamp(6) with time zone
job.version integer not null default 1
job.trapped jsonb
job_event.id uuid not null
job_event.seq bigint not null default nextval('job_event_seq_seq'::regclass)
job_event.job_id uuid not null
job_event.kind text not null
job_event.says text not null
job_event.data jsonb
job_event.person_id uuid
job_event.occurred_at timestamp(6) with time zone not null
job_event.recorded_at timestamp(6) with time zone not null
job_pass.id uuid not null
job_pass.job_id uuid not null
job_pass.step text not null
job_pass.code text not null
job_pass.what text not null
job_pass.reason text not null
job_pass.measured_by text
job_pass.customer_told_at timestamp(6) with time zone
job_pass.person_id uuid not null
job_pass.at timestamp(6) with time zone not null
job_pass.joint text
job_step.id uuid not null
job_step.job_id uuid not null
job_step.step text not null
job_step.person_id uuid not null
job_step.at timestamp(6) with time zone not null
job_step.undone_at timestamp(6) with time zone
job_wait.id uuid not null
job_wait.job_id uuid not null
job_wait.what text not null
job_wait.note text
job_wait.since timestamp(6) with time zone not null
job_wait.due_on date
job_wait.ended_at timestamp(6) with time zone
job_wait.ended_by_id uuid
kit_fitted.id uuid not null
kit_fitted.job_id uuid not null
kit_fitted.kit_lot_id uuid not null
kit_fitted.whose text not null
kit_fitted.person_id uuid not null
kit_fitted.at timestamp(6) with time zone not null
kit_fitted.struck_at timestamp(6) with time zone
kit_fitted.struck_because text
kit_fitted.joint text
kit_lot.id uuid not null
kit_lot.kit_model_id uuid not null
kit_lot.lot text not null
kit_model.id uuid not null
kit_model.maker text not null
kit_model.part text not null
kit_model.engine_id uuid
measurement.id uuid not null
measurement.job_id uuid not null
measurement.kind text not null
measurement.phase text not null
measurement.person_id uuid not null
measurement.occurred_at timestamp(6) with time zone not null
measurement.recorded_at timestamp(6) with time zone not null
measurement.setup jsonb
measurement.instrument_id uuid
measurement.temperature_c numeric(5,2)
measurement.not_read_because text
measurement.figures jsonb
measurement.note text
measurement.struck_at timestamp(6) with time zone
measurement.struck_by_id uuid
measurement.struck_because text
measurement.peak_tonnes numeric(6,2)
measurement.joint text
measurement_value.measurement_id uuid not null
measurement_value.seq integer not null
measurement_value.place text not null
measurement_value.at_deg numeric(8,4)
measurement_value.mm numeric(10,5) not null
measurement_value.typed text
measurement_value.unit text not null default 'mm'::text
office_job.job_id uuid not null
office_job.number integer not null
office_job.kind text not null
office_job.engine_id uuid not null
office_job.lot_id uuid
office_job.trued_by uuid
office_job.booked_on date not null
office_job.out_on date
office_job.gone_on date
office_job.checked_on date
office_job.first_within boolean
office_job.back_on date
office_job.back_hours numeric(8,2)
office_job.cause text
office_job.came_back boolean not null
office_job.heard_hours numeric(8,2)
office_job.still_out boolean not null
office_job.bench_seconds bigint not null
office_job.price_minor bigint
office_job.owes_minor bigint
office_stale.job_id uuid not null
office_stale.tx bigint not null default ((pg_current_xact_id())::text)::bigint
office_sum.figure text not null
office_sum.by text not null
office_sum.stretch date not null
office_sum.key text not null
office_sum.at integer not null
office_sum.n bigint not null
office_sum.hits bigint not null
office_sum.amount bigint not null
office_sum.minor bigint not null
office_zone.one boolean not null default true
office_zone.zone text not null
payment.id uuid not null
payment.job_id uuid not null
payment.amount_minor integer not null
payment.how text not null
payment.what text not null default 'payment'::text
payment.note text
payment.person_id uuid not null
payment.at timestamp(6) with time zone not null
person.id uuid not null
person.sign_in text not null
person.name text not null
person.role text not null
person.may_sign boolean not null default false
person.cranks_before integer not null default 0
person.password_hash text not null
person.pin_hash text
person.barred_at timestamp(6) with time zone
person.created_at timestamp(6) with time zone not null default CURRENT_TIMESTAMP
person.version integer not null default 1
photo.id uuid not null
photo.job_id uuid not null
photo.step text not null
photo.caption text
photo.sha256 text not null
photo.bytes integer not null
photo.width integer not null
photo.height integer not null
photo.person_id uuid not null
photo.at timestamp(6) with time zone not null
photo.struck_at timestamp(6) with time zone
practice_move.run_id uuid not null
practice_move.n integer not null
practice_move.action text not null
practice_move.half text
practice_move.at_deg integer
practice_move.how text not null
practice_move.said_left_mm numeric(10,5) not null
practice_move.said_right_mm numeric(10,5) not null
practice_move.recorded_at timestamp(6) with time zone not null
practice_run.id uuid not null
practice_run.person_id uuid not null
practice_run.seed bigint not null
practice_run.level text not null
practice_run.started_at timestamp(6) with time zone not null
practice_run.ended_at timestamp(6) with time zone
practice_run.called text
practice_run.score jsonb
pressing.id uuid not null
pressing.job_id uuid not null
pressing.crank_id uuid not null
pressing.direction text not null
pressing.side text not null
pressing.peak_tonnes numeric(6,2)
pressing.not_read_because text
pressing.lubricant text
pressing.galling text
pressing.crack boolean
pressing.web_mark text
pressing.note text
pressing.person_id uuid not null
pressing.occurred_at timestamp(6) with time zone not null
pressing.recorded_at timestamp(6) with time zone not null
pressing.struck_at timestamp(6) with time zone
pressing.struck_by_id uuid
pressing.struck_because text
pressing.joint text
proof.id uuid not null
proof.kind text not null
proof.started_at timestamp(6) with time zone not null
proof.ended_at timestamp(6) with time zone
proof.held boolean
proof.says text
proof.file text
proof.bytes bigint
proof.rows bigint
proof.audit_seq bigint
public_link.id uuid not null
public_link.job_id uuid not null
public_link.token_hash bytea not null
public_link.made_by_id uuid not null
public_link.made_at timestamp(6) with time zone not null
public_link.ended_at timestamp(6) with time zone
quote.id uuid not null
quote.job_id uuid not null
quote.version integer not null
quote.total_minor integer not null
quote.tax_minor integer not null
quote.text text not null
quote.made_by_id uuid not null
quote.made_at timestamp(6) with time zone not null
quote.yes_by text
quote.yes_how text
quote.yes_at timestamp(6) with time zone
quote.yes_entered_by uuid
session.id_hash bytea not null
session.person_id uuid not null
session.device_id uuid
session.by_pin boolean not null default false
session.started_at timestamp(6) with time zone not null default CURRENT_TIMESTAMP
session.last_seen_at timestamp(6) with time zone not null default CURRENT_TIMESTAMP
session.ends_at timestamp(6) with time zone not null
session.ended_at timestamp(6) with time zone
setting.key text not null
setting.value jsonb not null
setting.version integer not null default 1
setting.changed_at timestamp(6) with time zone not null default CURRENT_TIMESTAMP
sign_in_failure.id bigint not null default nextval('sign_in_failure_id_seq'::regclass)
sign_in_failure.subject text not null
sign_in_failure.at timestamp(6) with time zone not null default CURRENT_TIMESTAMP
truing_move.id uuid not null
truing_move.job_id uuid not null
truing_move.before_id uuid not null
truing_move.action text not null
truing_move.half text
truing_move.at_deg numeric(8,4)
truing_move.force text
truing_move.foretold jsonb not null
truing_move.as_advised boolean not null default true
truing_move.person_id uuid not null
truing_move.occurred_at timestamp(6) with time zone not null
truing_move.recorded_at timestamp(6) with time zone not null
truing_move.joint text
weld.id uuid not null
weld.job_id uuid not null
weld.filler text
weld.amps integer
weld.note text
weld.person_id uuid not null
weld.occurred_at timestamp(6) with time zone not null
weld.recorded_at timestamp(6) with time zone not null

-- constraints
_prisma_migrations._prisma_migrations_pkey PRIMARY KEY (id)
audit_row.audit_row_pkey PRIMARY KEY (seq)
box.box_checked_by_id_fkey FOREIGN KEY (checked_by_id) REFERENCES person(id)
box.box_job_id_fkey FOREIGN KEY (job_id) REFERENCES job(id)
box.box_pkey PRIMARY KEY (job_id)
certificate.certificate_check CHECK (((replaces_id IS NULL) = (reason IS NULL)))
certificate.certificate_issued_by_id_fkey FOREIGN KEY (issued_by_id) REFERENCES person(id)
certificate.certificate_job_id_fkey FOREIGN KEY (job_id) REFERENCES job(id)
certificate.certificate_pkey PRIMARY KEY (id)
certificate.certificate_replaces_id_fkey FOREIGN KEY (replaces_id) REFERENCES certificate(id)
certificate_paper.certificate_paper_certificate_id_fkey FOREIGN KEY (certificate_id) REFERENCES certificate(id) ON UPDATE CASCADE ON DELETE RESTRICT
certificate_paper.certificate_paper_pkey PRIMARY KEY (certificate_id, paper)
certificate_void.certificate_void_certificate_id_fkey FOREIGN KEY (certificate_id) REFERENCES certificate(id) ON UPDATE CASCADE ON DELETE RESTRICT
certificate_void.certificate_void_person_id_fkey FOREIGN KEY (person_id) REFERENCES person(id)
certificate_void.certificate_void_pkey PRIMARY KEY (certificate_id)
clock_entry.clock_entry_check CHECK (((stopped_at IS NULL) OR (stopped_at >= started_at)))
clock_entry.clock_entry_corrected_by_id_fkey FOREIGN KEY (corrected_by_id) REFERENCES person(id)
clock_entry.clock_entry_job_id_fkey FOREIGN KEY (job_id) REFERENCES job(id)
clock_entry.clock_entry_person_id_fkey FOREIGN KEY (person_id) REFERENCES person(id)
clock_entry.clock_entry_pkey PRIMARY KEY (id)
clock_entry.clock_entry_stopped_how_check CHECK (((stopped_how IS NULL) OR (stopped_how = ANY (ARRAY['hand'::text, 'next-clock'::text, 'closing-time'::text]))))
clock_entry.clock_entry_work_check CHECK ((work = ANY (ARRAY['measuring'::text, 'parting'::text, 'pressing'::text, 'truing'::text, 'welding'::text, 'checking'::text])))
comeback.comeback_cause_check CHECK (((cause IS NULL) OR (cause = ANY (ARRAY['lubrication'::text, 'kit'::text, 'pin-shift'::text, 'case-or-bearing'::text, 'workmanship'::text, 'nothing-found'::text, 'not-known'::text]))))
comeback.comeback_check CHECK (((hours_how = ANY (ARRAY['metered'::text, 'declared'::text, 'unknown'::text])) AND ((hours IS NULL) = (hours_how = 'unknown'::text))))
comeback.comeback_check1 CHECK (((struck_at IS NULL) = (struck_because IS NULL)))
comeback.comeback_how_check CHECK ((how = ANY (ARRAY['returned'::text, 'told'::text])))
comeback.comeback_job_id_fkey FOREIGN KEY (job_id) REFERENCES job(id)
comeback.comeback_looked_by_id_fkey FOREIGN KEY (looked_by_id) REFERENCES person(id)
comeback.comeback_new_job_id_fkey FOREIGN KEY (new_job_id) REFERENCES job(id)
comeback.comeback_person_id_fkey FOREIGN KEY (person_id) REFERENCES person(id)
comeback.comeback_pkey PRIMARY KEY (id)
comeback.comeback_struck_by_id_fkey FOREIGN KEY (struck_by_id) REFERENCES person(id)
comeback.comeback_whose_check CHECK (((whose IS NULL) OR (whose = ANY (ARRAY['ours'::text, 'part'::text, 'theirs'::text, 'not-known'::text]))))
counter.counter_pkey PRIMARY KEY (name)
crank.crank_customer_id_fkey FOREIGN KEY (customer_id) REFERENCES customer(id) ON UPDATE CASCADE ON DELETE RESTRICT
crank.crank_engine_id_fkey FOREIGN KEY (engine_id) REFERENCES engine(id) ON UPDATE CASCADE ON DELETE RESTRICT
crank.crank_pkey PRIMARY KEY (id)
customer.customer_check CHECK (((phone IS NOT NULL) OR (mail IS NOT NULL) OR (address IS NOT NULL)))
customer.customer_check1 CHECK ((merged_into_id <> id))
customer.customer_hear_by_check CHECK ((hear_by = ANY (ARRAY['phone'::text, 'mail'::text, 'text'::text, 'post'::text])))
customer.customer_merged_into_id_fkey FOREIGN KEY (merged_into_id) REFERENCES customer(id)
customer.customer_pkey PRIMARY KEY (id)
device.device_enrolled_by_fkey FOREIGN KEY (enrolled_by) REFERENCES person(id)
device.device_pkey PRIMARY KEY (id)
draft.draft_person_id_fkey FOREIGN KEY (person_id) REFERENCES person(id)
draft.draft_pkey PRIMARY KEY (person_id, form)
engine.engine_copied_from_fkey FOREIGN KEY (copied_from) REFERENCES engine(id)
engine.engine_cycle_check CHECK ((cycle = ANY (ARRAY['2T'::text, '4T'::text])))
engine.engine_pkey PRIMARY KEY (id)
engine_figure.engine_figure_engine_id_fkey FOREIGN KEY (engine_id) REFERENCES engine(id) ON UPDATE CASCADE ON DELETE RESTRICT
engine_figure.engine_figure_person_id_fkey FOREIGN KEY (person_id) REFERENCES person(id)
engine_figure.engine_figure_pkey PRIMARY KEY (engine_id, name, version)
engine_figure.engine_figure_source_check CHECK ((source = ANY (ARRAY['makers-book'::text, 'common-practice'::text, 'from-memory'::text, 'worked-out'::text, 'measured-here'::text, 'invented'::text])))
follow_up.follow_up_check CHECK (((hours_how = ANY (ARRAY['metered'::text, 'declared'::text, 'unknown'::text])) AND ((hours IS NULL) = (hours_how = 'unknown'::text))))
follow_up.follow_up_check1 CHECK (((struck_at IS NULL) = (struck_because IS NULL)))
follow_up.follow_up_job_id_fkey FOREIGN KEY (job_id) REFERENCES job(id)
follow_up.follow_up_person_id_fkey FOREIGN KEY (person_id) REFERENCES person(id)
follow_up.follow_up_pkey PRIMARY KEY (id)
follow_up.follow_up_struck_by_id_fkey FOREIGN KEY (struck_by_id) REFERENCES person(id)
gauge_reading.gauge_reading_check CHECK ((((struck_at IS NULL) = (struck_because IS NULL)) AND ((struck_at IS NULL) = (struck_by_id IS NULL))))
gauge_reading.gauge_reading_part_check CHECK ((part >= 1))
gauge_reading.gauge_reading_pkey PRIMARY KEY (id)
gauge_reading.gauge_reading_round_check CHECK ((round >= 1))
gauge_reading.gauge_reading_struck_by_id_fkey FOREIGN KEY (struck_by_id) REFERENCES person(id)
gauge_reading.gauge_reading_study_id_person_id_fkey FOREIGN KEY (study_id, person_id) REFERENCES gauge_study_person(study_id, person_id)
gauge_study.gauge_study_check CHECK (((closed_because IS NULL) OR (closed_at IS NOT NULL)))
gauge_study.gauge_study_instrument_id_fkey FOREIGN KEY (instrument_id) REFERENCES instrument(id)
gauge_study.gauge_study_parts_check CHECK (((cardinality(parts) >= 2) AND (cardinality(parts) <= 30)))
gauge_study.gauge_study_pkey PRIMARY KEY (id)
gauge_study.gauge_study_rounds_check CHECK (((rounds >= 2) AND (rounds <= 5)))
gauge_study.gauge_study_started_by_id_fkey FOREIGN KEY (started_by_id) REFERENCES person(id)
gauge_study.gauge_study_tolerance_mm_check CHECK ((tolerance_mm > (0)::numeric))
gauge_study_person.gauge_study_person_person_id_fkey FOREIGN KEY (person_id) REFERENCES person(id)
gauge_study_person.gauge_study_person_pkey PRIMARY KEY (study_id, person_id)
gauge_study_person.gauge_study_person_study_id_fkey FOREIGN KEY (study_id) REFERENCES gauge_study(id)
idempotency.idempotency_pkey PRIMARY KEY (caller, key)
instrument.instrument_check CHECK (((kind = ANY (ARRAY['dial'::text, 'micrometer'::text, 'bore-gauge'::text, 'feeler'::text, 'press-gauge'::text, 'thermometer'::text, 'setting-rod'::text])) AND (step_mm > (0)::numeric)))
instrument.instrument_error_mm_check CHECK (((error_mm >= (0)::numeric) AND (error_mm <= (1)::numeric)))
instrument.instrument_pkey PRIMARY KEY (id)
instrument.instrument_repeat_mm_check CHECK (((repeat_mm >= (0)::numeric) AND (repeat_mm <= (1)::numeric)))
instrument.instrument_retrace_mm_check CHECK (((retrace_mm >= (0)::numeric) AND (retrace_mm <= (1)::numeric)))
instrument_check.instrument_check_check CHECK (((kind = ANY (ARRAY['check'::text, 'zero'::text, 'dropped'::text])) AND ((held IS NULL) = (kind = 'dropped'::text))))
instrument_check.instrument_check_instrument_id_fkey FOREIGN KEY (instrument_id) REFERENCES instrument(id)
instrument_check.instrument_check_off_mm_check CHECK (((off_mm >= ('-10'::integer)::numeric) AND (off_mm <= (10)::numeric)))
instrument_check.instrument_check_person_id_fkey FOREIGN KEY (person_id) REFERENCES person(id)
instrument_check.instrument_check_pkey PRIMARY KEY (id)
job.job_booked_by_id_fkey FOREIGN KEY (booked_by_id) REFERENCES person(id)
job.job_check CHECK (((came_by = ANY (ARRAY['counter'::text, 'carrier'::text])) AND (goes_by = ANY (ARRAY['counter'::text, 'carrier'::text]))))
job.job_comeback_of_id_fkey FOREIGN KEY (comeback_of_id) REFERENCES job(id)
job.job_crank_id_fkey FOREIGN KEY (crank_id) REFERENCES crank(id) ON UPDATE CASCADE ON DELETE RESTRICT
job.job_customer_id_fkey FOREIGN KEY (customer_id) REFERENCES customer(id) ON UPDATE CASCADE ON DELETE RESTRICT
job.job_holder_id_fkey FOREIGN KEY (holder_id) REFERENCES person(id)
job.job_hours_how_check CHECK ((hours_how = ANY (ARRAY['metered'::text, 'declared'::text, 'unknown'::text])))
job.job_kind_check CHECK ((kind = ANY (ARRAY['rebuild'::text, 'true-only'::text, 'check-and-report'::text, 'weld-only'::text])))
job.job_kit_from_check CHECK ((kit_from = ANY (ARRAY['ours'::text, 'theirs'::text, 'none'::text])))
job.job_oil_hole_check CHECK (((oil_hole IS NULL) OR (oil_hole = ANY (ARRAY['open'::text, 'masked'::text, 'none'::text]))))
job.job_pkey PRIMARY KEY (id)
job.job_state_check CHECK ((state = ANY (ARRAY['booked'::text, 'measured'::text, 'agreed'::text, 'apart'::text, 'together'::text, 'trued'::text, 'signed'::text, 'gone'::text, 'given-back'::text, 'scrapped'::text])))
job.job_why_now_check CHECK ((why_now = ANY (ARRAY['hours-up'::text, 'knock'::text, 'seized'::text, 'rust'::text, 'out-of-true'::text, 'rod-broken'::text, 'dropped'::text, 'not-known'::text])))
job_event.job_event_job_id_fkey FOREIGN KEY (job_id) REFERENCES job(id)
job_event.job_event_person_id_fkey FOREIGN KEY (person_id) REFERENCES person(id)
job_event.job_event_pkey PRIMARY KEY (id)
job_pass.job_pass_job_id_fkey FOREIGN KEY (job_id) REFERENCES job(id)
job_pass.job_pass_joint_check CHECK ((joint ~ '^(throw-[1-6]|centre-[1-5])$'::text))
job_pass.job_pass_person_id_fkey FOREIGN KEY (person_id) REFERENCES person(id)
job_pass.job_pass_pkey PRIMARY KEY (id)
job_step.job_step_job_id_fkey FOREIGN KEY (job_id) REFERENCES job(id) ON UPDATE CASCADE ON DELETE RESTRICT
job_step.job_step_person_id_fkey FOREIGN KEY (person_id) REFERENCES person(id)
job_step.job_step_pkey PRIMARY KEY (id)
job_step.job_step_step_check CHECK ((step = ANY (ARRAY['booked'::text, 'measured'::text, 'agreed'::text, 'apart'::text, 'together'::text, 'trued'::text, 'signed'::text, 'gone'::text, 'given-back'::text, 'scrapped'::text])))
job_wait.job_wait_ended_by_id_fkey FOREIGN KEY (ended_by_id) REFERENCES person(id)
job_wait.job_wait_job_id_fkey FOREIGN KEY (job_id) REFERENCES job(id) ON UPDATE CASCADE ON DELETE RESTRICT
job_wait.job_wait_pkey PRIMARY KEY (id)
job_wait.job_wait_what_check CHECK ((what = ANY (ARRAY['kit'::text, 'yes'::text, 'outside'::text])))
kit_fitted.kit_fitted_job_id_fkey FOREIGN KEY (job_id) REFERENCES job(id)
kit_fitted.kit_fitted_joint_check CHECK ((joint ~ '^throw-[1-6]$'::text))
kit_fitted.kit_fitted_kit_lot_id_fkey FOREIGN KEY (kit_lot_id) REFERENCES kit_lot(id) ON UPDATE CASCADE ON DELETE RESTRICT
kit_fitted.kit_fitted_person_id_fkey FOREIGN KEY (person_id) REFERENCES person(id)
kit_fitted.kit_fitted_pkey PRIMARY KEY (id)
kit_fitted.kit_fitted_whose_check CHECK ((whose = ANY (ARRAY['ours'::text, 'theirs'::text])))
kit_lot.kit_lot_kit_model_id_fkey FOREIGN KEY (kit_model_id) REFERENCES kit_model(id) ON UPDATE CASCADE ON DELETE RESTRICT
kit_lot.kit_lot_pkey PRIMARY KEY (id)
kit_model.kit_model_engine_id_fkey FOREIGN KEY (engine_id) REFERENCES engine(id)
kit_model.kit_model_pkey PRIMARY KEY (id)
measurement.measurement_check CHECK (((struck_at IS NULL) = (struck_because IS NULL)))
measurement.measurement_check1 CHECK (((peak_tonnes IS NULL) OR ((kind = 'width'::text) AND (peak_tonnes > (0)::numeric) AND (peak_tonnes <= (100)::numeric))))
measurement.measurement_instrument_id_fkey FOREIGN KEY (instrument_id) REFERENCES instrument(id)
measurement.measurement_job_id_fkey FOREIGN KEY (job_id) REFERENCES job(id)
measurement.measurement_joint_check CHECK ((joint ~ '^(throw-[1-6]|centre-[1-5])$'::text))
measurement.measurement_kind_check CHECK ((kind = ANY (ARRAY['width'::text, 'clearance'::text, 'play'::text, 'rod'::text, 'pin'::text, 'bore'::text, 'stack'::text, 'runout'::text, 'phase'::text, 'centre'::text])))
measurement.measurement_person_id_fkey FOREIGN KEY (person_id) REFERENCES person(id)
measurement.measurement_phase_check CHECK ((phase = ANY (ARRAY['received'::text, 'kit'::text, 'building'::text, 'built'::text, 'second'::text, 'third'::text])))
measurement.measurement_pkey PRIMARY KEY (id)
measurement.measurement_struck_by_id_fkey FOREIGN KEY (struck_by_id) REFERENCES person(id)
measurement_value.measurement_value_measurement_id_fkey FOREIGN KEY (measurement_id) REFERENCES measurement(id) ON UPDATE CASCADE ON DELETE RESTRICT
measurement_value.measurement_value_pkey PRIMARY KEY (measurement_id, seq)
measurement_value.measurement_value_unit_check CHECK ((unit = ANY (ARRAY['mm'::text, 'thou'::text, 'tenth'::text, 'deg'::text])))
office_job.office_job_check CHECK (((checked_on IS NULL) = (first_within IS NULL)))
office_job.office_job_check1 CHECK (((gone_on IS NULL) OR (gone_on = out_on)))
office_job.office_job_job_id_fkey FOREIGN KEY (job_id) REFERENCES job(id)
office_job.office_job_pkey PRIMARY KEY (job_id)
office_stale.office_stale_pkey PRIMARY KEY (job_id, tx)
office_sum.office_sum_pkey PRIMARY KEY (figure, by, stretch, key, at)
office_zone.office_zone_one_check CHECK (one)
office_zone.office_zone_pkey PRIMARY KEY (one)
payment.payment_job_id_fkey FOREIGN KEY (job_id) REFERENCES job(id) ON UPDATE CASCADE ON DELETE RESTRICT
payment.payment_person_id_fkey FOREIGN KEY (person_id) REFERENCES person(id)
payment.payment_pkey PRIMARY KEY (id)
payment.payment_what_check CHECK ((what = ANY (ARRAY['deposit'::text, 'payment'::text, 'back'::text])))
person.person_cranks_before_check CHECK ((cranks_before >= 0))
person.person_pkey PRIMARY KEY (id)
person.person_role_check CHECK ((role = ANY (ARRAY['counter'::text, 'bench'::text, 'owner'::text])))
photo.photo_job_id_fkey FOREIGN KEY (job_id) REFERENCES job(id)
photo.photo_person_id_fkey FOREIGN KEY (person_id) REFERENCES person(id)
photo.photo_pkey PRIMARY KEY (id)
practice_move.practice_move_check CHECK ((((action = 'strike'::text) AND (half IS NOT NULL) AND (at_deg IS NOT NULL) AND (half = ANY (ARRAY['left'::text, 'right'::text])) AND ((at_deg >= 0) AND (at_deg <= 359)) AND (how = ANY (ARRAY['light'::text, 'firm'::text, 'hard'::text]))) OR ((action = ANY (ARRAY['squeeze'::text, 'wedge'::text])) AND (half IS NULL) AND (at_deg IS NULL) AND (how = ANY (ARRAY['little'::text, 'more'::text, 'much'::text])))))
practice_move.practice_move_n_check CHECK (((n >= 0) AND (n <= 59)))
practice_move.practice_move_pkey PRIMARY KEY (run_id, n)
practice_move.practice_move_run_id_fkey FOREIGN KEY (run_id) REFERENCES practice_run(id) ON UPDATE CASCADE ON DELETE RESTRICT
practice_move.practice_move_said_left_mm_check CHECK (((said_left_mm >= (0)::numeric) AND (said_left_mm <= (20)::numeric)))
practice_move.practice_move_said_right_mm_check CHECK (((said_right_mm >= (0)::numeric) AND (said_right_mm <= (20)::numeric)))
practice_run.practice_run_called_check CHECK ((called = ANY (ARRAY['true'::text, 'no-hand'::text, 'left'::text])))
practice_run.practice_run_check CHECK ((((ended_at IS NULL) = (called IS NULL)) AND ((ended_at IS NULL) = (score IS NULL))))
practice_run.practice_run_level_check CHECK ((level = ANY (ARRAY['one'::text, 'two'::text, 'four'::text, 'perhaps-none'::text])))
practice_run.practice_run_person_id_fkey FOREIGN KEY (person_id) REFERENCES person(id)
practice_run.practice_run_pkey PRIMARY KEY (id)
practice_run.practice_run_seed_check CHECK (((seed >= 0) AND (seed <= '4294967295'::bigint)))
pressing.pressing_check CHECK (((direction = ANY (ARRAY['apart'::text, 'together'::text])) AND (side = ANY (ARRAY['left'::text, 'right'::text]))))
pressing.pressing_check1 CHECK (((peak_tonnes IS NULL) = (not_read_because IS NOT NULL)))
pressing.pressing_check2 CHECK (((struck_at IS NULL) = (struck_because IS NULL)))
pressing.pressing_crank_id_fkey FOREIGN KEY (crank_id) REFERENCES crank(id)
pressing.pressing_galling_check CHECK (((galling IS NULL) OR (galling = ANY (ARRAY['none'::text, 'light'::text, 'heavy'::text]))))
pressing.pressing_job_id_fkey FOREIGN KEY (job_id) REFERENCES job(id)
pressing.pressing_joint_check CHECK ((joint ~ '^(throw-[1-6]|centre-[1-5])$'::text))
pressing.pressing_person_id_fkey FOREIGN KEY (person_id) REFERENCES person(id)
pressing.pressing_pkey PRIMARY KEY (id)
proof.proof_check CHECK (((ended_at IS NULL) = (held IS NULL)))
proof.proof_kind_check CHECK ((kind = ANY (ARRAY['backup'::text, 'drill'::text])))
proof.proof_pkey PRIMARY KEY (id)
public_link.public_link_job_id_fkey FOREIGN KEY (job_id) REFERENCES job(id)
public_link.public_link_made_by_id_fkey FOREIGN KEY (made_by_id) REFERENCES person(id)
public_link.public_link_pkey PRIMARY KEY (id)
quote.quote_check CHECK (((total_minor >= tax_minor) AND (tax_minor >= 0)))
quote.quote_check1 CHECK ((((yes_at IS NULL) = (yes_by IS NULL)) AND ((yes_at IS NULL) = (yes_how IS NULL))))
quote.quote_job_id_fkey FOREIGN KEY (job_id) REFERENCES job(id) ON UPDATE CASCADE ON DELETE RESTRICT
quote.quote_made_by_id_fkey FOREIGN KEY (made_by_id) REFERENCES person(id)
quote.quote_pkey PRIMARY KEY (id)
quote.quote_yes_entered_by_fkey FOREIGN KEY (yes_entered_by) REFERENCES person(id)
session.session_device_id_fkey FOREIGN KEY (device_id) REFERENCES device(id)
session.session_person_id_fkey FOREIGN KEY (person_id) REFERENCES person(id) ON UPDATE CASCADE ON DELETE RESTRICT
session.session_pkey PRIMARY KEY (id_hash)
setting.setting_pkey PRIMARY KEY (key)
sign_in_failure.sign_in_failure_pkey PRIMARY KEY (id)
truing_move.truing_move_action_check CHECK ((action = ANY (ARRAY['strike'::text, 'squeeze'::text, 'wedge'::text, 'part'::text, 'leave'::text])))
truing_move.truing_move_before_id_fkey FOREIGN KEY (before_id) REFERENCES measurement(id)
truing_move.truing_move_force_check CHECK (((force IS NULL) OR (force = ANY (ARRAY['light'::text, 'firm'::text, 'hard'::text]))))
truing_move.truing_move_half_check CHECK (((half IS NULL) OR (half = ANY (ARRAY['left'::text, 'right'::text]))))
truing_move.truing_move_job_id_fkey FOREIGN KEY (job_id) REFERENCES job(id)
truing_move.truing_move_joint_check CHECK ((joint ~ '^(throw-[1-6]|centre-[1-5])$'::text))
truing_move.truing_move_person_id_fkey FOREIGN KEY (person_id) REFERENCES person(id)
truing_move.truing_move_pkey PRIMARY KEY (id)
weld.weld_job_id_fkey FOREIGN KEY (job_id) REFERENCES job(id)
weld.weld_person_id_fkey FOREIGN KEY (person_id) REFERENCES person(id)
weld.weld_pkey PRIMARY KEY (id)

-- indexes
CREATE INDEX audit_row_entity_entity_id_idx ON public.audit_row USING btree (entity, entity_id)
CREATE INDEX certificate_job_id_idx ON public.certificate USING btree (job_id)
CREATE INDEX certificate_paper_sha256_idx ON public.certificate_paper USING btree (sha256)
CREATE INDEX clock_entry_job_id_idx ON public.clock_entry USING btree (job_id)
CREATE INDEX clock_entry_person_id_started_at_idx ON public.clock_entry USING btree (person_id, started_at)
CREATE INDEX clock_entry_started_at_idx ON public.clock_entry USING btree (started_at)
CREATE INDEX comeback_day_id_idx ON public.comeback USING btree (day, id)
CREATE INDEX comeback_job_id_idx ON public.comeback USING btree (job_id)
CREATE INDEX crank_customer_id_idx ON public.crank USING btree (customer_id)
CREATE INDEX crank_engine_id_idx ON public.crank USING btree (engine_id)
CREATE INDEX crank_find ON public.crank USING gin (find_text gin_trgm_ops)
CREATE INDEX customer_find ON public.customer USING gin (find_text gin_trgm_ops)
CREATE INDEX customer_name_id_idx ON public.customer USING btree (name, id)
CREATE INDEX engine_find ON public.engine USING gin (find_text gin_trgm_ops)
CREATE INDEX follow_up_job_id_day_idx ON public.follow_up USING btree (job_id, day)
CREATE INDEX gauge_reading_study_id_idx ON public.gauge_reading USING btree (study_id)
CREATE INDEX gauge_study_instrument_id_idx ON public.gauge_study USING btree (instrument_id)
CREATE INDEX gauge_study_started_at_idx ON public.gauge_study USING btree (started_at)
CREATE INDEX idempotency_created_at_idx ON public.idempotency USING btree (created_at)
CREATE INDEX instrument_check_instrument_id_occurred_at_idx ON public.instrument_check USING btree (instrument_id, occurred_at)
CREATE INDEX job_crank_id_idx ON public.job USING btree (crank_id)
CREATE INDEX job_customer_id_idx ON public.job USING btree (customer_id)
CREATE INDEX job_event_job_id_seq_idx ON public.job_event USING btree (job_id, seq)
CREATE INDEX job_pass_job_id_idx ON public.job_pass USING btree (job_id)
CREATE INDEX job_state_promised_on_id_idx ON public.job USING btree (state, promised_on, id)
CREATE INDEX job_step_job_id_idx ON public.job_step USING btree (job_id)
CREATE INDEX job_wait_job_id_idx ON public.job_wait USING btree (job_id)
CREATE INDEX kit_fitted_job_id_idx ON public.kit_fitted USING btree (job_id)
CREATE INDEX kit_fitted_kit_lot_id_idx ON public.kit_fitted USING btree (kit_lot_id)
CREATE INDEX measurement_job_id_kind_phase_idx ON public.measurement USING btree (job_id, kind, phase)
CREATE INDEX office_job_back ON public.office_job USING btree (gone_on) WHERE came_back
CREATE INDEX office_job_booked_on_idx ON public.office_job USING btree (booked_on)
CREATE INDEX office_job_checked_on_idx ON public.office_job USING btree (checked_on)
CREATE INDEX office_job_engine_id_checked_on_idx ON public.office_job USING btree (engine_id, checked_on)
CREATE INDEX office_job_gone_on_idx ON public.office_job USING btree (gone_on)
CREATE INDEX office_job_lasted ON public.office_job USING btree (kind, engine_id, gone_on DESC) WHERE ((bench_seconds > 0) AND (gone_on IS NOT NULL))
CREATE INDEX office_job_lasted_shop ON public.office_job USING btree (kind, gone_on DESC) WHERE ((bench_seconds > 0) AND (gone_on IS NOT NULL))
CREATE INDEX office_job_lot_id_idx ON public.office_job USING btree (lot_id)
CREATE INDEX office_job_number_idx ON public.office_job USING btree (number)
CREATE INDEX office_job_out_on_idx ON public.office_job USING btree (out_on)
CREATE INDEX office_job_trued_by_checked_on_idx ON public.office_job USING btree (trued_by, checked_on)
CREATE INDEX office_job_unpaid ON public.office_job USING btree (gone_on) WHERE (owes_minor > 0)
CREATE INDEX office_sum_key_idx ON public.office_sum USING btree (figure, by, key, stretch)
CREATE INDEX payment_job_id_idx ON public.payment USING btree (job_id)
CREATE INDEX photo_job_id_at_id_idx ON public.photo USING btree (job_id, at, id)
CREATE INDEX practice_run_person_id_id_idx ON public.practice_run USING btree (person_id, id)
CREATE INDEX pressing_crank_id_side_idx ON public.pressing USING btree (crank_id, side)
CREATE INDEX pressing_job_id_idx ON public.pressing USING btree (job_id)
CREATE INDEX proof_kind_started_at_idx ON public.proof USING btree (kind, started_at)
CREATE INDEX public_link_job_id_idx ON public.public_link USING btree (job_id)
CREATE INDEX session_person_id_idx ON public.session USING btree (person_id)
CREATE INDEX sign_in_failure_subject_at_idx ON public.sign_in_failure USING btree (subject, at)
CREATE INDEX truing_move_job_id_recorded_at_idx ON public.truing_move USING btree (job_id, recorded_at)
CREATE INDEX weld_job_id_idx ON public.weld USING btree (job_id)
CREATE UNIQUE INDEX _prisma_migrations_pkey ON public._prisma_migrations USING btree (id)
CREATE UNIQUE INDEX audit_row_pkey ON public.audit_row USING btree (seq)
CREATE UNIQUE INDEX box_pkey ON public.box USING btree (job_id)
CREATE UNIQUE INDEX certificate_number_key ON public.certificate USING btree (number)
CREATE UNIQUE INDEX certificate_paper_pkey ON public.certificate_paper USING btree (certificate_id, paper)
CREATE UNIQUE INDEX certificate_pkey ON public.certificate USING btree (id)
CREATE UNIQUE INDEX certificate_replaces_id_key ON public.certificate USING btree (replaces_id)
CREATE UNIQUE INDEX certificate_void_pkey ON public.certificate_void USING btree (certificate_id)
CREATE UNIQUE INDEX clock_entry_pkey ON public.clock_entry USING btree (id)
CREATE UNIQUE INDEX comeback_new_job_id_key ON public.comeback USING btree (new_job_id)
CREATE UNIQUE INDEX comeback_pkey ON public.comeback USING btree (id)
CREATE UNIQUE INDEX counter_pkey ON public.counter USING btree (name)
CREATE UNIQUE INDEX crank_pkey ON public.crank USING btree (id)
CREATE UNIQUE INDEX customer_pkey ON public.customer USING btree (id)
CREATE UNIQUE INDEX device_pkey ON public.device USING btree (id)
CREATE UNIQUE INDEX device_token_hash_key ON public.device USING btree (token_hash)
CREATE UNIQUE INDEX draft_pkey ON public.draft USING btree (person_id, form)
CREATE UNIQUE INDEX engine_figure_pkey ON public.engine_figure USING btree (engine_id, name, version)
CREATE UNIQUE INDEX engine_maker_code_key ON public.engine USING btree (maker, code)
CREATE UNIQUE INDEX engine_pkey ON public.engine USING btree (id)
CREATE UNIQUE INDEX follow_up_pkey ON public.follow_up USING btree (id)
CREATE UNIQUE INDEX gauge_reading_pkey ON public.gauge_reading USING btree (id)
CREATE UNIQUE INDEX gauge_study_person_pkey ON public.gauge_study_person USING btree (study_id, person_id)
CREATE UNIQUE INDEX gauge_study_person_study_id_place_key ON public.gauge_study_person USING btree (study_id, place)
CREATE UNIQUE INDEX gauge_study_pkey ON public.gauge_study USING btree (id)
CREATE UNIQUE INDEX idempotency_pkey ON public.idempotency USING btree (caller, key)
CREATE UNIQUE INDEX instrument_check_pkey ON public.instrument_check USING btree (id)
CREATE UNIQUE INDEX instrument_name_key ON public.instrument USING btree (name)
CREATE UNIQUE INDEX instrument_pkey ON public.instrument USING btree (id)
CREATE UNIQUE INDEX job_event_pkey ON public.job_event USING btree (id)
CREATE UNIQUE INDEX job_event_seq_key ON public.job_event USING btree (seq)
CREATE UNIQUE INDEX job_number_key ON public.job USING btree (number)
CREATE UNIQUE INDEX job_pass_pkey ON public.job_pass USING btree (id)
CREATE UNIQUE INDEX job_pkey ON public.job USING btree (id)
CREATE UNIQUE INDEX job_step_pkey ON public.job_step USING btree (id)
CREATE UNIQUE INDEX job_tag_key ON public.job USING btree (tag)
CREATE UNIQUE INDEX job_wait_pkey ON public.job_wait USING btree (id)
CREATE UNIQUE INDEX kit_fitted_pkey ON public.kit_fitted USING btree (id)
CREATE UNIQUE INDEX kit_lot_kit_model_id_lot_key ON public.kit_lot USING btree (kit_model_id, lot)
CREATE UNIQUE INDEX kit_lot_pkey ON public.kit_lot USING btree (id)
CREATE UNIQUE INDEX kit_model_maker_part_key ON public.kit_model USING btree (maker, part)
CREATE UNIQUE INDEX kit_model_pkey ON public.kit_model USING btree (id)
CREATE UNIQUE INDEX measurement_pkey ON public.measurement USING btree (id)
CREATE UNIQUE INDEX measurement_value_pkey ON public.measurement_value USING btree (measurement_id, seq)
CREATE UNIQUE INDEX office_job_pkey ON public.office_job USING btree (job_id)
CREATE UNIQUE INDEX office_stale_pkey ON public.office_stale USING btree (job_id, tx)
CREATE UNIQUE INDEX office_sum_pkey ON public.office_sum USING btree (figure, by, stretch, key, at)
CREATE UNIQUE INDEX office_zone_pkey ON public.office_zone USING btree (one)
CREATE UNIQUE INDEX one_comeback_of_a_job ON public.comeback USING btree (job_id) WHERE (struck_at IS NULL)
CREATE UNIQUE INDEX one_first_certificate ON public.certificate USING btree (job_id) WHERE (replaces_id IS NULL)
CREATE UNIQUE INDEX one_gauge_reading ON public.gauge_reading USING btree (study_id, part, person_id, round) WHERE (struck_at IS NULL)
CREATE UNIQUE INDEX one_kit_in_a_crank ON public.kit_fitted USING btree (job_id, COALESCE(joint, ''::text)) WHERE (struck_at IS NULL)
CREATE UNIQUE INDEX one_practice_crank_of_a_person ON public.practice_run USING btree (person_id) WHERE (ended_at IS NULL)
CREATE UNIQUE INDEX one_running_clock ON public.clock_entry USING btree (person_id) WHERE (stopped_at IS NULL)
CREATE UNIQUE INDEX one_step_reached ON public.job_step USING btree (job_id, step) WHERE (undone_at IS NULL)
CREATE UNIQUE INDEX one_wait_of_a_kind ON public.job_wait USING btree (job_id, what) WHERE (ended_at IS NULL)
CREATE UNIQUE INDEX payment_pkey ON public.payment USING btree (id)
CREATE UNIQUE INDEX person_pkey ON public.person USING btree (id)
CREATE UNIQUE INDEX person_sign_in_key ON public.person USING btree (sign_in)
CREATE UNIQUE INDEX photo_pkey ON public.photo USING btree (id)
CREATE UNIQUE INDEX practice_move_pkey ON public.practice_move USING btree (run_id, n)
CREATE UNIQUE INDEX practice_run_pkey ON public.practice_run USING btree (id)
CREATE UNIQUE INDEX pressing_pkey ON public.pressing USING btree (id)
CREATE UNIQUE INDEX proof_pkey ON public.proof USING btree (id)
CREATE UNIQUE INDEX public_link_pkey ON public.public_link USING btree (id)
CREATE UNIQUE INDEX public_link_token_hash_key ON public.public_link USING btree (token_hash)
CREATE UNIQUE INDEX quote_job_id_version_key ON public.quote USING btree (job_id, version)
CREATE UNIQUE INDEX quote_pkey ON public.quote USING btree (id)
CREATE UNIQUE INDEX session_pkey ON public.session USING btree (id_hash)
CREATE UNIQUE INDEX setting_pkey ON public.setting USING btree (key)
CREATE UNIQUE INDEX sign_in_failure_pkey ON public.sign_in_failure USING btree (id)
CREATE UNIQUE INDEX truing_move_pkey ON public.truing_move USING btree (id)
CREATE UNIQUE INDEX weld_pkey ON public.weld USING btree (id)

-- functions
CREATE OR REPLACE FUNCTION public.audit_append(at timestamp with time zone, actor uuid, act text, thing text, thing_id text, request text, body text)
 RETURNS bigint
 LANGUAGE plpgsql
AS $function$
DECLARE
  head record;
  next_seq bigint;
  previous bytea;
  body_hash bytea := sha256(convert_to(body, 'UTF8'));
  chained bytea;
BEGIN
  PERFORM pg_advisory_xact_lock(730211);
  SELECT seq, hash INTO head FROM audit_row ORDER BY seq DESC LIMIT 1;
  next_seq := coalesce(head.seq, 0) + 1;
  previous := coalesce(head.hash, sha256(convert_to('throwbook', 'UTF8')));
  chained := sha256(
    sha256(convert_to('sha-256', 'UTF8')) || sha256(convert_to(next_seq::text, 'UTF8')) || previous
    || sha256(convert_to(to_char(at AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.US"Z"'), 'UTF8'))
    || sha256(convert_to(coalesce(actor::text, ''), 'UTF8')) || sha256(convert_to(act, 'UTF8'))
    || sha256(convert_to(thing, 'UTF8')) || sha256(convert_to(thing_id, 'UTF8'))
    || sha256(convert_to(coalesce(request, ''), 'UTF8')) || body_hash);
  INSERT INTO audit_row (seq, recorded_at, actor_id, action, entity, entity_id, request_id, payload, payload_hash, prev_hash, hash)
  VALUES (next_seq, at, actor, act, thing, thing_id, request, body, body_hash, previous, chained);
  PERFORM pg_notify('throwbook', next_seq::text);
  RETURN next_seq;
END $function$

CREATE OR REPLACE FUNCTION public.never_changed()
 RETURNS trigger
 LANGUAGE plpgsql
AS $function$
BEGIN
  RAISE EXCEPTION '% is written once and never changed', TG_TABLE_NAME USING ERRCODE = '42501';
END $function$

CREATE OR REPLACE FUNCTION public.office_crank_changed()
 RETURNS trigger
 LANGUAGE plpgsql
AS $function$
BEGIN
  INSERT INTO office_stale (job_id) SELECT id FROM job WHERE crank_id = NEW.id ON CONFLICT DO NOTHING;
  RETURN NULL;
END $function$

CREATE OR REPLACE FUNCTION public.office_job_changed()
 RETURNS trigger
 LANGUAGE plpgsql
AS $function$
BEGIN
  INSERT INTO office_stale (job_id) VALUES (NEW.id) ON CONFLICT DO NOTHING;
  RETURN NULL;
END $function$

CREATE OR REPLACE FUNCTION public.office_part_changed()
 RETURNS trigger
 LANGUAGE plpgsql
AS $function$
BEGIN
  INSERT INTO office_stale (job_id) VALUES (NEW.job_id) ON CONFLICT DO NOTHING;
  RETURN NULL;
END $function$

CREATE OR REPLACE FUNCTION public.struck_only()
 RETURNS trigger
 LANGUAGE plpgsql
AS $function$
BEGIN
  IF TG_OP = 'UPDATE' AND OLD.struck_at IS NULL AND NEW.struck_at IS NOT NULL
     AND to_jsonb(OLD) - 'struck_at' - 'struck_by_id' - 'struck_because' = to_jsonb(NEW) - 'struck_at' - 'struck_by_id' - 'struck_because'
  THEN
    RETURN NEW;
  END IF;
  RAISE EXCEPTION '% is struck out and taken again, never changed', TG_TABLE_NAME USING ERRCODE = '42501';
END $function$


-- triggers
CREATE TRIGGER never_changed BEFORE DELETE OR UPDATE ON public.audit_row FOR EACH ROW EXECUTE FUNCTION never_changed() enabled A
CREATE TRIGGER never_changed BEFORE DELETE OR UPDATE ON public.certificate FOR EACH ROW EXECUTE FUNCTION never_changed() enabled A
CREATE TRIGGER never_changed BEFORE DELETE OR UPDATE ON public.certificate_paper FOR EACH ROW EXECUTE FUNCTION never_changed() enabled A
CREATE TRIGGER never_changed BEFORE DELETE OR UPDATE ON public.certificate_void FOR EACH ROW EXECUTE FUNCTION never_changed() enabled A
CREATE TRIGGER never_changed BEFORE DELETE OR UPDATE ON public.engine_figure FOR EACH ROW EXECUTE FUNCTION never_changed() enabled A
CREATE TRIGGER never_changed BEFORE DELETE OR UPDATE ON public.gauge_study_person FOR EACH ROW EXECUTE FUNCTION never_changed() enabled A
CREATE TRIGGER never_changed BEFORE DELETE OR UPDATE ON public.instrument_check FOR EACH ROW EXECUTE FUNCTION never_changed() enabled A
CREATE TRIGGER never_changed BEFORE DELETE OR UPDATE ON public.job_event FOR EACH ROW EXECUTE FUNCTION never_changed() enabled A
CREATE TRIGGER never_changed BEFORE DELETE OR UPDATE ON public.job_pass FOR EACH ROW EXECUTE FUNCTION never_changed() enabled A
CREATE TRIGGER never_changed BEFORE DELETE OR UPDATE ON public.measurement_value FOR EACH ROW EXECUTE FUNCTION never_changed() enabled A
CREATE TRIGGER never_changed BEFORE DELETE OR UPDATE ON public.payment FOR EACH ROW EXECUTE FUNCTION never_changed() enabled A
CREATE TRIGGER never_changed BEFORE DELETE OR UPDATE ON public.truing_move FOR EACH ROW EXECUTE FUNCTION never_changed() enabled A
CREATE TRIGGER never_changed BEFORE DELETE OR UPDATE ON public.weld FOR EACH ROW EXECUTE FUNCTION never_changed() enabled A
CREATE TRIGGER never_emptied BEFORE TRUNCATE ON public.audit_row FOR EACH STATEMENT EXECUTE FUNCTION never_changed() enabled A
CREATE TRIGGER never_emptied BEFORE TRUNCATE ON public.certificate FOR EACH STATEMENT EXECUTE FUNCTION never_changed() enabled A
CREATE TRIGGER never_emptied BEFORE TRUNCATE ON public.certificate_paper FOR EACH STATEMENT EXECUTE FUNCTION never_changed() enabled A
CREATE TRIGGER never_emptied BEFORE TRUNCATE ON public.certificate_void FOR EACH STATEMENT EXECUTE FUNCTION never_changed() enabled A
CREATE TRIGGER never_emptied BEFORE TRUNCATE ON public.engine_figure FOR EACH STATEMENT EXECUTE FUNCTION never_changed() enabled A
CREATE TRIGGER never_emptied BEFORE TRUNCATE ON public.gauge_reading FOR EACH STATEMENT EXECUTE FUNCTION never_changed() enabled A
CREATE TRIGGER never_emptied BEFORE TRUNCATE ON public.gauge_study_person FOR EACH STATEMENT EXECUTE FUNCTION never_changed() enabled A
CREATE TRIGGER never_emptied BEFORE TRUNCATE ON public.instrument_check FOR EACH STATEMENT EXECUTE FUNCTION never_changed() enabled A
CREATE TRIGGER never_emptied BEFORE TRUNCATE ON public.job_event FOR EACH STATEMENT EXECUTE FUNCTION never_changed() enabled A
CREATE TRIGGER never_emptied BEFORE TRUNCATE ON public.job_pass FOR EACH STATEMENT EXECUTE FUNCTION never_changed() enabled A
CREATE TRIGGER never_emptied BEFORE TRUNCATE ON public.measurement FOR EACH STATEMENT EXECUTE FUNCTION never_changed() enabled A
CREATE TRIGGER never_emptied BEFORE TRUNCATE ON public.measurement_value FOR EACH STATEMENT EXECUTE FUNCTION never_changed() enabled A
CREATE TRIGGER never_emptied BEFORE TRUNCATE ON public.payment FOR EACH STATEMENT EXECUTE FUNCTION never_changed() enabled A
CREATE TRIGGER never_emptied BEFORE TRUNCATE ON public.pressing FOR EACH STATEMENT EXECUTE FUNCTION never_changed() enabled A
CREATE TRIGGER never_emptied BEFORE TRUNCATE ON public.truing_move FOR EACH STATEMENT EXECUTE FUNCTION never_changed() enabled A
CREATE TRIGGER never_emptied BEFORE TRUNCATE ON public.weld FOR EACH STATEMENT EXECUTE FUNCTION never_changed() enabled A
CREATE TRIGGER office_crank_changed AFTER UPDATE OF engine_id ON public.crank FOR EACH ROW EXECUTE FUNCTION office_crank_changed() enabled A
CREATE TRIGGER office_job_changed AFTER INSERT OR UPDATE OF kind, state, crank_id, booked_at ON public.job FOR EACH ROW EXECUTE FUNCTION office_job_changed() enabled A
CREATE TRIGGER office_part_changed AFTER INSERT OR UPDATE ON public.clock_entry FOR EACH ROW WHEN ((new.stopped_at IS NOT NULL)) EXECUTE FUNCTION office_part_changed() enabled A
CREATE TRIGGER office_part_changed AFTER INSERT OR UPDATE ON public.comeback FOR EACH ROW EXECUTE FUNCTION office_part_changed() enabled A
CREATE TRIGGER office_part_changed AFTER INSERT OR UPDATE ON public.follow_up FOR EACH ROW EXECUTE FUNCTION office_part_changed() enabled A
CREATE TRIGGER office_part_changed AFTER INSERT OR UPDATE ON public.job_step FOR EACH ROW EXECUTE FUNCTION office_part_changed() enabled A
CREATE TRIGGER office_part_changed AFTER INSERT OR UPDATE ON public.kit_fitted FOR EACH ROW EXECUTE FUNCTION office_part_changed() enabled A
CREATE TRIGGER office_part_changed AFTER INSERT OR UPDATE ON public.measurement FOR EACH ROW WHEN (((new.kind = 'runout'::text) AND (new.phase = 'second'::text))) EXECUTE FUNCTION office_part_changed() enabled A
CREATE TRIGGER office_part_changed AFTER INSERT OR UPDATE ON public.payment FOR EACH ROW EXECUTE FUNCTION office_part_changed() enabled A
CREATE TRIGGER office_part_changed AFTER INSERT OR UPDATE ON public.quote FOR EACH ROW EXECUTE FUNCTION office_part_changed() enabled A
CREATE TRIGGER struck_only BEFORE DELETE OR UPDATE ON public.follow_up FOR EACH ROW EXECUTE FUNCTION struck_only() enabled A
CREATE TRIGGER struck_only BEFORE DELETE OR UPDATE ON public.gauge_reading FOR EACH ROW EXECUTE FUNCTION struck_only() enabled A
CREATE TRIGGER struck_only BEFORE DELETE OR UPDATE ON public.measurement FOR EACH ROW EXECUTE FUNCTION struck_only() enabled A
CREATE TRIGGER struck_only BEFORE DELETE OR UPDATE ON public.pressing FOR EACH ROW EXECUTE FUNCTION struck_only() enabled A

-- rights of throwbook_app
_prisma_migrations: SELECT
audit_row: INSERT, SELECT
box: INSERT, SELECT, UPDATE
certificate: INSERT, SELECT
certificate_paper: INSERT, SELECT
certificate_void: INSERT, SELECT
clock_entry: INSERT, SELECT, UPDATE
comeback: INSERT, SELECT, UPDATE
counter: INSERT, SELECT, UPDATE
crank: INSERT, SELECT, UPDATE
customer: INSERT, SELECT, UPDATE
device: INSERT, SELECT, UPDATE
draft: DELETE, INSERT, SELECT, UPDATE
engine: INSERT, SELECT, UPDATE
engine_figure: INSERT, SELECT
follow_up: INSERT, SELECT
gauge_reading: INSERT, SELECT
gauge_study: INSERT, SELECT
gauge_study_person: INSERT, SELECT
idempotency: DELETE, INSERT, SELECT, UPDATE
instrument: INSERT, SELECT, UPDATE
instrument_check: INSERT, SELECT
job: INSERT, SELECT, UPDATE
job_event: INSERT, SELECT
job_pass: INSERT, SELECT
job_step: INSERT, SELECT
job_wait: INSERT, SELECT, UPDATE
kit_fitted: INSERT, SELECT, UPDATE
kit_lot: INSERT, SELECT
kit_model: INSERT, SELECT, UPDATE
measurement: INSERT, SELECT
measurement_value: INSERT, SELECT
office_job: DELETE, INSERT, SELECT, UPDATE
office_stale: DELETE, INSERT, SELECT, UPDATE
office_sum: DELETE, INSERT, SELECT, UPDATE
office_zone: DELETE, INSERT, SELECT, UPDATE
payment: INSERT, SELECT
person: INSERT, SELECT, UPDATE
photo: INSERT, SELECT, UPDATE
practice_move: INSERT, SELECT
practice_run: INSERT, SELECT
pressing: INSERT, SELECT
proof: INSERT, SELECT, UPDATE
public_link: INSERT, SELECT, UPDATE
quote: INSERT, SELECT
session: DELETE, INSERT, SELECT, UPDATE
setting: INSERT, SELECT, UPDATE
sign_in_failure: DELETE, INSERT, SELECT
truing_move: INSERT, SELECT
weld: INSERT, SELECT

-- rights of throwbook_app on single columns
follow_up (struck_at, struck_because, struck_by_id)
gauge_reading (struck_at, struck_because, struck_by_id)
gauge_study (closed_at, closed_because)
job_step (undone_at)
measurement (struck_at, struck_because, struck_by_id)
practice_run (called, ended_at, score)
pressing (struck_at, struck_because, struck_by_id)
quote (yes_at, yes_by, yes_entered_by, yes_how)
