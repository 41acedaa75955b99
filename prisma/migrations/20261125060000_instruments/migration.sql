BEGIN;

-- ---- what the register says of a dial, for what its readings are worth ------------------------------------------------

ALTER TABLE "instrument" ADD COLUMN "error_mm" DECIMAL(10,5), ADD COLUMN "retrace_mm" DECIMAL(10,5), ADD COLUMN "repeat_mm" DECIMAL(10,5);
ALTER TABLE instrument ADD CHECK (error_mm BETWEEN 0 AND 1), ADD CHECK (retrace_mm BETWEEN 0 AND 1), ADD CHECK (repeat_mm BETWEEN 0 AND 1);

COMMIT;
