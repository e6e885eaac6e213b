-- Copies of one catalogue that were changed apart can be brought together again.
--
-- What a catalogue holds is the set of its acts. Bringing two together is taking all acts of both,
-- in one order that is the same everywhere, and making the tables anew from them: so it does not
-- matter which way round, in which order or how often.
--  * `seen` says on what each act was built: the acts that nothing had been built on yet. Of two
--    acts neither of which has seen the other, directly or through others, each was done without
--    knowing of the other. An act whose whole past is there can be checked and placed; so a set of
--    acts is only ever complete backwards.
--  * `clock_ms` is the moment of the act, or a millisecond after the latest act that it has seen,
--    whichever is later: so it is never before what it was built on, however wrong the clock of a
--    laptop is. The order is that of (clock_ms, id); row numbers of acts, of changes and of all
--    things go by it.
--  * A field holds what the last act in that order made of it. Where the last change and another
--    one were made apart, both values are in the history, and it is for a person to settle.
--  * Nothing but ids is unique: two coils may have been given one code apart. Which instrument of
--    a kind and code counts says the view standing_instrument: the last one.
--  * Seals of form 2 take up those of the acts seen instead of the one before; so an act keeps its
--    seal wherever it goes, and the seal vouches for its whole past.
-- Old rows: each act has seen the one before it; they keep their seals (form 1), and moments and
-- clocks differ only where a computer's clock was put back. Values stay.

-- Acts ----------------------------------------------------------------------------------------

DROP TRIGGER act_stays_1;
ALTER TABLE act ADD COLUMN clock_ms INTEGER NOT NULL DEFAULT 0;      -- milliseconds since 1970
ALTER TABLE act ADD COLUMN laptop TEXT NOT NULL DEFAULT '';          -- the computer's name
ALTER TABLE act ADD COLUMN seal_form INTEGER NOT NULL DEFAULT 1 CHECK (seal_form IN (1, 2));
UPDATE act SET clock_ms = told.clock_ms
FROM (SELECT rid, n + max(at_ms - n) OVER (ORDER BY rid) AS clock_ms
      FROM (SELECT rid, row_number() OVER (ORDER BY rid) AS n,
                   coalesce(strftime('%s', substr(at_utc, 1, 19)) * 1000
                            + substr(at_utc, 21, 3), 0) AS at_ms
            FROM act)) AS told
WHERE told.rid = act.rid;
CREATE TRIGGER act_stays_1 BEFORE UPDATE ON act
    BEGIN SELECT RAISE (ABORT, 'the history is never changed'); END;

CREATE TABLE seen (                      -- what an act was built on
    rid  INTEGER PRIMARY KEY,
    act  INTEGER NOT NULL REFERENCES act (rid),
    seen INTEGER NOT NULL REFERENCES act (rid),
    UNIQUE (act, seen),
    CHECK (seen < act)
) STRICT;
INSERT INTO seen (act, seen)
SELECT rid, before FROM (SELECT rid, lag(rid) OVER (ORDER BY rid) AS before FROM act)
WHERE before IS NOT NULL;
CREATE TRIGGER seen_stays_1 BEFORE UPDATE ON seen
    BEGIN SELECT RAISE (ABORT, 'the history is never changed'); END;
CREATE TRIGGER seen_stays_2 BEFORE DELETE ON seen
    BEGIN SELECT RAISE (ABORT, 'the history is never changed'); END;

CREATE TABLE head (                      -- acts that no other has seen: the next one is built on them
    act INTEGER PRIMARY KEY REFERENCES act (rid)
) STRICT;
INSERT INTO head (act) SELECT rid FROM act ORDER BY rid DESC LIMIT 1;

-- Of undos and redos that were made apart, the last one says whether an act stands.
DROP VIEW act_state;
CREATE VIEW act_state AS                 -- each act with what has become of it
    SELECT a.*,
           (SELECT undone.id FROM undo AS u JOIN act AS undone ON undone.rid = u.undoes
            WHERE u.act = a.rid) AS undoes_id,
           CASE
               WHEN EXISTS (SELECT 1 FROM undo AS u JOIN undo AS first ON first.act = u.undoes
                            WHERE u.act = a.rid) THEN 'redo'
               WHEN EXISTS (SELECT 1 FROM undo AS u WHERE u.act = a.rid) THEN 'undo'
               WHEN EXISTS (SELECT 1 FROM undo AS u WHERE u.undoes = a.rid
                            AND NOT EXISTS (SELECT 1 FROM undo AS other
                                            JOIN undo AS redo ON redo.undoes = other.act
                                            WHERE other.undoes = a.rid AND redo.act > u.act))
                   THEN 'undone'
               ELSE 'done'
           END AS state
    FROM act AS a;

-- What may be there twice -------------------------------------------------------------------------

DROP INDEX coil_code;
CREATE INDEX coil_code ON coil (code) WHERE retired_at_utc IS NULL AND is_undone = 0;

-- Of two readings of one field that were made apart, or two corrections of one reading, the last
-- counts. A withdrawal takes back only what it names.
DROP VIEW current_reading;
CREATE VIEW open_reading AS              -- neither superseded, withdrawn nor undone
    SELECT * FROM reading AS r
    WHERE r.is_undone = 0
      AND (r.value_si IS NOT NULL OR r.value_text IS NOT NULL)
      AND NOT EXISTS (SELECT 1 FROM reading AS later
                      WHERE later.supersedes = r.rid AND later.is_undone = 0);
CREATE VIEW current_reading AS           -- what counts
    SELECT * FROM open_reading AS r
    WHERE NOT EXISTS (SELECT 1 FROM reading AS other
                      WHERE other.coil = r.coil AND other.field = r.field AND other.rid > r.rid
                        AND (r.field <> 'diameters' OR other.supersedes = r.supersedes)
                        AND other.is_undone = 0
                        AND (other.value_si IS NOT NULL OR other.value_text IS NOT NULL)
                        AND NOT EXISTS (SELECT 1 FROM reading AS later
                                        WHERE later.supersedes = other.rid
                                          AND later.is_undone = 0));

-- An instrument of each kind and code could be made on both: the two stay, and the last counts.
CREATE TABLE instrument_anew (                -- figures in kg, m, s or K, by its kind
    rid                   INTEGER PRIMARY KEY,
    id                    TEXT NOT NULL UNIQUE
                          CHECK (length(id) = 26 AND id NOT GLOB '*[^0-9A-HJKMNP-TV-Z]*'),
    kind                  TEXT NOT NULL CHECK (kind IN ('scale', 'tape', 'micrometer', 'stopwatch',
                                                        'thermometer')),
    code                  TEXT NOT NULL CHECK (length(code) <= 40),  -- '': the default of its kind
    resolution_si         REAL NOT NULL CHECK (resolution_si >= 0),
    limit_of_error_si     REAL NOT NULL CHECK (limit_of_error_si >= 0),
    repeatability_si      REAL NOT NULL CHECK (repeatability_si >= 0),
    offset_si             REAL NOT NULL,
    offset_uncertainty_si REAL NOT NULL CHECK (offset_uncertainty_si >= 0),
    is_undone             INTEGER NOT NULL DEFAULT 0 CHECK (is_undone IN (0, 1))
) STRICT;
INSERT INTO instrument_anew
    SELECT rid, id, kind, code, resolution_si, limit_of_error_si, repeatability_si, offset_si,
           offset_uncertainty_si, is_undone
    FROM instrument;
DROP TABLE instrument;
ALTER TABLE instrument_anew RENAME TO instrument;
CREATE INDEX instrument_by_code ON instrument (kind, code);
CREATE VIEW standing_instrument AS
    SELECT * FROM instrument AS i
    WHERE i.is_undone = 0
      AND NOT EXISTS (SELECT 1 FROM instrument AS later
                      WHERE later.kind = i.kind AND later.code = i.code AND later.rid > i.rid
                        AND later.is_undone = 0);
CREATE TRIGGER instrument_stays_1 BEFORE UPDATE OF rid, id ON instrument
    BEGIN SELECT RAISE (ABORT, 'an id is never changed'); END;
CREATE TRIGGER instrument_stays_2 BEFORE DELETE ON instrument
    BEGIN SELECT RAISE (ABORT, 'an instrument is never deleted: readings were taken with it'); END;
CREATE TRIGGER instrument_made AFTER INSERT ON instrument BEGIN
    INSERT INTO change (act, thing_table, thing, field, became)
    SELECT (SELECT act FROM open_act), 'instrument', new.id, field, became
    FROM (SELECT 'id' AS field, new.id AS became
          UNION ALL SELECT 'kind', new.kind
          UNION ALL SELECT 'code', new.code
          UNION ALL SELECT 'resolution_si', new.resolution_si
          UNION ALL SELECT 'limit_of_error_si', new.limit_of_error_si
          UNION ALL SELECT 'repeatability_si', new.repeatability_si
          UNION ALL SELECT 'offset_si', new.offset_si
          UNION ALL SELECT 'offset_uncertainty_si', new.offset_uncertainty_si);
END;
CREATE TRIGGER instrument_changed AFTER UPDATE ON instrument BEGIN
    INSERT INTO change (act, thing_table, thing, field, was, became)
    SELECT (SELECT act FROM open_act), 'instrument', new.id, field, was, became
    FROM (SELECT 'kind' AS field, old.kind AS was, new.kind AS became
          UNION ALL SELECT 'code', old.code, new.code
          UNION ALL SELECT 'resolution_si', old.resolution_si, new.resolution_si
          UNION ALL SELECT 'limit_of_error_si', old.limit_of_error_si, new.limit_of_error_si
          UNION ALL SELECT 'repeatability_si', old.repeatability_si, new.repeatability_si
          UNION ALL SELECT 'offset_si', old.offset_si, new.offset_si
          UNION ALL SELECT 'offset_uncertainty_si', old.offset_uncertainty_si,
                           new.offset_uncertainty_si)
    WHERE was IS NOT became;
END;
CREATE TRIGGER instrument_undone AFTER UPDATE OF is_undone ON instrument
    WHEN old.is_undone IS NOT new.is_undone BEGIN
    INSERT INTO change (act, thing_table, thing, field, was, became)
    VALUES ((SELECT act FROM open_act), 'instrument', new.id, 'is_undone', old.is_undone,
            new.is_undone);
END;

-- The lengths of a class may have been changed on one and their spread on the other.
CREATE TABLE reference_class_anew (           -- a kind of line that a coil may turn out to be
    rid                   INTEGER PRIMARY KEY,
    name                  TEXT NOT NULL UNIQUE CHECK (name <> ''),
    position              INTEGER NOT NULL,       -- the order of the library
    is_retired            INTEGER NOT NULL CHECK (is_retired IN (0, 1)),  -- no longer in it
    family                TEXT,
    grain_class           TEXT,
    density_grade         TEXT,
    line_size             TEXT,
    weight                REAL NOT NULL CHECK (weight > 0),  -- a priori; only ratios count
    -- ln of the weight per length over 1 gr/ft and of the density over 1 g/cm3
    ln_grains_per_foot_mean REAL NOT NULL,
    ln_grains_per_foot_sd   REAL NOT NULL CHECK (ln_grains_per_foot_sd > 0),
    ln_density_mean         REAL NOT NULL,
    ln_density_sd           REAL NOT NULL CHECK (ln_density_sd > 0),
    correlation             REAL NOT NULL CHECK (correlation BETWEEN -1 AND 1),
    -- probabilities
    tapered               REAL NOT NULL CHECK (tapered BETWEEN 0 AND 1),
    tint_clear            REAL NOT NULL CHECK (tint_clear BETWEEN 0 AND 1),
    tint_pale             REAL NOT NULL CHECK (tint_pale BETWEEN 0 AND 1),
    tint_brown            REAL NOT NULL CHECK (tint_brown BETWEEN 0 AND 1),
    tint_dark             REAL NOT NULL CHECK (tint_dark BETWEEN 0 AND 1),
    tint_black            REAL NOT NULL CHECK (tint_black BETWEEN 0 AND 1),
    -- usual lengths, as '3.048 4.572'; they count where the spread is told as well
    usual_lengths_m       TEXT,
    usual_relative_sd     REAL CHECK (usual_relative_sd >= 0),
    basis                 TEXT NOT NULL,          -- where the figures come from
    is_undone             INTEGER NOT NULL DEFAULT 0 CHECK (is_undone IN (0, 1))
) STRICT;
INSERT INTO reference_class_anew
    SELECT rid, name, position, is_retired, family, grain_class, density_grade, line_size, weight,
           ln_grains_per_foot_mean, ln_grains_per_foot_sd, ln_density_mean, ln_density_sd,
           correlation, tapered, tint_clear, tint_pale, tint_brown, tint_dark, tint_black,
           usual_lengths_m, usual_relative_sd, basis, is_undone
    FROM reference_class;
DROP TABLE reference_class;
ALTER TABLE reference_class_anew RENAME TO reference_class;
CREATE TRIGGER reference_class_stays_1 BEFORE UPDATE OF rid, name ON reference_class
    BEGIN SELECT RAISE (ABORT, 'the name of a class is never changed'); END;
CREATE TRIGGER reference_class_stays_2 BEFORE DELETE ON reference_class
    BEGIN SELECT RAISE (ABORT, 'a class is never deleted: it is retired'); END;
CREATE TRIGGER reference_class_made AFTER INSERT ON reference_class BEGIN
    INSERT INTO change (act, thing_table, thing, field, became)
    SELECT (SELECT act FROM open_act), 'reference_class', new.name, field, became
    FROM (SELECT 'name' AS field, new.name AS became
          UNION ALL SELECT 'position', new.position
          UNION ALL SELECT 'is_retired', new.is_retired
          UNION ALL SELECT 'family', new.family
          UNION ALL SELECT 'grain_class', new.grain_class
          UNION ALL SELECT 'density_grade', new.density_grade
          UNION ALL SELECT 'line_size', new.line_size
          UNION ALL SELECT 'weight', new.weight
          UNION ALL SELECT 'ln_grains_per_foot_mean', new.ln_grains_per_foot_mean
          UNION ALL SELECT 'ln_grains_per_foot_sd', new.ln_grains_per_foot_sd
          UNION ALL SELECT 'ln_density_mean', new.ln_density_mean
          UNION ALL SELECT 'ln_density_sd', new.ln_density_sd
          UNION ALL SELECT 'correlation', new.correlation
          UNION ALL SELECT 'tapered', new.tapered
          UNION ALL SELECT 'tint_clear', new.tint_clear
          UNION ALL SELECT 'tint_pale', new.tint_pale
          UNION ALL SELECT 'tint_brown', new.tint_brown
          UNION ALL SELECT 'tint_dark', new.tint_dark
          UNION ALL SELECT 'tint_black', new.tint_black
          UNION ALL SELECT 'usual_lengths_m', new.usual_lengths_m
          UNION ALL SELECT 'usual_relative_sd', new.usual_relative_sd
          UNION ALL SELECT 'basis', new.basis)
    WHERE became IS NOT NULL;
END;
CREATE TRIGGER reference_class_changed AFTER UPDATE ON reference_class BEGIN
    INSERT INTO change (act, thing_table, thing, field, was, became)
    SELECT (SELECT act FROM open_act), 'reference_class', new.name, field, was, became
    FROM (SELECT 'position' AS field, old.position AS was, new.position AS became
          UNION ALL SELECT 'is_retired', old.is_retired, new.is_retired
          UNION ALL SELECT 'family', old.family, new.family
          UNION ALL SELECT 'grain_class', old.grain_class, new.grain_class
          UNION ALL SELECT 'density_grade', old.density_grade, new.density_grade
          UNION ALL SELECT 'line_size', old.line_size, new.line_size
          UNION ALL SELECT 'weight', old.weight, new.weight
          UNION ALL SELECT 'ln_grains_per_foot_mean', old.ln_grains_per_foot_mean,
                           new.ln_grains_per_foot_mean
          UNION ALL SELECT 'ln_grains_per_foot_sd', old.ln_grains_per_foot_sd,
                           new.ln_grains_per_foot_sd
          UNION ALL SELECT 'ln_density_mean', old.ln_density_mean, new.ln_density_mean
          UNION ALL SELECT 'ln_density_sd', old.ln_density_sd, new.ln_density_sd
          UNION ALL SELECT 'correlation', old.correlation, new.correlation
          UNION ALL SELECT 'tapered', old.tapered, new.tapered
          UNION ALL SELECT 'tint_clear', old.tint_clear, new.tint_clear
          UNION ALL SELECT 'tint_pale', old.tint_pale, new.tint_pale
          UNION ALL SELECT 'tint_brown', old.tint_brown, new.tint_brown
          UNION ALL SELECT 'tint_dark', old.tint_dark, new.tint_dark
          UNION ALL SELECT 'tint_black', old.tint_black, new.tint_black
          UNION ALL SELECT 'usual_lengths_m', old.usual_lengths_m, new.usual_lengths_m
          UNION ALL SELECT 'usual_relative_sd', old.usual_relative_sd, new.usual_relative_sd
          UNION ALL SELECT 'basis', old.basis, new.basis)
    WHERE was IS NOT became;
END;
CREATE TRIGGER reference_class_undone AFTER UPDATE OF is_undone ON reference_class
    WHEN old.is_undone IS NOT new.is_undone BEGIN
    INSERT INTO change (act, thing_table, thing, field, was, became)
    VALUES ((SELECT act FROM open_act), 'reference_class', new.name, 'is_undone', old.is_undone,
            new.is_undone);
END;

-- What a client is called ---------------------------------------------------------------------

-- It goes from copy to copy without a history: what was told last counts.
ALTER TABLE client_person ADD COLUMN told_at_utc TEXT NOT NULL DEFAULT '';
UPDATE client_person SET told_at_utc =
    coalesce((SELECT c.told_at_utc FROM client AS c WHERE c.rid = client_person.client), '');
