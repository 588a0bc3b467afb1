-- History only grows. (The one part of the schema in SQLite's own words: PostgreSQL spells triggers otherwise.)
CREATE TRIGGER revisions_are_never_changed BEFORE UPDATE ON revisions
BEGIN
    SELECT RAISE(ABORT, 'revisions are append-only');
END;

CREATE TRIGGER revisions_are_never_deleted BEFORE DELETE ON revisions
BEGIN
    SELECT RAISE(ABORT, 'revisions are append-only');
END;
