-- From tables 1 to 2. What took long to find out, such as the hashes of whole clips, is kept; marks
-- files are read again by the next scan.
ALTER TABLE clips ADD COLUMN disk INTEGER;
ALTER TABLE clips ADD COLUMN away INTEGER NOT NULL DEFAULT 0;
ALTER TABLE routines ADD COLUMN watched INTEGER NOT NULL DEFAULT 0;
UPDATE routines SET modified = 0, watched = marks IS NOT NULL;
PRAGMA user_version = 2;
