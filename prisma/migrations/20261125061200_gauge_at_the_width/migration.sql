BEGIN;

-- ---- the gauge of the press beside a width read between two taps -------------------------------------------------------

ALTER TABLE "measurement" ADD COLUMN "peak_tonnes" DECIMAL(6,2);
ALTER TABLE measurement ADD CHECK (peak_tonnes IS NULL OR (kind = 'width' AND peak_tonnes > 0 AND peak_tonnes <= 100));

COMMIT;
