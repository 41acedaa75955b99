BEGIN;

-- ---- practice cranks: made up, and kept apart from every figure of the shop --------------------------------------------

CREATE TABLE "practice_run" (
    "id" UUID NOT NULL,
    "person_id" UUID NOT NULL,
    "seed" BIGINT NOT NULL,
    "level" TEXT NOT NULL,
    "started_at" TIMESTAMPTZ(6) NOT NULL,
    "ended_at" TIMESTAMPTZ(6),
    "called" TEXT,
    "score" JSONB,

    CONSTRAINT "practice_run_pkey" PRIMARY KEY ("id")
);
CREATE INDEX "practice_run_person_id_id_idx" ON "practice_run"("person_id", "id");

CREATE TABLE "practice_move" (
    "run_id" UUID NOT NULL,
    "n" INTEGER NOT NULL,
    "action" TEXT NOT NULL,
    "half" TEXT,
    "at_deg" INTEGER,
    "how" TEXT NOT NULL,
    "said_left_mm" DECIMAL(10,5) NOT NULL,
    "said_right_mm" DECIMAL(10,5) NOT NULL,
    "recorded_at" TIMESTAMPTZ(6) NOT NULL,

    CONSTRAINT "practice_move_pkey" PRIMARY KEY ("run_id", "n")
);

ALTER TABLE "practice_move" ADD CONSTRAINT "practice_move_run_id_fkey" FOREIGN KEY ("run_id") REFERENCES "practice_run"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE practice_run ADD FOREIGN KEY (person_id) REFERENCES person (id);
ALTER TABLE practice_run ADD CHECK (seed BETWEEN 0 AND 4294967295);
ALTER TABLE practice_run ADD CHECK (level IN ('one', 'two', 'four', 'perhaps-none'));
ALTER TABLE practice_run ADD CHECK (called IN ('true', 'no-hand', 'left'));
ALTER TABLE practice_run ADD CHECK ((ended_at IS NULL) = (called IS NULL) AND (ended_at IS NULL) = (score IS NULL));
-- Whoever practises has one crank at a time.
CREATE UNIQUE INDEX one_practice_crank_of_a_person ON practice_run (person_id) WHERE ended_at IS NULL;
ALTER TABLE practice_move ADD CHECK (n BETWEEN 0 AND 59);
ALTER TABLE practice_move ADD CHECK (
  (action = 'strike' AND half IS NOT NULL AND at_deg IS NOT NULL AND half IN ('left', 'right') AND at_deg BETWEEN 0 AND 359
    AND how IN ('light', 'firm', 'hard'))
  OR (action IN ('squeeze', 'wedge') AND half IS NULL AND at_deg IS NULL AND how IN ('little', 'more', 'much')));
ALTER TABLE practice_move ADD CHECK (said_left_mm BETWEEN 0 AND 20), ADD CHECK (said_right_mm BETWEEN 0 AND 20);

-- ---- rights of the role that serves -----------------------------------------------------------------------------------

DO $$
BEGIN
  IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'throwbook_app') THEN
    GRANT SELECT, INSERT ON practice_run, practice_move TO throwbook_app;
    GRANT UPDATE (ended_at, called, score) ON practice_run TO throwbook_app;
  END IF;
END $$;

COMMIT;
