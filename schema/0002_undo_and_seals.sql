-- What was done can be undone, and the history can be checked.
--
-- Undo. An act that undoes another is an act like any other, with its own entry in the history:
-- fields go back to what they were, and a row that came to be is marked as undone, since rows are
-- never deleted. `undo` says which act it took back; an act that takes back an undo is a redo.
--  * A row with is_undone = 1 counts nowhere: the views below leave it out, and so must every query.
--  * An act stands if it is neither an undo or redo itself nor taken back by an undo that stands.
--    What the tables hold is what the standing acts made of them, in their order.
-- Seals. Each act has a seal: the SHA-256 of the seal before it and of all that the act wrote
-- (store/seals.h says in which form). Damage and careless edits break the chain. There is no key
-- in it: who edits the file on purpose can make new seals.
-- Old rows: nothing in them is undone; their acts are sealed when this step is applied.

-- Rows that count no longer -----------------------------------------------------------------------

ALTER TABLE coil ADD COLUMN is_undone INTEGER NOT NULL DEFAULT 0 CHECK (is_undone IN (0, 1));
ALTER TABLE instrument ADD COLUMN is_undone INTEGER NOT NULL DEFAULT 0 CHECK (is_undone IN (0, 1));
ALTER TABLE reading ADD COLUMN is_undone INTEGER NOT NULL DEFAULT 0 CHECK (is_undone IN (0, 1));
ALTER TABLE reference_class
    ADD COLUMN is_undone INTEGER NOT NULL DEFAULT 0 CHECK (is_undone IN (0, 1));
ALTER TABLE verdict ADD COLUMN is_undone INTEGER NOT NULL DEFAULT 0 CHECK (is_undone IN (0, 1));
ALTER TABLE confirmation
    ADD COLUMN is_undone INTEGER NOT NULL DEFAULT 0 CHECK (is_undone IN (0, 1));

DROP INDEX coil_code;
CREATE UNIQUE INDEX coil_code ON coil (code) WHERE retired_at_utc IS NULL AND is_undone = 0;

DROP VIEW current_reading;
CREATE VIEW current_reading AS           -- neither superseded, withdrawn nor undone
    SELECT * FROM reading AS r
    WHERE r.is_undone = 0
      AND (r.value_si IS NOT NULL OR r.value_text IS NOT NULL)
      AND NOT EXISTS (SELECT 1 FROM reading AS later
                      WHERE later.supersedes = r.rid AND later.is_undone = 0);

DROP VIEW current_confirmation;
CREATE VIEW current_confirmation AS      -- the last one of each coil, unless it took it back
    SELECT * FROM confirmation AS c
    WHERE c.is_undone = 0
      AND c.class IS NOT NULL
      AND NOT EXISTS (SELECT 1 FROM confirmation AS later
                      WHERE later.coil = c.coil AND later.rid > c.rid AND later.is_undone = 0);

-- What only grows may still be marked as undone, and the history says when.
DROP TRIGGER reading_stays_1;
CREATE TRIGGER reading_stays_1 BEFORE UPDATE OF
    rid, id, coil, field, as_written, value_si, value_text, standard_uncertainty_si, instrument,
    taken_at_utc, supersedes ON reading
    BEGIN SELECT RAISE (ABORT, 'a reading is never changed: a new one supersedes it'); END;
DROP TRIGGER verdict_stays_1;
CREATE TRIGGER verdict_stays_1 BEFORE UPDATE OF
    rid, id, coil, at_utc, best_class, best_class_probability, grain_class,
    grain_class_probability, density_grade, density_grade_probability, line_size,
    line_size_probability, family, family_probability, unlisted_probability, library, program
    ON verdict
    BEGIN SELECT RAISE (ABORT, 'a verdict is never changed'); END;
DROP TRIGGER confirmation_stays_1;
CREATE TRIGGER confirmation_stays_1 BEFORE UPDATE OF
    rid, id, coil, class, verdict, said_by, at_utc, note ON confirmation
    BEGIN SELECT RAISE (ABORT, 'a confirmation is never changed: a new one counts instead'); END;

CREATE TRIGGER coil_undone AFTER UPDATE OF is_undone ON coil
    WHEN old.is_undone IS NOT new.is_undone BEGIN
    INSERT INTO change (act, thing_table, thing, field, was, became)
    VALUES ((SELECT act FROM open_act), 'coil', new.id, 'is_undone', old.is_undone, new.is_undone);
END;
CREATE TRIGGER instrument_undone AFTER UPDATE OF is_undone ON instrument
    WHEN old.is_undone IS NOT new.is_undone BEGIN
    INSERT INTO change (act, thing_table, thing, field, was, became)
    VALUES ((SELECT act FROM open_act), 'instrument', new.id, 'is_undone', old.is_undone,
            new.is_undone);
END;
CREATE TRIGGER reading_undone AFTER UPDATE OF is_undone ON reading
    WHEN old.is_undone IS NOT new.is_undone BEGIN
    INSERT INTO change (act, thing_table, thing, field, was, became)
    VALUES ((SELECT act FROM open_act), 'reading', new.id, 'is_undone', old.is_undone,
            new.is_undone);
END;
CREATE TRIGGER reference_class_undone AFTER UPDATE OF is_undone ON reference_class
    WHEN old.is_undone IS NOT new.is_undone BEGIN
    INSERT INTO change (act, thing_table, thing, field, was, became)
    VALUES ((SELECT act FROM open_act), 'reference_class', new.name, 'is_undone', old.is_undone,
            new.is_undone);
END;
CREATE TRIGGER verdict_undone AFTER UPDATE OF is_undone ON verdict
    WHEN old.is_undone IS NOT new.is_undone BEGIN
    INSERT INTO change (act, thing_table, thing, field, was, became)
    VALUES ((SELECT act FROM open_act), 'verdict', new.id, 'is_undone', old.is_undone,
            new.is_undone);
END;
CREATE TRIGGER confirmation_undone AFTER UPDATE OF is_undone ON confirmation
    WHEN old.is_undone IS NOT new.is_undone BEGIN
    INSERT INTO change (act, thing_table, thing, field, was, became)
    VALUES ((SELECT act FROM open_act), 'confirmation', new.id, 'is_undone', old.is_undone,
            new.is_undone);
END;

-- Which act took back which -----------------------------------------------------------------------

CREATE TABLE undo (
    act    INTEGER PRIMARY KEY REFERENCES act (rid),
    undoes INTEGER NOT NULL REFERENCES act (rid),
    CHECK (undoes < act)
) STRICT;
CREATE INDEX undo_by_undone ON undo (undoes);

CREATE TRIGGER undo_stays_1 BEFORE UPDATE ON undo
    BEGIN SELECT RAISE (ABORT, 'the history is never changed'); END;
CREATE TRIGGER undo_stays_2 BEFORE DELETE ON undo
    BEGIN SELECT RAISE (ABORT, 'the history is never changed'); END;

CREATE VIEW act_state AS                 -- each act with what has become of it
    SELECT a.*,
           (SELECT undone.id FROM undo AS u JOIN act AS undone ON undone.rid = u.undoes
            WHERE u.act = a.rid) AS undoes_id,
           CASE
               WHEN EXISTS (SELECT 1 FROM undo AS u JOIN undo AS first ON first.act = u.undoes
                            WHERE u.act = a.rid) THEN 'redo'
               WHEN EXISTS (SELECT 1 FROM undo AS u WHERE u.act = a.rid) THEN 'undo'
               WHEN EXISTS (SELECT 1 FROM undo AS u WHERE u.undoes = a.rid
                            AND NOT EXISTS (SELECT 1 FROM undo AS redo WHERE redo.undoes = u.act))
                   THEN 'undone'
               ELSE 'done'
           END AS state
    FROM act AS a;

-- Seals -------------------------------------------------------------------------------------------

CREATE TABLE seal (
    act    INTEGER PRIMARY KEY REFERENCES act (rid),
    sha256 TEXT NOT NULL CHECK (length(sha256) = 64 AND sha256 NOT GLOB '*[^0-9a-f]*')
) STRICT;

CREATE TRIGGER seal_stays_1 BEFORE UPDATE ON seal
    BEGIN SELECT RAISE (ABORT, 'the history is never changed'); END;
CREATE TRIGGER seal_stays_2 BEFORE DELETE ON seal
    BEGIN SELECT RAISE (ABORT, 'the history is never changed'); END;
