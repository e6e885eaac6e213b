-- Instruments are checked against standards, and a micrometer on coatings.
--
-- A check is kept as it was read; what it found went into the instrument in the same act. The last
-- check says when the instrument must be checked again. What a micrometer shows on soft coatings is
-- not its offset on hard gauge pins, so it has a table of its own; the last row counts.
-- Rows are only added. is_undone marks one whose act was taken back: it counts nowhere.
-- Old rows: there are none; instruments of before were never checked.

CREATE TABLE instrument_check (          -- one check of one instrument
    rid           INTEGER PRIMARY KEY,
    id            TEXT NOT NULL UNIQUE
                  CHECK (length(id) = 26 AND id NOT GLOB '*[^0-9A-HJKMNP-TV-Z]*'),
    instrument    INTEGER NOT NULL REFERENCES instrument (rid),
    checked_at_utc TEXT NOT NULL CHECK (checked_at_utc LIKE '____-__-__T__:__:__.___Z'),
    -- A line for each reading: standard, its standard uncertainty, reading, in the words of the file.
    as_written    TEXT NOT NULL,
    is_undone     INTEGER NOT NULL DEFAULT 0 CHECK (is_undone IN (0, 1))
) STRICT;
CREATE INDEX instrument_check_by_instrument ON instrument_check (instrument);

CREATE TABLE coating_check (             -- a micrometer on coils of known diameter
    rid                   INTEGER PRIMARY KEY,
    id                    TEXT NOT NULL UNIQUE
                          CHECK (length(id) = 26 AND id NOT GLOB '*[^0-9A-HJKMNP-TV-Z]*'),
    instrument            INTEGER NOT NULL REFERENCES instrument (rid),
    checked_at_utc        TEXT NOT NULL CHECK (checked_at_utc LIKE '____-__-__T__:__:__.___Z'),
    offset_si             REAL NOT NULL,  -- shown less true, on coatings, in m
    offset_uncertainty_si REAL NOT NULL CHECK (offset_uncertainty_si >= 0),
    spread_si             REAL NOT NULL CHECK (spread_si >= 0),  -- from coil to coil
    coils                 INTEGER NOT NULL CHECK (coils > 1),
    is_undone             INTEGER NOT NULL DEFAULT 0 CHECK (is_undone IN (0, 1))
) STRICT;
CREATE INDEX coating_check_by_instrument ON coating_check (instrument);

CREATE TRIGGER instrument_check_stays_1 BEFORE UPDATE OF
    rid, id, instrument, checked_at_utc, as_written ON instrument_check
    BEGIN SELECT RAISE (ABORT, 'a check is never changed'); END;
CREATE TRIGGER instrument_check_stays_2 BEFORE DELETE ON instrument_check
    BEGIN SELECT RAISE (ABORT, 'a check is never deleted'); END;
CREATE TRIGGER coating_check_stays_1 BEFORE UPDATE OF
    rid, id, instrument, checked_at_utc, offset_si, offset_uncertainty_si, spread_si, coils
    ON coating_check
    BEGIN SELECT RAISE (ABORT, 'a check is never changed'); END;
CREATE TRIGGER coating_check_stays_2 BEFORE DELETE ON coating_check
    BEGIN SELECT RAISE (ABORT, 'a check is never deleted'); END;

CREATE TRIGGER instrument_check_made AFTER INSERT ON instrument_check BEGIN
    INSERT INTO change (act, thing_table, thing, field, became)
    VALUES ((SELECT act FROM open_act), 'instrument_check', new.id, 'id', new.id);
END;
CREATE TRIGGER coating_check_made AFTER INSERT ON coating_check BEGIN
    INSERT INTO change (act, thing_table, thing, field, became)
    VALUES ((SELECT act FROM open_act), 'coating_check', new.id, 'id', new.id);
END;
CREATE TRIGGER instrument_check_undone AFTER UPDATE OF is_undone ON instrument_check
    WHEN old.is_undone IS NOT new.is_undone BEGIN
    INSERT INTO change (act, thing_table, thing, field, was, became)
    VALUES ((SELECT act FROM open_act), 'instrument_check', new.id, 'is_undone', old.is_undone,
            new.is_undone);
END;
CREATE TRIGGER coating_check_undone AFTER UPDATE OF is_undone ON coating_check
    WHEN old.is_undone IS NOT new.is_undone BEGIN
    INSERT INTO change (act, thing_table, thing, field, was, became)
    VALUES ((SELECT act FROM open_act), 'coating_check', new.id, 'is_undone', old.is_undone,
            new.is_undone);
END;
