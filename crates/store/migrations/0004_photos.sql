-- Photos of jobs. Their bytes lie in the folder `photos`, each file called by its SHA-256 (FIPS 180-4) in lower-case hexadecimal digits.
-- A row is never taken away: a photo that was taken again or removed says when. Times are milliseconds since 1970-01-01 UTC.
CREATE TABLE photos (
    job TEXT NOT NULL REFERENCES jobs (id),
    number BIGINT NOT NULL CHECK (number >= 1),
    name TEXT NOT NULL,
    kind TEXT NOT NULL,
    bytes BIGINT NOT NULL,
    sha256 TEXT NOT NULL,
    at BIGINT NOT NULL,
    removed BIGINT,
    PRIMARY KEY (job, number)
);

CREATE UNIQUE INDEX photos_by_name ON photos (job, name) WHERE removed IS NULL;

CREATE TRIGGER photos_are_never_deleted BEFORE DELETE ON photos
BEGIN
    SELECT RAISE(ABORT, 'photos are append-only');
END;

CREATE TRIGGER photos_are_never_changed BEFORE UPDATE ON photos
WHEN OLD.removed IS NOT NULL OR NEW.removed IS NULL OR NEW.job <> OLD.job OR NEW.number <> OLD.number OR NEW.name <> OLD.name
    OR NEW.kind <> OLD.kind OR NEW.bytes <> OLD.bytes OR NEW.sha256 <> OLD.sha256 OR NEW.at <> OLD.at
BEGIN
    SELECT RAISE(ABORT, 'photos are append-only');
END;
