BEGIN;

-- CreateTable
CREATE TABLE "person" (
    "id" UUID NOT NULL,
    "sign_in" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "role" TEXT NOT NULL,
    "may_sign" BOOLEAN NOT NULL DEFAULT false,
    "cranks_before" INTEGER NOT NULL DEFAULT 0,
    "password_hash" TEXT NOT NULL,
    "pin_hash" TEXT,
    "barred_at" TIMESTAMPTZ(6),
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "person_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "device" (
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "token_hash" BYTEA NOT NULL,
    "enrolled_by" UUID NOT NULL,
    "enrolled_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "ended_at" TIMESTAMPTZ(6),

    CONSTRAINT "device_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "session" (
    "id_hash" BYTEA NOT NULL,
    "person_id" UUID NOT NULL,
    "device_id" UUID,
    "by_pin" BOOLEAN NOT NULL DEFAULT false,
    "started_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "last_seen_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "ends_at" TIMESTAMPTZ(6) NOT NULL,
    "ended_at" TIMESTAMPTZ(6),

    CONSTRAINT "session_pkey" PRIMARY KEY ("id_hash")
);

-- CreateTable
CREATE TABLE "sign_in_failure" (
    "id" BIGSERIAL NOT NULL,
    "subject" TEXT NOT NULL,
    "at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "sign_in_failure_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "setting" (
    "key" TEXT NOT NULL,
    "value" JSONB NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    "changed_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "setting_pkey" PRIMARY KEY ("key")
);

-- CreateTable
CREATE TABLE "counter" (
    "name" TEXT NOT NULL,
    "last" INTEGER NOT NULL,

    CONSTRAINT "counter_pkey" PRIMARY KEY ("name")
);

-- CreateTable
CREATE TABLE "idempotency" (
    "caller" TEXT NOT NULL,
    "key" TEXT NOT NULL,
    "fingerprint" BYTEA NOT NULL,
    "status" INTEGER NOT NULL,
    "body" JSONB,
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "idempotency_pkey" PRIMARY KEY ("caller","key")
);

-- CreateTable
CREATE TABLE "audit_row" (
    "seq" BIGINT NOT NULL,
    "recorded_at" TIMESTAMPTZ(6) NOT NULL,
    "actor_id" UUID,
    "action" TEXT NOT NULL,
    "entity" TEXT NOT NULL,
    "entity_id" TEXT NOT NULL,
    "request_id" TEXT,
    "payload" TEXT,
    "payload_hash" BYTEA NOT NULL,
    "prev_hash" BYTEA NOT NULL,
    "hash" BYTEA NOT NULL,

    CONSTRAINT "audit_row_pkey" PRIMARY KEY ("seq")
);

-- CreateTable
CREATE TABLE "customer" (
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "phone" TEXT,
    "mail" TEXT,
    "hear_by" TEXT NOT NULL DEFAULT 'phone',
    "address" TEXT,
    "note" TEXT,
    "find_text" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "customer_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "engine" (
    "id" UUID NOT NULL,
    "maker" TEXT NOT NULL,
    "code" TEXT NOT NULL,
    "cycle" TEXT NOT NULL,
    "surface_left" TEXT NOT NULL,
    "surface_right" TEXT NOT NULL,
    "note" TEXT,
    "find_text" TEXT NOT NULL,
    "copied_from" UUID,
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "engine_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "engine_figure" (
    "engine_id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "version" INTEGER NOT NULL,
    "value" DECIMAL(10,5) NOT NULL,
    "source" TEXT NOT NULL,
    "note" TEXT,
    "person_id" UUID,
    "at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "engine_figure_pkey" PRIMARY KEY ("engine_id","name","version")
);

-- CreateTable
CREATE TABLE "crank" (
    "id" UUID NOT NULL,
    "engine_id" UUID NOT NULL,
    "customer_id" UUID NOT NULL,
    "engine_number" TEXT,
    "marks" TEXT,
    "welded" BOOLEAN NOT NULL DEFAULT false,
    "pressed_before" INTEGER NOT NULL DEFAULT 1,
    "find_text" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "crank_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "job" (
    "id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "tag" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "state" TEXT NOT NULL,
    "crank_id" UUID NOT NULL,
    "customer_id" UUID NOT NULL,
    "place" TEXT,
    "holder_id" UUID,
    "wanted_on" DATE,
    "promised_on" DATE,
    "came_by" TEXT NOT NULL DEFAULT 'counter',
    "goes_by" TEXT NOT NULL DEFAULT 'counter',
    "why_now" TEXT NOT NULL,
    "hours" DECIMAL(8,2),
    "hours_how" TEXT NOT NULL DEFAULT 'unknown',
    "used_for" TEXT,
    "oil" TEXT,
    "who_fits" TEXT,
    "earlier_rebuild" TEXT,
    "kit_from" TEXT NOT NULL DEFAULT 'ours',
    "came_with" JSONB NOT NULL DEFAULT '[]',
    "condition" JSONB NOT NULL DEFAULT '[]',
    "condition_note" TEXT,
    "old_parts_back" BOOLEAN NOT NULL DEFAULT false,
    "fee_yes_by" TEXT,
    "fee_yes_how" TEXT,
    "oil_hole" TEXT,
    "not_done" TEXT,
    "also" TEXT,
    "comeback_of_id" UUID,
    "comeback_why" TEXT,
    "booked_by_id" UUID NOT NULL,
    "booked_at" TIMESTAMPTZ(6) NOT NULL,
    "gone_at" TIMESTAMPTZ(6),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "job_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "job_wait" (
    "id" UUID NOT NULL,
    "job_id" UUID NOT NULL,
    "what" TEXT NOT NULL,
    "note" TEXT,
    "since" TIMESTAMPTZ(6) NOT NULL,
    "due_on" DATE,
    "ended_at" TIMESTAMPTZ(6),
    "ended_by_id" UUID,

    CONSTRAINT "job_wait_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "job_step" (
    "id" UUID NOT NULL,
    "job_id" UUID NOT NULL,
    "step" TEXT NOT NULL,
    "person_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(6) NOT NULL,
    "undone_at" TIMESTAMPTZ(6),

    CONSTRAINT "job_step_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "job_pass" (
    "id" UUID NOT NULL,
    "job_id" UUID NOT NULL,
    "step" TEXT NOT NULL,
    "code" TEXT NOT NULL,
    "what" TEXT NOT NULL,
    "reason" TEXT NOT NULL,
    "measured_by" TEXT,
    "customer_told_at" TIMESTAMPTZ(6),
    "person_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(6) NOT NULL,

    CONSTRAINT "job_pass_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "job_event" (
    "id" UUID NOT NULL,
    "seq" BIGSERIAL NOT NULL,
    "job_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "says" TEXT NOT NULL,
    "data" JSONB,
    "person_id" UUID,
    "occurred_at" TIMESTAMPTZ(6) NOT NULL,
    "recorded_at" TIMESTAMPTZ(6) NOT NULL,

    CONSTRAINT "job_event_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "draft" (
    "person_id" UUID NOT NULL,
    "form" TEXT NOT NULL,
    "data" JSONB NOT NULL,
    "changed_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "draft_pkey" PRIMARY KEY ("person_id","form")
);

-- CreateTable
CREATE TABLE "photo" (
    "id" UUID NOT NULL,
    "job_id" UUID NOT NULL,
    "step" TEXT NOT NULL,
    "caption" TEXT,
    "sha256" TEXT NOT NULL,
    "bytes" INTEGER NOT NULL,
    "width" INTEGER NOT NULL,
    "height" INTEGER NOT NULL,
    "person_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(6) NOT NULL,
    "struck_at" TIMESTAMPTZ(6),

    CONSTRAINT "photo_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "quote" (
    "id" UUID NOT NULL,
    "job_id" UUID NOT NULL,
    "version" INTEGER NOT NULL,
    "total_minor" INTEGER NOT NULL,
    "tax_minor" INTEGER NOT NULL,
    "text" TEXT NOT NULL,
    "made_by_id" UUID NOT NULL,
    "made_at" TIMESTAMPTZ(6) NOT NULL,
    "yes_by" TEXT,
    "yes_how" TEXT,
    "yes_at" TIMESTAMPTZ(6),
    "yes_entered_by" UUID,

    CONSTRAINT "quote_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "payment" (
    "id" UUID NOT NULL,
    "job_id" UUID NOT NULL,
    "amount_minor" INTEGER NOT NULL,
    "how" TEXT NOT NULL,
    "what" TEXT NOT NULL DEFAULT 'payment',
    "note" TEXT,
    "person_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(6) NOT NULL,

    CONSTRAINT "payment_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "instrument" (
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "step_mm" DECIMAL(10,5) NOT NULL,
    "checked_on" DATE,
    "due_on" DATE,
    "ended_at" TIMESTAMPTZ(6),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "instrument_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "measurement" (
    "id" UUID NOT NULL,
    "job_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "phase" TEXT NOT NULL,
    "person_id" UUID NOT NULL,
    "occurred_at" TIMESTAMPTZ(6) NOT NULL,
    "recorded_at" TIMESTAMPTZ(6) NOT NULL,
    "setup" JSONB,
    "instrument_id" UUID,
    "temperature_c" DECIMAL(5,2),
    "not_read_because" TEXT,
    "figures" JSONB,
    "note" TEXT,
    "struck_at" TIMESTAMPTZ(6),
    "struck_by_id" UUID,
    "struck_because" TEXT,

    CONSTRAINT "measurement_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "measurement_value" (
    "measurement_id" UUID NOT NULL,
    "seq" INTEGER NOT NULL,
    "place" TEXT NOT NULL,
    "at_deg" DECIMAL(8,4),
    "mm" DECIMAL(10,5) NOT NULL,
    "typed" TEXT,
    "unit" TEXT NOT NULL DEFAULT 'mm',

    CONSTRAINT "measurement_value_pkey" PRIMARY KEY ("measurement_id","seq")
);

-- CreateTable
CREATE TABLE "truing_move" (
    "id" UUID NOT NULL,
    "job_id" UUID NOT NULL,
    "before_id" UUID NOT NULL,
    "action" TEXT NOT NULL,
    "half" TEXT,
    "at_deg" DECIMAL(8,4),
    "force" TEXT,
    "foretold" JSONB NOT NULL,
    "as_advised" BOOLEAN NOT NULL DEFAULT true,
    "person_id" UUID NOT NULL,
    "occurred_at" TIMESTAMPTZ(6) NOT NULL,
    "recorded_at" TIMESTAMPTZ(6) NOT NULL,

    CONSTRAINT "truing_move_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "pressing" (
    "id" UUID NOT NULL,
    "job_id" UUID NOT NULL,
    "crank_id" UUID NOT NULL,
    "direction" TEXT NOT NULL,
    "side" TEXT NOT NULL,
    "peak_tonnes" DECIMAL(6,2),
    "not_read_because" TEXT,
    "lubricant" TEXT,
    "galling" TEXT,
    "crack" BOOLEAN,
    "web_mark" TEXT,
    "note" TEXT,
    "person_id" UUID NOT NULL,
    "occurred_at" TIMESTAMPTZ(6) NOT NULL,
    "recorded_at" TIMESTAMPTZ(6) NOT NULL,
    "struck_at" TIMESTAMPTZ(6),
    "struck_by_id" UUID,
    "struck_because" TEXT,

    CONSTRAINT "pressing_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "weld" (
    "id" UUID NOT NULL,
    "job_id" UUID NOT NULL,
    "filler" TEXT,
    "amps" INTEGER,
    "note" TEXT,
    "person_id" UUID NOT NULL,
    "occurred_at" TIMESTAMPTZ(6) NOT NULL,
    "recorded_at" TIMESTAMPTZ(6) NOT NULL,

    CONSTRAINT "weld_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "kit_model" (
    "id" UUID NOT NULL,
    "maker" TEXT NOT NULL,
    "part" TEXT NOT NULL,
    "engine_id" UUID,

    CONSTRAINT "kit_model_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "kit_lot" (
    "id" UUID NOT NULL,
    "kit_model_id" UUID NOT NULL,
    "lot" TEXT NOT NULL,

    CONSTRAINT "kit_lot_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "kit_fitted" (
    "id" UUID NOT NULL,
    "job_id" UUID NOT NULL,
    "kit_lot_id" UUID NOT NULL,
    "whose" TEXT NOT NULL,
    "person_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(6) NOT NULL,
    "struck_at" TIMESTAMPTZ(6),
    "struck_because" TEXT,

    CONSTRAINT "kit_fitted_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "clock_entry" (
    "id" UUID NOT NULL,
    "person_id" UUID NOT NULL,
    "job_id" UUID NOT NULL,
    "work" TEXT NOT NULL,
    "started_at" TIMESTAMPTZ(6) NOT NULL,
    "stopped_at" TIMESTAMPTZ(6),
    "stopped_how" TEXT,
    "was_started_at" TIMESTAMPTZ(6),
    "was_stopped_at" TIMESTAMPTZ(6),
    "corrected_by_id" UUID,
    "corrected_at" TIMESTAMPTZ(6),
    "corrected_why" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "clock_entry_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "certificate" (
    "id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "job_id" UUID NOT NULL,
    "replaces_id" UUID,
    "reason" TEXT,
    "data" TEXT NOT NULL,
    "seal_alg" TEXT NOT NULL,
    "seal_key_id" TEXT,
    "seal_value" TEXT NOT NULL,
    "check_code" TEXT NOT NULL,
    "issued_by_id" UUID NOT NULL,
    "issued_at" TIMESTAMPTZ(6) NOT NULL,

    CONSTRAINT "certificate_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "certificate_void" (
    "certificate_id" UUID NOT NULL,
    "reason" TEXT NOT NULL,
    "person_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(6) NOT NULL,

    CONSTRAINT "certificate_void_pkey" PRIMARY KEY ("certificate_id")
);

-- CreateTable
CREATE TABLE "certificate_paper" (
    "certificate_id" UUID NOT NULL,
    "paper" TEXT NOT NULL,
    "sha256" TEXT NOT NULL,
    "bytes" INTEGER NOT NULL,
    "drawn_at" TIMESTAMPTZ(6) NOT NULL,

    CONSTRAINT "certificate_paper_pkey" PRIMARY KEY ("certificate_id","paper")
);

-- CreateTable
CREATE TABLE "public_link" (
    "id" UUID NOT NULL,
    "job_id" UUID NOT NULL,
    "token_hash" BYTEA NOT NULL,
    "made_by_id" UUID NOT NULL,
    "made_at" TIMESTAMPTZ(6) NOT NULL,
    "ended_at" TIMESTAMPTZ(6),

    CONSTRAINT "public_link_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "box" (
    "job_id" UUID NOT NULL,
    "items" JSONB NOT NULL,
    "carrier" TEXT,
    "carrier_no" TEXT,
    "grams" INTEGER,
    "owners_word" TEXT,
    "owners_word_by" UUID,
    "checked_by_id" UUID NOT NULL,
    "checked_at" TIMESTAMPTZ(6) NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "box_pkey" PRIMARY KEY ("job_id")
);

-- CreateIndex
CREATE UNIQUE INDEX "person_sign_in_key" ON "person"("sign_in");

-- CreateIndex
CREATE UNIQUE INDEX "device_token_hash_key" ON "device"("token_hash");

-- CreateIndex
CREATE INDEX "session_person_id_idx" ON "session"("person_id");

-- CreateIndex
CREATE INDEX "sign_in_failure_subject_at_idx" ON "sign_in_failure"("subject", "at");

-- CreateIndex
CREATE INDEX "idempotency_created_at_idx" ON "idempotency"("created_at");

-- CreateIndex
CREATE INDEX "audit_row_entity_entity_id_idx" ON "audit_row"("entity", "entity_id");

-- CreateIndex
CREATE INDEX "customer_name_id_idx" ON "customer"("name", "id");

-- CreateIndex
CREATE UNIQUE INDEX "engine_maker_code_key" ON "engine"("maker", "code");

-- CreateIndex
CREATE INDEX "crank_engine_id_idx" ON "crank"("engine_id");

-- CreateIndex
CREATE INDEX "crank_customer_id_idx" ON "crank"("customer_id");

-- CreateIndex
CREATE UNIQUE INDEX "job_number_key" ON "job"("number");

-- CreateIndex
CREATE UNIQUE INDEX "job_tag_key" ON "job"("tag");

-- CreateIndex
CREATE INDEX "job_crank_id_idx" ON "job"("crank_id");

-- CreateIndex
CREATE INDEX "job_customer_id_idx" ON "job"("customer_id");

-- CreateIndex
CREATE INDEX "job_state_promised_on_id_idx" ON "job"("state", "promised_on", "id");

-- CreateIndex
CREATE INDEX "job_wait_job_id_idx" ON "job_wait"("job_id");

-- CreateIndex
CREATE INDEX "job_step_job_id_idx" ON "job_step"("job_id");

-- CreateIndex
CREATE INDEX "job_pass_job_id_idx" ON "job_pass"("job_id");

-- CreateIndex
CREATE UNIQUE INDEX "job_event_seq_key" ON "job_event"("seq");

-- CreateIndex
CREATE INDEX "job_event_job_id_seq_idx" ON "job_event"("job_id", "seq");

-- CreateIndex
CREATE INDEX "photo_job_id_at_id_idx" ON "photo"("job_id", "at", "id");

-- CreateIndex
CREATE UNIQUE INDEX "quote_job_id_version_key" ON "quote"("job_id", "version");

-- CreateIndex
CREATE INDEX "payment_job_id_idx" ON "payment"("job_id");

-- CreateIndex
CREATE UNIQUE INDEX "instrument_name_key" ON "instrument"("name");

-- CreateIndex
CREATE INDEX "measurement_job_id_kind_phase_idx" ON "measurement"("job_id", "kind", "phase");

-- CreateIndex
CREATE INDEX "truing_move_job_id_recorded_at_idx" ON "truing_move"("job_id", "recorded_at");

-- CreateIndex
CREATE INDEX "pressing_job_id_idx" ON "pressing"("job_id");

-- CreateIndex
CREATE INDEX "pressing_crank_id_side_idx" ON "pressing"("crank_id", "side");

-- CreateIndex
CREATE INDEX "weld_job_id_idx" ON "weld"("job_id");

-- CreateIndex
CREATE UNIQUE INDEX "kit_model_maker_part_key" ON "kit_model"("maker", "part");

-- CreateIndex
CREATE UNIQUE INDEX "kit_lot_kit_model_id_lot_key" ON "kit_lot"("kit_model_id", "lot");

-- CreateIndex
CREATE INDEX "kit_fitted_job_id_idx" ON "kit_fitted"("job_id");

-- CreateIndex
CREATE INDEX "clock_entry_job_id_idx" ON "clock_entry"("job_id");

-- CreateIndex
CREATE INDEX "clock_entry_person_id_started_at_idx" ON "clock_entry"("person_id", "started_at");

-- CreateIndex
CREATE UNIQUE INDEX "certificate_number_key" ON "certificate"("number");

-- CreateIndex
CREATE UNIQUE INDEX "certificate_replaces_id_key" ON "certificate"("replaces_id");

-- CreateIndex
CREATE INDEX "certificate_job_id_idx" ON "certificate"("job_id");

-- CreateIndex
CREATE INDEX "certificate_paper_sha256_idx" ON "certificate_paper"("sha256");

-- CreateIndex
CREATE UNIQUE INDEX "public_link_token_hash_key" ON "public_link"("token_hash");

-- CreateIndex
CREATE INDEX "public_link_job_id_idx" ON "public_link"("job_id");

-- AddForeignKey
ALTER TABLE "session" ADD CONSTRAINT "session_person_id_fkey" FOREIGN KEY ("person_id") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "engine_figure" ADD CONSTRAINT "engine_figure_engine_id_fkey" FOREIGN KEY ("engine_id") REFERENCES "engine"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "crank" ADD CONSTRAINT "crank_engine_id_fkey" FOREIGN KEY ("engine_id") REFERENCES "engine"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "crank" ADD CONSTRAINT "crank_customer_id_fkey" FOREIGN KEY ("customer_id") REFERENCES "customer"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "job" ADD CONSTRAINT "job_crank_id_fkey" FOREIGN KEY ("crank_id") REFERENCES "crank"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "job" ADD CONSTRAINT "job_customer_id_fkey" FOREIGN KEY ("customer_id") REFERENCES "customer"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "job_wait" ADD CONSTRAINT "job_wait_job_id_fkey" FOREIGN KEY ("job_id") REFERENCES "job"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "job_step" ADD CONSTRAINT "job_step_job_id_fkey" FOREIGN KEY ("job_id") REFERENCES "job"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "quote" ADD CONSTRAINT "quote_job_id_fkey" FOREIGN KEY ("job_id") REFERENCES "job"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "payment" ADD CONSTRAINT "payment_job_id_fkey" FOREIGN KEY ("job_id") REFERENCES "job"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "measurement_value" ADD CONSTRAINT "measurement_value_measurement_id_fkey" FOREIGN KEY ("measurement_id") REFERENCES "measurement"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "kit_lot" ADD CONSTRAINT "kit_lot_kit_model_id_fkey" FOREIGN KEY ("kit_model_id") REFERENCES "kit_model"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "kit_fitted" ADD CONSTRAINT "kit_fitted_kit_lot_id_fkey" FOREIGN KEY ("kit_lot_id") REFERENCES "kit_lot"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "certificate_void" ADD CONSTRAINT "certificate_void_certificate_id_fkey" FOREIGN KEY ("certificate_id") REFERENCES "certificate"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "certificate_paper" ADD CONSTRAINT "certificate_paper_certificate_id_fkey" FOREIGN KEY ("certificate_id") REFERENCES "certificate"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- ---- rules that Prisma's language lacks --------------------------------------------------------------------------

ALTER TABLE person ADD CHECK (role IN ('counter', 'bench', 'owner'));
ALTER TABLE person ADD CHECK (cranks_before >= 0);
ALTER TABLE customer ADD CHECK (phone IS NOT NULL OR mail IS NOT NULL OR address IS NOT NULL);
ALTER TABLE customer ADD CHECK (hear_by IN ('phone', 'mail', 'text', 'post'));
ALTER TABLE engine ADD CHECK (cycle IN ('2T', '4T'));
ALTER TABLE engine_figure ADD CHECK (source IN ('makers-book', 'common-practice', 'from-memory', 'worked-out', 'measured-here', 'invented'));
ALTER TABLE job ADD CHECK (kind IN ('rebuild', 'true-only', 'check-and-report', 'weld-only'));
ALTER TABLE job ADD CHECK (state IN ('booked', 'measured', 'agreed', 'apart', 'together', 'trued', 'signed', 'gone', 'given-back', 'scrapped'));
ALTER TABLE job ADD CHECK (hours_how IN ('metered', 'declared', 'unknown'));
ALTER TABLE job ADD CHECK (why_now IN ('hours-up', 'knock', 'seized', 'rust', 'out-of-true', 'rod-broken', 'dropped', 'not-known'));
ALTER TABLE job ADD CHECK (kit_from IN ('ours', 'theirs', 'none'));
ALTER TABLE job ADD CHECK (came_by IN ('counter', 'carrier') AND goes_by IN ('counter', 'carrier'));
ALTER TABLE job ADD CHECK (oil_hole IS NULL OR oil_hole IN ('open', 'masked', 'none'));
ALTER TABLE job_wait ADD CHECK (what IN ('kit', 'yes', 'outside'));
ALTER TABLE job_step ADD CHECK (step IN ('booked', 'measured', 'agreed', 'apart', 'together', 'trued', 'signed', 'gone', 'given-back', 'scrapped'));
ALTER TABLE quote ADD CHECK (total_minor >= tax_minor AND tax_minor >= 0);
ALTER TABLE quote ADD CHECK ((yes_at IS NULL) = (yes_by IS NULL) AND (yes_at IS NULL) = (yes_how IS NULL));
ALTER TABLE payment ADD CHECK (what IN ('deposit', 'payment', 'back'));
ALTER TABLE measurement ADD CHECK (kind IN ('width', 'clearance', 'play', 'rod', 'pin', 'bore', 'stack', 'runout'));
ALTER TABLE measurement ADD CHECK (phase IN ('received', 'kit', 'building', 'built', 'second', 'third'));
ALTER TABLE measurement ADD CHECK ((struck_at IS NULL) = (struck_because IS NULL));
ALTER TABLE measurement_value ADD CHECK (unit IN ('mm', 'thou', 'tenth'));
ALTER TABLE truing_move ADD CHECK (action IN ('strike', 'squeeze', 'wedge', 'part', 'leave'));
ALTER TABLE truing_move ADD CHECK (half IS NULL OR half IN ('left', 'right'));
ALTER TABLE truing_move ADD CHECK (force IS NULL OR force IN ('light', 'firm', 'hard'));
ALTER TABLE pressing ADD CHECK (direction IN ('apart', 'together') AND side IN ('left', 'right'));
ALTER TABLE pressing ADD CHECK ((peak_tonnes IS NULL) = (not_read_because IS NOT NULL));
ALTER TABLE pressing ADD CHECK (galling IS NULL OR galling IN ('none', 'light', 'heavy'));
ALTER TABLE pressing ADD CHECK ((struck_at IS NULL) = (struck_because IS NULL));
ALTER TABLE kit_fitted ADD CHECK (whose IN ('ours', 'theirs'));
ALTER TABLE clock_entry ADD CHECK (work IN ('measuring', 'parting', 'pressing', 'truing', 'welding', 'checking'));
ALTER TABLE clock_entry ADD CHECK (stopped_at IS NULL OR stopped_at >= started_at);
ALTER TABLE clock_entry ADD CHECK (stopped_how IS NULL OR stopped_how IN ('hand', 'next-clock', 'closing-time'));
ALTER TABLE instrument ADD CHECK (kind IN ('dial', 'micrometer', 'bore-gauge', 'feeler', 'press-gauge', 'thermometer', 'setting-rod') AND step_mm > 0);
ALTER TABLE certificate ADD CHECK ((replaces_id IS NULL) = (reason IS NULL));

CREATE UNIQUE INDEX one_running_clock ON clock_entry (person_id) WHERE stopped_at IS NULL;
CREATE UNIQUE INDEX one_kit_in_a_crank ON kit_fitted (job_id) WHERE struck_at IS NULL;
CREATE UNIQUE INDEX one_wait_of_a_kind ON job_wait (job_id, what) WHERE ended_at IS NULL;
CREATE UNIQUE INDEX one_step_reached ON job_step (job_id, step) WHERE undone_at IS NULL;
CREATE UNIQUE INDEX one_first_certificate ON certificate (job_id) WHERE replaces_id IS NULL;

CREATE EXTENSION IF NOT EXISTS pg_trgm;
CREATE INDEX customer_find ON customer USING gin (find_text gin_trgm_ops);
CREATE INDEX crank_find ON crank USING gin (find_text gin_trgm_ops);
CREATE INDEX engine_find ON engine USING gin (find_text gin_trgm_ops);

ALTER TABLE session ADD FOREIGN KEY (device_id) REFERENCES device (id);
ALTER TABLE device ADD FOREIGN KEY (enrolled_by) REFERENCES person (id);
ALTER TABLE engine_figure ADD FOREIGN KEY (person_id) REFERENCES person (id);
ALTER TABLE engine ADD FOREIGN KEY (copied_from) REFERENCES engine (id);
ALTER TABLE job ADD FOREIGN KEY (holder_id) REFERENCES person (id);
ALTER TABLE job ADD FOREIGN KEY (booked_by_id) REFERENCES person (id);
ALTER TABLE job ADD FOREIGN KEY (comeback_of_id) REFERENCES job (id);
ALTER TABLE job_wait ADD FOREIGN KEY (ended_by_id) REFERENCES person (id);
ALTER TABLE job_step ADD FOREIGN KEY (person_id) REFERENCES person (id);
ALTER TABLE job_pass ADD FOREIGN KEY (job_id) REFERENCES job (id), ADD FOREIGN KEY (person_id) REFERENCES person (id);
ALTER TABLE job_event ADD FOREIGN KEY (job_id) REFERENCES job (id), ADD FOREIGN KEY (person_id) REFERENCES person (id);
ALTER TABLE draft ADD FOREIGN KEY (person_id) REFERENCES person (id);
ALTER TABLE photo ADD FOREIGN KEY (job_id) REFERENCES job (id), ADD FOREIGN KEY (person_id) REFERENCES person (id);
ALTER TABLE quote ADD FOREIGN KEY (made_by_id) REFERENCES person (id), ADD FOREIGN KEY (yes_entered_by) REFERENCES person (id);
ALTER TABLE payment ADD FOREIGN KEY (person_id) REFERENCES person (id);
ALTER TABLE measurement ADD FOREIGN KEY (job_id) REFERENCES job (id), ADD FOREIGN KEY (person_id) REFERENCES person (id);
ALTER TABLE measurement ADD FOREIGN KEY (instrument_id) REFERENCES instrument (id), ADD FOREIGN KEY (struck_by_id) REFERENCES person (id);
ALTER TABLE truing_move ADD FOREIGN KEY (job_id) REFERENCES job (id), ADD FOREIGN KEY (before_id) REFERENCES measurement (id), ADD FOREIGN KEY (person_id) REFERENCES person (id);
ALTER TABLE pressing ADD FOREIGN KEY (job_id) REFERENCES job (id), ADD FOREIGN KEY (crank_id) REFERENCES crank (id), ADD FOREIGN KEY (person_id) REFERENCES person (id);
ALTER TABLE weld ADD FOREIGN KEY (job_id) REFERENCES job (id), ADD FOREIGN KEY (person_id) REFERENCES person (id);
ALTER TABLE kit_model ADD FOREIGN KEY (engine_id) REFERENCES engine (id);
ALTER TABLE kit_fitted ADD FOREIGN KEY (job_id) REFERENCES job (id), ADD FOREIGN KEY (person_id) REFERENCES person (id);
ALTER TABLE clock_entry ADD FOREIGN KEY (job_id) REFERENCES job (id), ADD FOREIGN KEY (person_id) REFERENCES person (id);
ALTER TABLE clock_entry ADD FOREIGN KEY (corrected_by_id) REFERENCES person (id);
ALTER TABLE certificate ADD FOREIGN KEY (job_id) REFERENCES job (id), ADD FOREIGN KEY (replaces_id) REFERENCES certificate (id);
ALTER TABLE certificate ADD FOREIGN KEY (issued_by_id) REFERENCES person (id);
ALTER TABLE certificate_void ADD FOREIGN KEY (person_id) REFERENCES person (id);
ALTER TABLE public_link ADD FOREIGN KEY (job_id) REFERENCES job (id), ADD FOREIGN KEY (made_by_id) REFERENCES person (id);
ALTER TABLE box ADD FOREIGN KEY (job_id) REFERENCES job (id), ADD FOREIGN KEY (checked_by_id) REFERENCES person (id);

INSERT INTO counter (name, last) VALUES ('tag', 0), ('certificate', 0);

-- ---- the audit chain ------------------------------------------------------------------------------------------------

-- Takes the chain's lock last in a transaction, so that the order of the chain is the order of the commits.
CREATE FUNCTION audit_append(at timestamptz, actor uuid, act text, thing text, thing_id text, request text, body text)
RETURNS bigint LANGUAGE plpgsql AS $$
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
  RETURN next_seq;
END $$;

CREATE FUNCTION never_changed() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION '% is written once and never changed', TG_TABLE_NAME USING ERRCODE = '42501';
END $$;

DO $$
DECLARE
  written_once text;
BEGIN
  FOREACH written_once IN ARRAY ARRAY['audit_row', 'job_event', 'certificate', 'certificate_void', 'certificate_paper',
    'engine_figure', 'job_pass', 'measurement_value', 'payment', 'weld', 'truing_move']
  LOOP
    EXECUTE format('CREATE TRIGGER never_changed BEFORE UPDATE OR DELETE ON %I FOR EACH ROW EXECUTE FUNCTION never_changed()', written_once);
    EXECUTE format('CREATE TRIGGER never_emptied BEFORE TRUNCATE ON %I FOR EACH STATEMENT EXECUTE FUNCTION never_changed()', written_once);
    EXECUTE format('ALTER TABLE %I ENABLE ALWAYS TRIGGER never_changed', written_once);
    EXECUTE format('ALTER TABLE %I ENABLE ALWAYS TRIGGER never_emptied', written_once);
  END LOOP;
END $$;

-- A reading or a pressing may be struck out, once, and nothing else of it may change.
CREATE FUNCTION struck_only() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'UPDATE' AND OLD.struck_at IS NULL AND NEW.struck_at IS NOT NULL
     AND to_jsonb(OLD) - 'struck_at' - 'struck_by_id' - 'struck_because' = to_jsonb(NEW) - 'struck_at' - 'struck_by_id' - 'struck_because'
  THEN
    RETURN NEW;
  END IF;
  RAISE EXCEPTION '% is struck out and taken again, never changed', TG_TABLE_NAME USING ERRCODE = '42501';
END $$;

DO $$
DECLARE
  struck_out text;
BEGIN
  FOREACH struck_out IN ARRAY ARRAY['measurement', 'pressing']
  LOOP
    EXECUTE format('CREATE TRIGGER struck_only BEFORE UPDATE OR DELETE ON %I FOR EACH ROW EXECUTE FUNCTION struck_only()', struck_out);
    EXECUTE format('CREATE TRIGGER never_emptied BEFORE TRUNCATE ON %I FOR EACH STATEMENT EXECUTE FUNCTION never_changed()', struck_out);
    EXECUTE format('ALTER TABLE %I ENABLE ALWAYS TRIGGER struck_only', struck_out);
    EXECUTE format('ALTER TABLE %I ENABLE ALWAYS TRIGGER never_emptied', struck_out);
  END LOOP;
END $$;

-- ---- rights of the role that serves -----------------------------------------------------------------------------------

-- A host that lets nobody make roles has one role for all; there the triggers above stand alone.
DO $$
BEGIN
  IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'throwbook_app') THEN
    GRANT USAGE ON SCHEMA public TO throwbook_app;
    GRANT SELECT, INSERT ON ALL TABLES IN SCHEMA public TO throwbook_app;
    GRANT USAGE ON ALL SEQUENCES IN SCHEMA public TO throwbook_app;
    GRANT UPDATE ON person, device, session, setting, counter, idempotency, customer, engine, crank, job, job_wait, draft,
      photo, instrument, kit_model, kit_fitted, clock_entry, public_link, box TO throwbook_app;
    GRANT UPDATE (undone_at) ON job_step TO throwbook_app;
    GRANT UPDATE (yes_by, yes_how, yes_at, yes_entered_by) ON quote TO throwbook_app;
    GRANT UPDATE (struck_at, struck_by_id, struck_because) ON measurement, pressing TO throwbook_app;
    GRANT DELETE ON sign_in_failure, draft, idempotency, session TO throwbook_app;
    IF to_regclass('_prisma_migrations') IS NOT NULL THEN
      REVOKE INSERT ON _prisma_migrations FROM throwbook_app;
    END IF;
  END IF;
END $$;

COMMIT;
