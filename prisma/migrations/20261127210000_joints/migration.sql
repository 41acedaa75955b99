BEGIN;

-- ---- cranks with several throws: how one is built, and which joint a reading, a pressing, a move or a kit is of ---------

ALTER TABLE "engine" ADD COLUMN "build" JSONB;
ALTER TABLE "measurement" ADD COLUMN "joint" TEXT;
ALTER TABLE "pressing" ADD COLUMN "joint" TEXT;
ALTER TABLE "truing_move" ADD COLUMN "joint" TEXT;
ALTER TABLE "kit_fitted" ADD COLUMN "joint" TEXT;
ALTER TABLE "job_pass" ADD COLUMN "joint" TEXT;

ALTER TABLE measurement ADD CONSTRAINT measurement_joint_check CHECK (joint ~ '^(throw-[1-6]|centre-[1-5])$');
ALTER TABLE pressing ADD CONSTRAINT pressing_joint_check CHECK (joint ~ '^(throw-[1-6]|centre-[1-5])$');
ALTER TABLE truing_move ADD CONSTRAINT truing_move_joint_check CHECK (joint ~ '^(throw-[1-6]|centre-[1-5])$');
ALTER TABLE kit_fitted ADD CONSTRAINT kit_fitted_joint_check CHECK (joint ~ '^throw-[1-6]$');
ALTER TABLE job_pass ADD CONSTRAINT job_pass_joint_check CHECK (joint ~ '^(throw-[1-6]|centre-[1-5])$');

ALTER TABLE measurement DROP CONSTRAINT measurement_kind_check;
ALTER TABLE measurement ADD CONSTRAINT measurement_kind_check
  CHECK (kind IN ('width', 'clearance', 'play', 'rod', 'pin', 'bore', 'stack', 'runout', 'phase', 'centre'));

-- The angle of a throw is kept in degrees, in the column of the reading.
ALTER TABLE measurement_value DROP CONSTRAINT measurement_value_unit_check;
ALTER TABLE measurement_value ADD CONSTRAINT measurement_value_unit_check CHECK (unit IN ('mm', 'thou', 'tenth', 'deg'));

DROP INDEX one_kit_in_a_crank;
CREATE UNIQUE INDEX one_kit_in_a_crank ON kit_fitted (job_id, coalesce(joint, '')) WHERE struck_at IS NULL;

COMMIT;
