-- Rigs, boats, clients, outings, and where each thing is.
--
-- Why it is built so:
--  * Custody is a record that only grows: a handover says where one thing is from then on. Where a
--    thing is, is what its last handover says; without one it is in the bin. So nothing can be in
--    two places, whatever happens. `turn` is how many handovers of the thing its maker knew of: in a
--    merged catalogue one with fewer than stand before it was made without knowing of the other.
--  * What a rig is strung with is custody, too: a tip is handed into a rig, as its tip or into its
--    wallet, and goes where the rig goes.
--  * What a person is called is kept in client_person alone: no trigger writes it into the history,
--    no seal covers it, and it can be changed and erased. The history knows a client by id and code.
--    Every change of client_person goes with one of client.told_at_utc, so that the history says that
--    something was told and when, and never what. Forgetting a client deletes the row.
--  * Columns that can change point to nothing; those that point to other rows never change.
-- Old rows: there are none; every coil of before is in the bin.

CREATE TABLE rig (                       -- a rod with what is strung on it
    rid            INTEGER PRIMARY KEY,
    id             TEXT NOT NULL UNIQUE
                   CHECK (length(id) = 26 AND id NOT GLOB '*[^0-9A-HJKMNP-TV-Z]*'),
    code           TEXT NOT NULL CHECK (length(code) BETWEEN 1 AND 40),
    name           TEXT NOT NULL,
    line_size      INTEGER CHECK (line_size BETWEEN 1 AND 15),
    rod            TEXT NOT NULL,
    reel           TEXT NOT NULL,
    backing        TEXT NOT NULL,
    running_line   TEXT NOT NULL,
    notes          TEXT NOT NULL,
    made_at_utc    TEXT NOT NULL CHECK (made_at_utc LIKE '____-__-__T__:__:__.___Z'),
    retired_at_utc TEXT CHECK (retired_at_utc LIKE '____-__-__T__:__:__.___Z'),
    is_undone      INTEGER NOT NULL DEFAULT 0 CHECK (is_undone IN (0, 1))
) STRICT;
CREATE INDEX rig_code ON rig (code);

CREATE TABLE boat (
    rid            INTEGER PRIMARY KEY,
    id             TEXT NOT NULL UNIQUE
                   CHECK (length(id) = 26 AND id NOT GLOB '*[^0-9A-HJKMNP-TV-Z]*'),
    name           TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 60),
    seats          INTEGER CHECK (seats BETWEEN 1 AND 99),
    notes          TEXT NOT NULL,
    made_at_utc    TEXT NOT NULL CHECK (made_at_utc LIKE '____-__-__T__:__:__.___Z'),
    retired_at_utc TEXT CHECK (retired_at_utc LIKE '____-__-__T__:__:__.___Z'),
    is_undone      INTEGER NOT NULL DEFAULT 0 CHECK (is_undone IN (0, 1))
) STRICT;

CREATE TABLE client (                    -- somebody who is taken out; who that is: client_person
    rid              INTEGER PRIMARY KEY,
    id               TEXT NOT NULL UNIQUE
                     CHECK (length(id) = 26 AND id NOT GLOB '*[^0-9A-HJKMNP-TV-Z]*'),
    code             TEXT NOT NULL CHECK (length(code) BETWEEN 1 AND 40),
    made_at_utc      TEXT NOT NULL CHECK (made_at_utc LIKE '____-__-__T__:__:__.___Z'),
    told_at_utc      TEXT CHECK (told_at_utc LIKE '____-__-__T__:__:__.___Z'),
    forgotten_at_utc TEXT CHECK (forgotten_at_utc LIKE '____-__-__T__:__:__.___Z'),
    is_undone        INTEGER NOT NULL DEFAULT 0 CHECK (is_undone IN (0, 1))
) STRICT;

CREATE TABLE client_person (             -- personal data: no history, no seal, erased on request
    client    INTEGER PRIMARY KEY REFERENCES client (rid),
    name      TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 200),
    line_size INTEGER CHECK (line_size BETWEEN 1 AND 15),
    hand      TEXT NOT NULL CHECK (hand IN ('', 'left', 'right')),
    notes     TEXT NOT NULL
) STRICT;

CREATE TABLE outing (                    -- a client, or the guide alone, in a boat for a day
    rid              INTEGER PRIMARY KEY,
    id               TEXT NOT NULL UNIQUE
                     CHECK (length(id) = 26 AND id NOT GLOB '*[^0-9A-HJKMNP-TV-Z]*'),
    day              TEXT NOT NULL CHECK (day LIKE '____-__-__'),  -- as the calendar at home has it
    boat             INTEGER NOT NULL REFERENCES boat (rid),
    client           INTEGER REFERENCES client (rid),
    cancelled_at_utc TEXT CHECK (cancelled_at_utc LIKE '____-__-__T__:__:__.___Z'),
    is_undone        INTEGER NOT NULL DEFAULT 0 CHECK (is_undone IN (0, 1))
) STRICT;
CREATE INDEX outing_by_day ON outing (day);

CREATE TABLE promise (                   -- what an outing is to carry: a thing, or so many of a class
    rid              INTEGER PRIMARY KEY,
    id               TEXT NOT NULL UNIQUE
                     CHECK (length(id) = 26 AND id NOT GLOB '*[^0-9A-HJKMNP-TV-Z]*'),
    outing           INTEGER NOT NULL REFERENCES outing (rid),
    rig              INTEGER REFERENCES rig (rid),
    coil             INTEGER REFERENCES coil (rid),
    class            TEXT CHECK (class <> ''),     -- a name: the library may change
    count            INTEGER NOT NULL DEFAULT 1 CHECK (count BETWEEN 1 AND 999),
    withdrawn_at_utc TEXT CHECK (withdrawn_at_utc LIKE '____-__-__T__:__:__.___Z'),
    is_undone        INTEGER NOT NULL DEFAULT 0 CHECK (is_undone IN (0, 1)),
    CHECK ((rig IS NOT NULL) + (coil IS NOT NULL) + (class IS NOT NULL) = 1),
    CHECK (class IS NOT NULL OR count = 1)
) STRICT;
CREATE INDEX promise_by_outing ON promise (outing);

CREATE TABLE handover (                  -- from then on this thing is there
    rid       INTEGER PRIMARY KEY,
    id        TEXT NOT NULL UNIQUE
              CHECK (length(id) = 26 AND id NOT GLOB '*[^0-9A-HJKMNP-TV-Z]*'),
    coil      INTEGER REFERENCES coil (rid),
    rig       INTEGER REFERENCES rig (rid),
    place     TEXT NOT NULL CHECK (place IN ('bin', 'boat', 'rig', 'lent', 'lost', 'damaged',
                                             'retired')),
    boat      INTEGER REFERENCES boat (rid),  -- which one, or from which it was lost or damaged
    in_rig    INTEGER REFERENCES rig (rid),
    role      TEXT CHECK (role IN ('head', 'tip', 'leader', 'wallet')),
    client    INTEGER REFERENCES client (rid),  -- to whom it was lent, if to a client
    at_utc    TEXT NOT NULL CHECK (at_utc LIKE '____-__-__T__:__:__.___Z'),
    by_whom   TEXT NOT NULL,
    note      TEXT NOT NULL,
    turn      INTEGER NOT NULL CHECK (turn >= 0),
    is_undone INTEGER NOT NULL DEFAULT 0 CHECK (is_undone IN (0, 1)),
    CHECK ((coil IS NOT NULL) + (rig IS NOT NULL) = 1),
    CHECK ((place = 'rig') = (in_rig IS NOT NULL)),
    CHECK ((in_rig IS NOT NULL) = (role IS NOT NULL)),
    CHECK (in_rig IS NULL OR coil IS NOT NULL),           -- no rig in a rig
    CHECK (place <> 'boat' OR boat IS NOT NULL),
    CHECK (place NOT IN ('bin', 'rig', 'lent') OR boat IS NULL),
    CHECK (client IS NULL OR place = 'lent')
) STRICT;
CREATE INDEX handover_by_coil ON handover (coil) WHERE coil IS NOT NULL;
CREATE INDEX handover_by_rig ON handover (rig) WHERE rig IS NOT NULL;

CREATE VIEW current_handover AS          -- the last one of each thing: where it is
    SELECT * FROM handover AS h
    WHERE h.is_undone = 0
      AND h.rid = CASE WHEN h.coil IS NOT NULL
          THEN (SELECT max(l.rid) FROM handover AS l WHERE l.coil = h.coil AND l.is_undone = 0)
          ELSE (SELECT max(l.rid) FROM handover AS l WHERE l.rig = h.rig AND l.is_undone = 0) END;

-- What is written into the history, and what never changes ---------------------------------------

CREATE TRIGGER rig_made AFTER INSERT ON rig BEGIN
    INSERT INTO change (act, thing_table, thing, field, became)
    SELECT (SELECT act FROM open_act), 'rig', new.id, field, became
    FROM (SELECT 'id' AS field, new.id AS became
          UNION ALL SELECT 'code', new.code
          UNION ALL SELECT 'name', new.name
          UNION ALL SELECT 'line_size', new.line_size
          UNION ALL SELECT 'rod', new.rod
          UNION ALL SELECT 'reel', new.reel
          UNION ALL SELECT 'backing', new.backing
          UNION ALL SELECT 'running_line', new.running_line
          UNION ALL SELECT 'notes', new.notes
          UNION ALL SELECT 'made_at_utc', new.made_at_utc
          UNION ALL SELECT 'retired_at_utc', new.retired_at_utc)
    WHERE became IS NOT NULL;
END;
CREATE TRIGGER rig_changed AFTER UPDATE ON rig BEGIN
    INSERT INTO change (act, thing_table, thing, field, was, became)
    SELECT (SELECT act FROM open_act), 'rig', new.id, field, was, became
    FROM (SELECT 'code' AS field, old.code AS was, new.code AS became
          UNION ALL SELECT 'name', old.name, new.name
          UNION ALL SELECT 'line_size', old.line_size, new.line_size
          UNION ALL SELECT 'rod', old.rod, new.rod
          UNION ALL SELECT 'reel', old.reel, new.reel
          UNION ALL SELECT 'backing', old.backing, new.backing
          UNION ALL SELECT 'running_line', old.running_line, new.running_line
          UNION ALL SELECT 'notes', old.notes, new.notes
          UNION ALL SELECT 'made_at_utc', old.made_at_utc, new.made_at_utc
          UNION ALL SELECT 'retired_at_utc', old.retired_at_utc, new.retired_at_utc
          UNION ALL SELECT 'is_undone', old.is_undone, new.is_undone)
    WHERE was IS NOT became;
END;
CREATE TRIGGER rig_stays_1 BEFORE UPDATE OF rid, id ON rig
    BEGIN SELECT RAISE (ABORT, 'an id is never changed'); END;
CREATE TRIGGER rig_stays_2 BEFORE DELETE ON rig
    BEGIN SELECT RAISE (ABORT, 'this is never deleted'); END;

CREATE TRIGGER boat_made AFTER INSERT ON boat BEGIN
    INSERT INTO change (act, thing_table, thing, field, became)
    SELECT (SELECT act FROM open_act), 'boat', new.id, field, became
    FROM (SELECT 'id' AS field, new.id AS became
          UNION ALL SELECT 'name', new.name
          UNION ALL SELECT 'seats', new.seats
          UNION ALL SELECT 'notes', new.notes
          UNION ALL SELECT 'made_at_utc', new.made_at_utc
          UNION ALL SELECT 'retired_at_utc', new.retired_at_utc)
    WHERE became IS NOT NULL;
END;
CREATE TRIGGER boat_changed AFTER UPDATE ON boat BEGIN
    INSERT INTO change (act, thing_table, thing, field, was, became)
    SELECT (SELECT act FROM open_act), 'boat', new.id, field, was, became
    FROM (SELECT 'name' AS field, old.name AS was, new.name AS became
          UNION ALL SELECT 'seats', old.seats, new.seats
          UNION ALL SELECT 'notes', old.notes, new.notes
          UNION ALL SELECT 'made_at_utc', old.made_at_utc, new.made_at_utc
          UNION ALL SELECT 'retired_at_utc', old.retired_at_utc, new.retired_at_utc
          UNION ALL SELECT 'is_undone', old.is_undone, new.is_undone)
    WHERE was IS NOT became;
END;
CREATE TRIGGER boat_stays_1 BEFORE UPDATE OF rid, id ON boat
    BEGIN SELECT RAISE (ABORT, 'an id is never changed'); END;
CREATE TRIGGER boat_stays_2 BEFORE DELETE ON boat
    BEGIN SELECT RAISE (ABORT, 'this is never deleted'); END;

CREATE TRIGGER client_made AFTER INSERT ON client BEGIN
    INSERT INTO change (act, thing_table, thing, field, became)
    SELECT (SELECT act FROM open_act), 'client', new.id, field, became
    FROM (SELECT 'id' AS field, new.id AS became
          UNION ALL SELECT 'code', new.code
          UNION ALL SELECT 'made_at_utc', new.made_at_utc
          UNION ALL SELECT 'told_at_utc', new.told_at_utc
          UNION ALL SELECT 'forgotten_at_utc', new.forgotten_at_utc)
    WHERE became IS NOT NULL;
END;
CREATE TRIGGER client_changed AFTER UPDATE ON client BEGIN
    INSERT INTO change (act, thing_table, thing, field, was, became)
    SELECT (SELECT act FROM open_act), 'client', new.id, field, was, became
    FROM (SELECT 'code' AS field, old.code AS was, new.code AS became
          UNION ALL SELECT 'made_at_utc', old.made_at_utc, new.made_at_utc
          UNION ALL SELECT 'told_at_utc', old.told_at_utc, new.told_at_utc
          UNION ALL SELECT 'forgotten_at_utc', old.forgotten_at_utc, new.forgotten_at_utc
          UNION ALL SELECT 'is_undone', old.is_undone, new.is_undone)
    WHERE was IS NOT became;
END;
CREATE TRIGGER client_stays_1 BEFORE UPDATE OF rid, id ON client
    BEGIN SELECT RAISE (ABORT, 'an id is never changed'); END;
CREATE TRIGGER client_stays_2 BEFORE DELETE ON client
    BEGIN SELECT RAISE (ABORT, 'this is never deleted'); END;

CREATE TRIGGER outing_made AFTER INSERT ON outing BEGIN
    INSERT INTO change (act, thing_table, thing, field, became)
    VALUES ((SELECT act FROM open_act), 'outing', new.id, 'id', new.id);
END;
CREATE TRIGGER outing_changed AFTER UPDATE ON outing BEGIN
    INSERT INTO change (act, thing_table, thing, field, was, became)
    SELECT (SELECT act FROM open_act), 'outing', new.id, field, was, became
    FROM (SELECT 'cancelled_at_utc' AS field, old.cancelled_at_utc AS was,
                 new.cancelled_at_utc AS became
          UNION ALL SELECT 'is_undone', old.is_undone, new.is_undone)
    WHERE was IS NOT became;
END;
CREATE TRIGGER outing_stays_1 BEFORE UPDATE OF rid, id, day, boat, client ON outing
    BEGIN SELECT RAISE (ABORT, 'what this outing says is never changed'); END;
CREATE TRIGGER outing_stays_2 BEFORE DELETE ON outing
    BEGIN SELECT RAISE (ABORT, 'this is never deleted'); END;

CREATE TRIGGER promise_made AFTER INSERT ON promise BEGIN
    INSERT INTO change (act, thing_table, thing, field, became)
    VALUES ((SELECT act FROM open_act), 'promise', new.id, 'id', new.id);
END;
CREATE TRIGGER promise_changed AFTER UPDATE ON promise BEGIN
    INSERT INTO change (act, thing_table, thing, field, was, became)
    SELECT (SELECT act FROM open_act), 'promise', new.id, field, was, became
    FROM (SELECT 'withdrawn_at_utc' AS field, old.withdrawn_at_utc AS was,
                 new.withdrawn_at_utc AS became
          UNION ALL SELECT 'is_undone', old.is_undone, new.is_undone)
    WHERE was IS NOT became;
END;
CREATE TRIGGER promise_stays_1 BEFORE UPDATE OF rid, id, outing, rig, coil, class, count ON promise
    BEGIN SELECT RAISE (ABORT, 'what this promise says is never changed'); END;
CREATE TRIGGER promise_stays_2 BEFORE DELETE ON promise
    BEGIN SELECT RAISE (ABORT, 'this is never deleted'); END;

CREATE TRIGGER handover_made AFTER INSERT ON handover BEGIN
    INSERT INTO change (act, thing_table, thing, field, became)
    VALUES ((SELECT act FROM open_act), 'handover', new.id, 'id', new.id);
END;
CREATE TRIGGER handover_changed AFTER UPDATE ON handover BEGIN
    INSERT INTO change (act, thing_table, thing, field, was, became)
    SELECT (SELECT act FROM open_act), 'handover', new.id, field, was, became
    FROM (SELECT 'is_undone' AS field, old.is_undone AS was, new.is_undone AS became)
    WHERE was IS NOT became;
END;
CREATE TRIGGER handover_stays_1 BEFORE UPDATE OF
    rid, id, coil, rig, place, boat, in_rig, role, client, at_utc, by_whom, note, turn
    ON handover
    BEGIN SELECT RAISE (ABORT, 'a handover is never changed: a later one counts instead'); END;
CREATE TRIGGER handover_stays_2 BEFORE DELETE ON handover
    BEGIN SELECT RAISE (ABORT, 'this is never deleted'); END;

-- Personal data goes when the client is forgotten, wherever that became known, and stays gone.
CREATE TRIGGER client_forgotten AFTER UPDATE OF forgotten_at_utc ON client
    WHEN new.forgotten_at_utc IS NOT NULL BEGIN
    DELETE FROM client_person WHERE client = new.rid;
END;
CREATE TRIGGER client_stays_forgotten BEFORE INSERT ON client_person
    WHEN (SELECT forgotten_at_utc FROM client WHERE rid = new.client) IS NOT NULL
    BEGIN SELECT RAISE (ABORT, 'a client who was forgotten stays forgotten'); END;
