-- The catalogue: coils, what was read off them, what they are held to be, and who did what when.
--
-- Why it is built so:
--  * Readings, verdicts, confirmations and the history only grow. A correction, a withdrawal or a
--    change of mind is a further row, so nothing that was once known is lost, and it can be undone.
--  * Every change belongs to one act (one thing that one person did, one transaction). The triggers
--    below write each changed field into `change`; outside an act they have no act to name, and
--    the write fails.
--  * `id` is what a thing is called everywhere (26 characters, made on any laptop, never twice);
--    `rid` is only its number in this file. Classes are called by their name, the same everywhere.
--  * Moments are UTC, as 2026-11-25T09:34:35.120Z, so they sort as text. Columns in SI end in
--    _si or in the unit's name. A reading keeps the words that were written beside the number.
-- Old rows: there are none; this is the first step.

-- History ------------------------------------------------------------------------------------

CREATE TABLE act (                       -- one thing that somebody did: one transaction
    rid     INTEGER PRIMARY KEY,
    id      TEXT NOT NULL UNIQUE CHECK (length(id) = 26 AND id NOT GLOB '*[^0-9A-HJKMNP-TV-Z]*'),
    at_utc  TEXT NOT NULL CHECK (at_utc LIKE '____-__-__T__:__:__.___Z'),
    who     TEXT NOT NULL,
    program TEXT NOT NULL,               -- name and version of the program that wrote
    what    TEXT NOT NULL CHECK (what <> ''),
    why     TEXT NOT NULL
) STRICT;

CREATE TABLE open_act (                  -- the act that is going on; empty between transactions
    one INTEGER PRIMARY KEY CHECK (one = 1),
    act INTEGER NOT NULL REFERENCES act (rid)
) STRICT;

CREATE TABLE change (                    -- one field of one thing, changed in one act
    rid         INTEGER PRIMARY KEY,
    act         INTEGER NOT NULL REFERENCES act (rid),
    thing_table TEXT NOT NULL,
    thing       TEXT NOT NULL,           -- its id; of a class or a setting the name
    field       TEXT NOT NULL,           -- the column; of 'id' or a class's 'name': it came to be
    was         ANY,
    became      ANY
) STRICT;
CREATE INDEX change_by_act ON change (act);
CREATE INDEX change_by_thing ON change (thing);

-- Things ---------------------------------------------------------------------------------------

CREATE TABLE coil (                      -- one physical thing in the bin
    rid            INTEGER PRIMARY KEY,
    id             TEXT NOT NULL UNIQUE
                   CHECK (length(id) = 26 AND id NOT GLOB '*[^0-9A-HJKMNP-TV-Z]*'),
    code           TEXT NOT NULL CHECK (length(code) BETWEEN 1 AND 40),
    notes          TEXT NOT NULL,
    made_at_utc    TEXT NOT NULL CHECK (made_at_utc LIKE '____-__-__T__:__:__.___Z'),
    retired_at_utc TEXT CHECK (retired_at_utc LIKE '____-__-__T__:__:__.___Z')
) STRICT;
CREATE UNIQUE INDEX coil_code ON coil (code) WHERE retired_at_utc IS NULL;

CREATE TABLE instrument (                -- figures in kg, m, s or K, by its kind
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
    UNIQUE (kind, code)
) STRICT;

CREATE TABLE reading (                   -- one thing read off one instrument at one time
    rid                     INTEGER PRIMARY KEY,
    id                      TEXT NOT NULL UNIQUE
                            CHECK (length(id) = 26 AND id NOT GLOB '*[^0-9A-HJKMNP-TV-Z]*'),
    coil                    INTEGER NOT NULL REFERENCES coil (rid),
    field                   TEXT NOT NULL CHECK (field IN (
                                'sample_length', 'sample_weight', 'diameters', 'submerged_weight',
                                'sink_distance', 'sink_time', 'water_temperature', 'tint', 'taper',
                                'whole_length', 'whole_weight', 'floats')),
    as_written              TEXT NOT NULL,
    value_si                REAL,        -- kg, m, s or K, by the field
    value_text              TEXT,        -- tint, taper and floats are words
    standard_uncertainty_si REAL CHECK (standard_uncertainty_si >= 0),  -- as stated with it (k = 1)
    instrument              INTEGER REFERENCES instrument (rid),        -- NULL: the default one
    taken_at_utc            TEXT NOT NULL CHECK (taken_at_utc LIKE '____-__-__T__:__:__.___Z'),
    supersedes              INTEGER,
    UNIQUE (coil, field, rid),
    -- A correction is of the same field of the same coil.
    FOREIGN KEY (coil, field, supersedes) REFERENCES reading (coil, field, rid),
    CHECK (value_si IS NULL OR value_text IS NULL),
    -- What a line can have, as in catalog/readings.h, with a hair of room for rounding.
    CHECK (value_si IS NULL OR CASE field
        WHEN 'sample_weight' THEN value_si > 0 AND value_si < 10.001
        WHEN 'whole_weight' THEN value_si > 0 AND value_si < 10.001
        WHEN 'submerged_weight' THEN value_si >= 0 AND value_si < 10.001
        WHEN 'sample_length' THEN value_si > 0 AND value_si < 1000.001
        WHEN 'whole_length' THEN value_si > 0 AND value_si < 1000.001
        WHEN 'sink_distance' THEN value_si > 0 AND value_si < 1000.001
        WHEN 'diameters' THEN value_si > 0 AND value_si < 0.025001
        WHEN 'sink_time' THEN value_si > 0 AND value_si < 3600.001
        WHEN 'water_temperature' THEN value_si > 273.149 AND value_si < 313.151
        ELSE 0 END),
    CHECK (value_text IS NULL OR CASE field
        WHEN 'tint' THEN value_text IN ('clear', 'pale', 'brown', 'dark', 'black')
        WHEN 'taper' THEN value_text IN ('level', 'tapered')
        WHEN 'floats' THEN value_text IN ('yes', 'no')
        ELSE 0 END),
    CHECK (standard_uncertainty_si IS NULL OR value_si IS NOT NULL),
    -- One without a value withdraws the one that it supersedes.
    CHECK (value_si IS NOT NULL OR value_text IS NOT NULL OR supersedes IS NOT NULL)
) STRICT;
CREATE INDEX reading_by_superseded ON reading (supersedes) WHERE supersedes IS NOT NULL;

CREATE VIEW current_reading AS           -- neither superseded nor withdrawn
    SELECT * FROM reading AS r
    WHERE (r.value_si IS NOT NULL OR r.value_text IS NOT NULL)
      AND NOT EXISTS (SELECT 1 FROM reading AS later WHERE later.supersedes = r.rid);

CREATE TABLE reference_class (           -- a kind of line that a coil may turn out to be
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
    -- usual lengths, as '3.048 4.572'; one field, since they are one list
    usual_lengths_m       TEXT,
    usual_relative_sd     REAL CHECK (usual_relative_sd >= 0),
    basis                 TEXT NOT NULL,          -- where the figures come from
    CHECK ((usual_lengths_m IS NULL) = (usual_relative_sd IS NULL))
) STRICT;

CREATE TABLE verdict (                   -- what the program said when somebody confirmed
    rid                       INTEGER PRIMARY KEY,
    id                        TEXT NOT NULL UNIQUE
                              CHECK (length(id) = 26 AND id NOT GLOB '*[^0-9A-HJKMNP-TV-Z]*'),
    coil                      INTEGER NOT NULL REFERENCES coil (rid),
    at_utc                    TEXT NOT NULL CHECK (at_utc LIKE '____-__-__T__:__:__.___Z'),
    -- Names, not references: the library may have been another one then.
    best_class                TEXT NOT NULL,
    best_class_probability    REAL NOT NULL CHECK (best_class_probability BETWEEN 0 AND 1),
    grain_class               TEXT NOT NULL,      -- '': none was the most probable
    grain_class_probability   REAL NOT NULL CHECK (grain_class_probability BETWEEN 0 AND 1),
    density_grade             TEXT NOT NULL,
    density_grade_probability REAL NOT NULL CHECK (density_grade_probability BETWEEN 0 AND 1),
    line_size                 TEXT NOT NULL,
    line_size_probability     REAL NOT NULL CHECK (line_size_probability BETWEEN 0 AND 1),
    family                    TEXT NOT NULL,
    family_probability        REAL NOT NULL CHECK (family_probability BETWEEN 0 AND 1),
    unlisted_probability      REAL NOT NULL CHECK (unlisted_probability BETWEEN 0 AND 1),
    library                   TEXT NOT NULL,      -- version or hash of the reference library
    program                   TEXT NOT NULL,      -- version of the program
    UNIQUE (coil, rid)
) STRICT;

CREATE TABLE confirmation (              -- somebody's word for what a coil is; the last one counts
    rid     INTEGER PRIMARY KEY,
    id      TEXT NOT NULL UNIQUE CHECK (length(id) = 26 AND id NOT GLOB '*[^0-9A-HJKMNP-TV-Z]*'),
    coil    INTEGER NOT NULL REFERENCES coil (rid),
    class   INTEGER REFERENCES reference_class (rid),  -- NULL: takes the last one back
    verdict INTEGER,
    said_by TEXT NOT NULL,
    at_utc  TEXT NOT NULL CHECK (at_utc LIKE '____-__-__T__:__:__.___Z'),
    note    TEXT NOT NULL,
    FOREIGN KEY (coil, verdict) REFERENCES verdict (coil, rid)
) STRICT;
CREATE INDEX confirmation_by_coil ON confirmation (coil);
CREATE INDEX confirmation_by_class ON confirmation (class);

CREATE VIEW current_confirmation AS      -- the last one of each coil, unless it took it back
    SELECT * FROM confirmation AS c
    WHERE c.class IS NOT NULL
      AND NOT EXISTS (SELECT 1 FROM confirmation AS later
                      WHERE later.coil = c.coil AND later.rid > c.rid);

CREATE TABLE setting (
    rid   INTEGER PRIMARY KEY,
    name  TEXT NOT NULL UNIQUE CHECK (name <> ''),
    value TEXT NOT NULL
) STRICT;

-- What only grows --------------------------------------------------------------------------------

CREATE TRIGGER act_stays_1 BEFORE UPDATE ON act
    BEGIN SELECT RAISE (ABORT, 'the history is never changed'); END;
CREATE TRIGGER act_stays_2 BEFORE DELETE ON act
    BEGIN SELECT RAISE (ABORT, 'the history is never changed'); END;
CREATE TRIGGER change_stays_1 BEFORE UPDATE ON change
    BEGIN SELECT RAISE (ABORT, 'the history is never changed'); END;
CREATE TRIGGER change_stays_2 BEFORE DELETE ON change
    BEGIN SELECT RAISE (ABORT, 'the history is never changed'); END;
CREATE TRIGGER reading_stays_1 BEFORE UPDATE ON reading
    BEGIN SELECT RAISE (ABORT, 'a reading is never changed: a new one supersedes it'); END;
CREATE TRIGGER reading_stays_2 BEFORE DELETE ON reading
    BEGIN SELECT RAISE (ABORT, 'a reading is never deleted: a new one withdraws it'); END;
CREATE TRIGGER verdict_stays_1 BEFORE UPDATE ON verdict
    BEGIN SELECT RAISE (ABORT, 'a verdict is never changed'); END;
CREATE TRIGGER verdict_stays_2 BEFORE DELETE ON verdict
    BEGIN SELECT RAISE (ABORT, 'a verdict is never deleted'); END;
CREATE TRIGGER confirmation_stays_1 BEFORE UPDATE ON confirmation
    BEGIN SELECT RAISE (ABORT, 'a confirmation is never changed: a new one counts instead'); END;
CREATE TRIGGER confirmation_stays_2 BEFORE DELETE ON confirmation
    BEGIN SELECT RAISE (ABORT, 'a confirmation is never deleted: a new one takes it back'); END;

CREATE TRIGGER coil_stays_1 BEFORE UPDATE OF rid, id ON coil
    BEGIN SELECT RAISE (ABORT, 'an id is never changed'); END;
CREATE TRIGGER coil_stays_2 BEFORE DELETE ON coil
    BEGIN SELECT RAISE (ABORT, 'a coil is never deleted: it is retired'); END;
CREATE TRIGGER instrument_stays_1 BEFORE UPDATE OF rid, id ON instrument
    BEGIN SELECT RAISE (ABORT, 'an id is never changed'); END;
CREATE TRIGGER instrument_stays_2 BEFORE DELETE ON instrument
    BEGIN SELECT RAISE (ABORT, 'an instrument is never deleted: readings were taken with it'); END;
CREATE TRIGGER reference_class_stays_1 BEFORE UPDATE OF rid, name ON reference_class
    BEGIN SELECT RAISE (ABORT, 'the name of a class is never changed'); END;
CREATE TRIGGER reference_class_stays_2 BEFORE DELETE ON reference_class
    BEGIN SELECT RAISE (ABORT, 'a class is never deleted: it is retired'); END;
CREATE TRIGGER setting_stays BEFORE UPDATE OF rid, name ON setting
    BEGIN SELECT RAISE (ABORT, 'the name of a setting is never changed'); END;

-- What is written into the history ---------------------------------------------------------------

-- Rows that are never changed say by themselves what they hold.
CREATE TRIGGER reading_made AFTER INSERT ON reading BEGIN
    INSERT INTO change (act, thing_table, thing, field, became)
    VALUES ((SELECT act FROM open_act), 'reading', new.id, 'id', new.id);
END;
CREATE TRIGGER verdict_made AFTER INSERT ON verdict BEGIN
    INSERT INTO change (act, thing_table, thing, field, became)
    VALUES ((SELECT act FROM open_act), 'verdict', new.id, 'id', new.id);
END;
CREATE TRIGGER confirmation_made AFTER INSERT ON confirmation BEGIN
    INSERT INTO change (act, thing_table, thing, field, became)
    VALUES ((SELECT act FROM open_act), 'confirmation', new.id, 'id', new.id);
END;

CREATE TRIGGER coil_made AFTER INSERT ON coil BEGIN
    INSERT INTO change (act, thing_table, thing, field, became)
    SELECT (SELECT act FROM open_act), 'coil', new.id, field, became
    FROM (SELECT 'id' AS field, new.id AS became
          UNION ALL SELECT 'code', new.code
          UNION ALL SELECT 'notes', new.notes
          UNION ALL SELECT 'made_at_utc', new.made_at_utc
          UNION ALL SELECT 'retired_at_utc', new.retired_at_utc)
    WHERE became IS NOT NULL;
END;
CREATE TRIGGER coil_changed AFTER UPDATE ON coil BEGIN
    INSERT INTO change (act, thing_table, thing, field, was, became)
    SELECT (SELECT act FROM open_act), 'coil', new.id, field, was, became
    FROM (SELECT 'code' AS field, old.code AS was, new.code AS became
          UNION ALL SELECT 'notes', old.notes, new.notes
          UNION ALL SELECT 'made_at_utc', old.made_at_utc, new.made_at_utc
          UNION ALL SELECT 'retired_at_utc', old.retired_at_utc, new.retired_at_utc)
    WHERE was IS NOT became;
END;

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

CREATE TRIGGER setting_made AFTER INSERT ON setting BEGIN
    INSERT INTO change (act, thing_table, thing, field, became)
    VALUES ((SELECT act FROM open_act), 'setting', new.name, 'value', new.value);
END;
CREATE TRIGGER setting_changed AFTER UPDATE ON setting WHEN old.value IS NOT new.value BEGIN
    INSERT INTO change (act, thing_table, thing, field, was, became)
    VALUES ((SELECT act FROM open_act), 'setting', new.name, 'value', old.value, new.value);
END;
CREATE TRIGGER setting_gone AFTER DELETE ON setting BEGIN
    INSERT INTO change (act, thing_table, thing, field, was)
    VALUES ((SELECT act FROM open_act), 'setting', old.name, 'value', old.value);
END;
