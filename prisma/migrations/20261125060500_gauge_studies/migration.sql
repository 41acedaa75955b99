BEGIN;

-- ---- what was found of an instrument: its checks, its zero of the day, a fall -----------------------------------------

ALTER TABLE "instrument" ADD COLUMN "note" TEXT;

CREATE TABLE "instrument_check" (
    "id" UUID NOT NULL,
    "instrument_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "held" BOOLEAN,
    "off_mm" DECIMAL(10,5),
    "note" TEXT,
    "person_id" UUID,
    "occurred_at" TIMESTAMPTZ(6) NOT NULL,
    "recorded_at" TIMESTAMPTZ(6) NOT NULL,

    CONSTRAINT "instrument_check_pkey" PRIMARY KEY ("id")
);
CREATE INDEX "instrument_check_instrument_id_occurred_at_idx" ON "instrument_check"("instrument_id", "occurred_at");
ALTER TABLE instrument_check ADD FOREIGN KEY (instrument_id) REFERENCES instrument (id), ADD FOREIGN KEY (person_id) REFERENCES person (id);
-- A fall says nothing of whether it still reads right; a check and a zero do.
ALTER TABLE instrument_check ADD CHECK (kind IN ('check', 'zero', 'dropped') AND (held IS NULL) = (kind = 'dropped'));
ALTER TABLE instrument_check ADD CHECK (off_mm BETWEEN -10 AND 10);

-- The checks that the register knew before each was kept by itself; whose they were was not kept apart.
INSERT INTO instrument_check (id, instrument_id, kind, held, note, occurred_at, recorded_at)
SELECT gen_random_uuid(), i.id, 'check', true, 'As the register had it.', i.checked_on::timestamp AT TIME ZONE 'UTC', now()
FROM instrument i WHERE i.checked_on IS NOT NULL;

-- ---- gauge studies ----------------------------------------------------------------------------------------------------

CREATE TABLE "gauge_study" (
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "instrument_id" UUID NOT NULL,
    "what" TEXT NOT NULL,
    "tolerance_mm" DECIMAL(10,5),
    "parts" TEXT[],
    "rounds" INTEGER NOT NULL,
    "started_by_id" UUID NOT NULL,
    "started_at" TIMESTAMPTZ(6) NOT NULL,
    "closed_at" TIMESTAMPTZ(6),
    "closed_because" TEXT,

    CONSTRAINT "gauge_study_pkey" PRIMARY KEY ("id")
);
CREATE INDEX "gauge_study_started_at_idx" ON "gauge_study"("started_at");
CREATE INDEX "gauge_study_instrument_id_idx" ON "gauge_study"("instrument_id");
ALTER TABLE gauge_study ADD FOREIGN KEY (instrument_id) REFERENCES instrument (id), ADD FOREIGN KEY (started_by_id) REFERENCES person (id);
ALTER TABLE gauge_study ADD CHECK (tolerance_mm > 0), ADD CHECK (rounds BETWEEN 2 AND 5), ADD CHECK (cardinality(parts) BETWEEN 2 AND 30);
ALTER TABLE gauge_study ADD CHECK (closed_because IS NULL OR closed_at IS NOT NULL);

CREATE TABLE "gauge_study_person" (
    "study_id" UUID NOT NULL,
    "person_id" UUID NOT NULL,
    "place" INTEGER NOT NULL,

    CONSTRAINT "gauge_study_person_pkey" PRIMARY KEY ("study_id", "person_id")
);
CREATE UNIQUE INDEX "gauge_study_person_study_id_place_key" ON "gauge_study_person"("study_id", "place");
ALTER TABLE gauge_study_person ADD FOREIGN KEY (study_id) REFERENCES gauge_study (id), ADD FOREIGN KEY (person_id) REFERENCES person (id);

-- part counts the parts of the study from 1, round the rounds.
CREATE TABLE "gauge_reading" (
    "id" UUID NOT NULL,
    "study_id" UUID NOT NULL,
    "part" INTEGER NOT NULL,
    "person_id" UUID NOT NULL,
    "round" INTEGER NOT NULL,
    "mm" DECIMAL(10,5) NOT NULL,
    "occurred_at" TIMESTAMPTZ(6) NOT NULL,
    "recorded_at" TIMESTAMPTZ(6) NOT NULL,
    "struck_at" TIMESTAMPTZ(6),
    "struck_by_id" UUID,
    "struck_because" TEXT,

    CONSTRAINT "gauge_reading_pkey" PRIMARY KEY ("id")
);
CREATE INDEX "gauge_reading_study_id_idx" ON "gauge_reading"("study_id");
CREATE UNIQUE INDEX one_gauge_reading ON gauge_reading (study_id, part, person_id, round) WHERE struck_at IS NULL;
ALTER TABLE gauge_reading ADD FOREIGN KEY (study_id, person_id) REFERENCES gauge_study_person (study_id, person_id);
ALTER TABLE gauge_reading ADD FOREIGN KEY (struck_by_id) REFERENCES person (id);
ALTER TABLE gauge_reading ADD CHECK (part >= 1), ADD CHECK (round >= 1);
ALTER TABLE gauge_reading ADD CHECK ((struck_at IS NULL) = (struck_because IS NULL) AND (struck_at IS NULL) = (struck_by_id IS NULL));

-- ---- written once -----------------------------------------------------------------------------------------------------

DO $$
DECLARE
  written_once text;
BEGIN
  FOREACH written_once IN ARRAY ARRAY['instrument_check', 'gauge_study_person']
  LOOP
    EXECUTE format('CREATE TRIGGER never_changed BEFORE UPDATE OR DELETE ON %I FOR EACH ROW EXECUTE FUNCTION never_changed()', written_once);
    EXECUTE format('CREATE TRIGGER never_emptied BEFORE TRUNCATE ON %I FOR EACH STATEMENT EXECUTE FUNCTION never_changed()', written_once);
    EXECUTE format('ALTER TABLE %I ENABLE ALWAYS TRIGGER never_changed', written_once);
    EXECUTE format('ALTER TABLE %I ENABLE ALWAYS TRIGGER never_emptied', written_once);
  END LOOP;
  CREATE TRIGGER struck_only BEFORE UPDATE OR DELETE ON gauge_reading FOR EACH ROW EXECUTE FUNCTION struck_only();
  CREATE TRIGGER never_emptied BEFORE TRUNCATE ON gauge_reading FOR EACH STATEMENT EXECUTE FUNCTION never_changed();
  ALTER TABLE gauge_reading ENABLE ALWAYS TRIGGER struck_only;
  ALTER TABLE gauge_reading ENABLE ALWAYS TRIGGER never_emptied;
END $$;

-- ---- rights of the role that serves -----------------------------------------------------------------------------------

DO $$
BEGIN
  IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'throwbook_app') THEN
    GRANT SELECT, INSERT ON instrument_check, gauge_study, gauge_study_person, gauge_reading TO throwbook_app;
    GRANT UPDATE (closed_at, closed_because) ON gauge_study TO throwbook_app;
    GRANT UPDATE (struck_at, struck_by_id, struck_because) ON gauge_reading TO throwbook_app;
  END IF;
END $$;

COMMIT;
