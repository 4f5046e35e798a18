-- What is searched for alone and shown by date is found without looking at any other routine.
DROP INDEX IF EXISTS routines_by_athlete;
CREATE INDEX IF NOT EXISTS routines_by_event ON routines(event, date DESC, id);
CREATE INDEX IF NOT EXISTS routines_by_division ON routines(division, date DESC, id);
CREATE INDEX IF NOT EXISTS routines_by_athlete ON routines(athlete, date DESC, id);
CREATE INDEX IF NOT EXISTS routines_by_judge ON routines(judge, date DESC, id);
CREATE INDEX IF NOT EXISTS routines_by_book ON routines(book);
-- Few clips have a day on which they are to be deleted.
CREATE INDEX IF NOT EXISTS clips_by_day ON clips(delete_by, path) WHERE delete_by IS NOT NULL;
