BEGIN;

-- ---- the office --------------------------------------------------------------------------------------------------------
-- Everything in the four tables office_… is worked out from the rest of the book and can be worked out again from it.

-- What the figures of the office need of each job, one row a job.
CREATE TABLE "office_job" (
    "job_id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "kind" TEXT NOT NULL,
    "engine_id" UUID NOT NULL,
    "lot_id" UUID,
    "trued_by" UUID,
    "booked_on" DATE NOT NULL,
    "out_on" DATE,
    "gone_on" DATE,
    "checked_on" DATE,
    "first_within" BOOLEAN,
    "back_on" DATE,
    "back_hours" DECIMAL(8,2),
    "cause" TEXT,
    "came_back" BOOLEAN NOT NULL,
    "heard_hours" DECIMAL(8,2),
    "still_out" BOOLEAN NOT NULL,
    "bench_seconds" BIGINT NOT NULL,
    "price_minor" BIGINT,
    "owes_minor" BIGINT,

    CONSTRAINT "office_job_pkey" PRIMARY KEY ("job_id")
);
CREATE INDEX "office_job_number_idx" ON "office_job"("number");
CREATE INDEX "office_job_booked_on_idx" ON "office_job"("booked_on");
CREATE INDEX "office_job_out_on_idx" ON "office_job"("out_on");
CREATE INDEX "office_job_gone_on_idx" ON "office_job"("gone_on");
CREATE INDEX "office_job_checked_on_idx" ON "office_job"("checked_on");
CREATE INDEX "office_job_engine_id_checked_on_idx" ON "office_job"("engine_id", "checked_on");
CREATE INDEX "office_job_trued_by_checked_on_idx" ON "office_job"("trued_by", "checked_on");
CREATE INDEX "office_job_lot_id_idx" ON "office_job"("lot_id");
CREATE INDEX office_job_back ON office_job (gone_on) WHERE came_back;
CREATE INDEX office_job_unpaid ON office_job (gone_on) WHERE owes_minor > 0;
CREATE INDEX office_job_lasted ON office_job (kind, engine_id, gone_on DESC) WHERE bench_seconds > 0 AND gone_on IS NOT NULL;
CREATE INDEX office_job_lasted_shop ON office_job (kind, gone_on DESC) WHERE bench_seconds > 0 AND gone_on IS NOT NULL;
ALTER TABLE office_job ADD FOREIGN KEY (job_id) REFERENCES job (id);
ALTER TABLE office_job ADD CHECK ((checked_on IS NULL) = (first_within IS NULL));
ALTER TABLE office_job ADD CHECK (gone_on IS NULL OR gone_on = out_on);

-- Sums of them by stretches that end with every Sunday and every month, by what they are told apart by.
CREATE TABLE "office_sum" (
    "figure" TEXT NOT NULL,
    "by" TEXT NOT NULL,
    "stretch" DATE NOT NULL,
    "key" TEXT NOT NULL,
    "at" INTEGER NOT NULL,
    "n" BIGINT NOT NULL,
    "hits" BIGINT NOT NULL,
    "amount" BIGINT NOT NULL,
    "minor" BIGINT NOT NULL,

    CONSTRAINT "office_sum_pkey" PRIMARY KEY ("figure", "by", "stretch", "key", "at")
);
CREATE INDEX "office_sum_key_idx" ON "office_sum"("figure", "by", "key", "stretch");

-- Jobs of which something changed since their row was worked out. Written in the transaction of the change.
-- The number of that transaction is part of the key: a mark never waits for another's, and none is taken for one that
-- somebody is reading away at this moment.
CREATE TABLE "office_stale" (
    "job_id" UUID NOT NULL,
    "tx" BIGINT NOT NULL DEFAULT (pg_current_xact_id()::text)::bigint,

    CONSTRAINT "office_stale_pkey" PRIMARY KEY ("job_id", "tx")
);

-- The zone in which the days of the rows are days: one row.
CREATE TABLE "office_zone" (
    "one" BOOLEAN NOT NULL DEFAULT true,
    "zone" TEXT NOT NULL,

    CONSTRAINT "office_zone_pkey" PRIMARY KEY ("one")
);
ALTER TABLE office_zone ADD CHECK (one);

-- The cranks that have a kit of a lot, for those of it that are still out.
CREATE INDEX "kit_fitted_kit_lot_id_idx" ON "kit_fitted"("kit_lot_id");
-- Clocks of the week, for the bench hours left of it.
CREATE INDEX "clock_entry_started_at_idx" ON "clock_entry"("started_at");

CREATE FUNCTION office_job_changed() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  INSERT INTO office_stale (job_id) VALUES (NEW.id) ON CONFLICT DO NOTHING;
  RETURN NULL;
END $$;

CREATE FUNCTION office_part_changed() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  INSERT INTO office_stale (job_id) VALUES (NEW.job_id) ON CONFLICT DO NOTHING;
  RETURN NULL;
END $$;

CREATE FUNCTION office_crank_changed() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  INSERT INTO office_stale (job_id) SELECT id FROM job WHERE crank_id = NEW.id ON CONFLICT DO NOTHING;
  RETURN NULL;
END $$;

DO $$
DECLARE
  part text;
BEGIN
  CREATE TRIGGER office_job_changed AFTER INSERT OR UPDATE OF kind, state, crank_id, booked_at ON job
    FOR EACH ROW EXECUTE FUNCTION office_job_changed();
  ALTER TABLE job ENABLE ALWAYS TRIGGER office_job_changed;
  CREATE TRIGGER office_crank_changed AFTER UPDATE OF engine_id ON crank FOR EACH ROW EXECUTE FUNCTION office_crank_changed();
  ALTER TABLE crank ENABLE ALWAYS TRIGGER office_crank_changed;
  CREATE TRIGGER office_part_changed AFTER INSERT OR UPDATE ON measurement
    FOR EACH ROW WHEN (NEW.kind = 'runout' AND NEW.phase = 'second') EXECUTE FUNCTION office_part_changed();
  ALTER TABLE measurement ENABLE ALWAYS TRIGGER office_part_changed;
  CREATE TRIGGER office_part_changed AFTER INSERT OR UPDATE ON clock_entry
    FOR EACH ROW WHEN (NEW.stopped_at IS NOT NULL) EXECUTE FUNCTION office_part_changed();
  ALTER TABLE clock_entry ENABLE ALWAYS TRIGGER office_part_changed;
  FOREACH part IN ARRAY ARRAY['job_step', 'kit_fitted', 'comeback', 'follow_up', 'quote', 'payment'] LOOP
    EXECUTE format('CREATE TRIGGER office_part_changed AFTER INSERT OR UPDATE ON %I FOR EACH ROW EXECUTE FUNCTION office_part_changed()', part);
    EXECUTE format('ALTER TABLE %I ENABLE ALWAYS TRIGGER office_part_changed', part);
  END LOOP;
END $$;

-- Every job that is in the book already.
INSERT INTO office_stale (job_id) SELECT id FROM job;

-- ---- rights of the role that serves -----------------------------------------------------------------------------------

DO $$
BEGIN
  IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'throwbook_app') THEN
    GRANT SELECT, INSERT, UPDATE, DELETE ON office_job, office_sum, office_stale, office_zone TO throwbook_app;
  END IF;
END $$;

COMMIT;
