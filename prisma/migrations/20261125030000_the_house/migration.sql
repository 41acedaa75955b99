BEGIN;

-- ---- customers that turned out to be one ------------------------------------------------------------------------------

ALTER TABLE "customer" ADD COLUMN "merged_into_id" UUID;
ALTER TABLE customer ADD FOREIGN KEY (merged_into_id) REFERENCES customer (id);
ALTER TABLE customer ADD CHECK (merged_into_id <> id);

-- ---- after it went home -----------------------------------------------------------------------------------------------

CREATE TABLE "comeback" (
    "id" UUID NOT NULL,
    "job_id" UUID NOT NULL,
    "day" DATE NOT NULL,
    "how" TEXT NOT NULL,
    "hours" DECIMAL(8,2),
    "hours_how" TEXT NOT NULL DEFAULT 'unknown',
    "says" TEXT,
    "found" JSONB NOT NULL DEFAULT '[]',
    "found_note" TEXT,
    "thought" TEXT,
    "cause" TEXT,
    "whose" TEXT,
    "new_job_id" UUID,
    "person_id" UUID NOT NULL,
    "recorded_at" TIMESTAMPTZ(6) NOT NULL,
    "looked_by_id" UUID,
    "looked_at" TIMESTAMPTZ(6),
    "struck_at" TIMESTAMPTZ(6),
    "struck_by_id" UUID,
    "struck_because" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "comeback_pkey" PRIMARY KEY ("id")
);
CREATE UNIQUE INDEX "comeback_new_job_id_key" ON "comeback"("new_job_id");
CREATE INDEX "comeback_job_id_idx" ON "comeback"("job_id");
CREATE INDEX "comeback_day_id_idx" ON "comeback"("day", "id");

CREATE TABLE "follow_up" (
    "id" UUID NOT NULL,
    "job_id" UUID NOT NULL,
    "day" DATE NOT NULL,
    "runs" BOOLEAN NOT NULL,
    "hours" DECIMAL(8,2),
    "hours_how" TEXT NOT NULL DEFAULT 'unknown',
    "says" TEXT,
    "person_id" UUID NOT NULL,
    "recorded_at" TIMESTAMPTZ(6) NOT NULL,
    "struck_at" TIMESTAMPTZ(6),
    "struck_by_id" UUID,
    "struck_because" TEXT,

    CONSTRAINT "follow_up_pkey" PRIMARY KEY ("id")
);
CREATE INDEX "follow_up_job_id_day_idx" ON "follow_up"("job_id", "day");

CREATE TABLE "proof" (
    "id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "started_at" TIMESTAMPTZ(6) NOT NULL,
    "ended_at" TIMESTAMPTZ(6),
    "held" BOOLEAN,
    "says" TEXT,
    "file" TEXT,
    "bytes" BIGINT,
    "rows" BIGINT,
    "audit_seq" BIGINT,

    CONSTRAINT "proof_pkey" PRIMARY KEY ("id")
);
CREATE INDEX "proof_kind_started_at_idx" ON "proof"("kind", "started_at");

ALTER TABLE comeback ADD CHECK (how IN ('returned', 'told'));
ALTER TABLE comeback ADD CHECK (hours_how IN ('metered', 'declared', 'unknown') AND (hours IS NULL) = (hours_how = 'unknown'));
ALTER TABLE comeback ADD CHECK (cause IS NULL OR cause IN ('lubrication', 'kit', 'pin-shift', 'case-or-bearing', 'workmanship', 'nothing-found', 'not-known'));
ALTER TABLE comeback ADD CHECK (whose IS NULL OR whose IN ('ours', 'part', 'theirs', 'not-known'));
ALTER TABLE comeback ADD CHECK ((struck_at IS NULL) = (struck_because IS NULL));
ALTER TABLE comeback ADD FOREIGN KEY (job_id) REFERENCES job (id), ADD FOREIGN KEY (new_job_id) REFERENCES job (id);
ALTER TABLE comeback ADD FOREIGN KEY (person_id) REFERENCES person (id), ADD FOREIGN KEY (looked_by_id) REFERENCES person (id);
ALTER TABLE comeback ADD FOREIGN KEY (struck_by_id) REFERENCES person (id);
-- Of one crank that went home once, one comeback counts.
CREATE UNIQUE INDEX one_comeback_of_a_job ON comeback (job_id) WHERE struck_at IS NULL;
ALTER TABLE follow_up ADD CHECK (hours_how IN ('metered', 'declared', 'unknown') AND (hours IS NULL) = (hours_how = 'unknown'));
ALTER TABLE follow_up ADD CHECK ((struck_at IS NULL) = (struck_because IS NULL));
ALTER TABLE follow_up ADD FOREIGN KEY (job_id) REFERENCES job (id), ADD FOREIGN KEY (person_id) REFERENCES person (id);
ALTER TABLE follow_up ADD FOREIGN KEY (struck_by_id) REFERENCES person (id);
ALTER TABLE proof ADD CHECK (kind IN ('backup', 'drill'));
ALTER TABLE proof ADD CHECK ((ended_at IS NULL) = (held IS NULL));

DO $$
BEGIN
  CREATE TRIGGER struck_only BEFORE UPDATE OR DELETE ON follow_up FOR EACH ROW EXECUTE FUNCTION struck_only();
  ALTER TABLE follow_up ENABLE ALWAYS TRIGGER struck_only;
END $$;

-- Jobs that came back before reports were kept get theirs from what was said at booking in again.
INSERT INTO comeback (id, job_id, day, how, says, new_job_id, person_id, recorded_at)
SELECT DISTINCT ON (j.comeback_of_id) gen_random_uuid(), j.comeback_of_id, (j.booked_at AT TIME ZONE 'UTC')::date, 'returned', j.comeback_why, j.id, j.booked_by_id, j.booked_at
FROM job j WHERE j.comeback_of_id IS NOT NULL ORDER BY j.comeback_of_id, j.number;

-- ---- live updates -----------------------------------------------------------------------------------------------------

-- As before, and wakes whoever listens: the numbers of the chain are in the order of the commits.
CREATE OR REPLACE FUNCTION audit_append(at timestamptz, actor uuid, act text, thing text, thing_id text, request text, body text)
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
  PERFORM pg_notify('throwbook', next_seq::text);
  RETURN next_seq;
END $$;

-- ---- rights of the role that serves -----------------------------------------------------------------------------------

DO $$
BEGIN
  IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'throwbook_app') THEN
    GRANT SELECT, INSERT, UPDATE ON comeback, proof TO throwbook_app;
    GRANT SELECT, INSERT ON follow_up TO throwbook_app;
    GRANT UPDATE (struck_at, struck_by_id, struck_because) ON follow_up TO throwbook_app;
  END IF;
END $$;

COMMIT;
