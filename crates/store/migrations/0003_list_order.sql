-- The list goes from the job touched last to the one touched first.
CREATE INDEX jobs_by_time ON jobs (removed, updated_at, id);
