-- The record book, format 1. Every statement here stays as it is: a book of
-- this format must open for ever. Times and days are text, so that they compare
-- and hash as they are written.
CREATE TABLE entries (
    no          INTEGER PRIMARY KEY,
    kind        TEXT NOT NULL,
    key         TEXT NOT NULL, -- as it was compared when the entry was written; empty for an event
    on_date     TEXT NOT NULL, -- day of an event, first day of a fact; empty: the shop's first day
    body        TEXT NOT NULL, -- JSON object, column to text; empty: entry "corrects" was never true
    corrects    INTEGER REFERENCES entries (no),
    reason      TEXT NOT NULL,
    recorded_at TEXT NOT NULL, -- UTC, RFC 3339, whole seconds
    recorded_by TEXT NOT NULL,
    prev_hash   TEXT NOT NULL, -- empty for the first entry
    hash        TEXT NOT NULL,
    CHECK (corrects < no),
    CHECK (body <> '' OR corrects IS NOT NULL)
);

CREATE INDEX entries_by_day ON entries (kind, on_date);

CREATE UNIQUE INDEX entries_corrected_once ON entries (corrects) WHERE corrects IS NOT NULL;

CREATE TRIGGER entries_never_change BEFORE UPDATE ON entries
BEGIN
    SELECT RAISE(ABORT, 'an entry is never changed, only corrected by a later one');
END;

CREATE TRIGGER entries_never_go BEFORE DELETE ON entries
BEGIN
    SELECT RAISE(ABORT, 'an entry is never removed, only withdrawn by a later one');
END;

-- Also closes the way in through INSERT OR REPLACE, which deletes without a
-- delete trigger.
CREATE TRIGGER entries_in_order BEFORE INSERT ON entries
WHEN NEW.no IS NOT (SELECT coalesce(max(no), 0) + 1 FROM entries)
    OR EXISTS (SELECT 1 FROM entries WHERE corrects = NEW.corrects)
BEGIN
    SELECT RAISE(ABORT, 'entries are numbered without a gap, and each is corrected at most once');
END;
