BEGIN;

-- ---- the last look at the parts that sit between the webs: what was in, when, by whom ------------------------------------

ALTER TABLE "job" ADD COLUMN "trapped" JSONB;

COMMIT;
